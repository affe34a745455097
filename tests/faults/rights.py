"""Rows: a file, folder or disk that may only be read, and a file of a newer program."""

from __future__ import annotations

import os
import sqlite3
import subprocess
from collections.abc import Generator
from contextlib import AbstractContextManager, closing, contextmanager, nullcontext
from pathlib import Path
from unittest.mock import patch

from store.file import shop as shop_module
from store.file.layout import LAYOUT
from tests.faults.before import Before, Place, run
from tests.faults.disk_faults import raw
from tests.faults.disk_mounts import LACKS_DISK, LACKS_MOUNT, ext4, tmpfs
from tests.faults.row import Outcome, Row, Tries


def let_go(here: Before) -> None:
    """Let the terminal open the file anew: rights are asked for at opening only."""
    here.shop.close()
    here.at.app.on_unmount()


@contextmanager
def unwritable(path: Path, rights: int) -> Generator[None]:
    """Take the right to write a file or folder from everybody for a while.

    Whom the kernel asks for no rights meets an attribute of ext4 that takes it from them too.
    """
    root, before = os.geteuid() == 0, path.stat().st_mode & 0o777
    if root:
        subprocess.run(["chattr", "+i", str(path)], check=True)
    else:
        path.chmod(rights)
    try:
        yield
    finally:
        if root:
            subprocess.run(["chattr", "-i", str(path)], check=True)
        else:
            path.chmod(before)


@contextmanager
def read_only_disk(path: Path) -> Generator[None]:
    """Remount a disk so that nothing can be written on it, for a while."""
    subprocess.run(["mount", "-o", "remount,ro", str(path)], check=True)
    try:
        yield
    finally:
        subprocess.run(["mount", "-o", "remount,rw", str(path)], check=True)


def _takes_nothing(path: Path) -> bool:
    try:  # append makes a file where there is none, and is closed before the shop is opened
        with path.open("ab"):
            return False
    except OSError:
        return True


async def file_read_only(here: Before) -> bool:
    return await _refused(here, unwritable(here.path, 0o444), here.path)


async def folder_read_only(here: Before) -> bool:
    folder = here.path.parent
    return await _refused(here, unwritable(folder, 0o555), folder / "new")


async def disk_read_only(here: Before) -> bool:
    return await _refused(here, read_only_disk(here.path.parent), here.path)


async def _refused(here: Before, fault: AbstractContextManager[None], at: Path) -> bool:
    await here.take("job-0")
    let_go(here)
    with fault:
        happened = _takes_nothing(at)
        await here.refused("job-r", "cannot be written", "write permission")
        here.commanded("cannot be written", "write permission")
        let_go(here)
    await here.again("job-r")
    return happened


async def newer(here: Before) -> bool:
    """Another terminal was brought up to date and has changed the file's layout already."""
    await here.take("job-0")
    _set_layout(here.path, LAYOUT + 1)
    await here.refused("job-v", "newer hoistbook", "Nothing was changed", "update hoistbook")
    here.commanded("newer hoistbook", "update hoistbook")
    with closing(sqlite3.connect(here.path)) as db:
        happened = db.execute("pragma user_version").fetchone()[0] == LAYOUT + 1
    _set_layout(here.path, LAYOUT)
    await here.again("job-v")
    return bool(happened)


def _set_layout(path: Path, layout: int) -> None:
    with closing(sqlite3.connect(path)) as db:
        db.execute(f"pragma user_version = {layout}")


def of_file(tries: Tries) -> Outcome:
    with unworded(tries):
        return run(tries, file_read_only, DISK)


def of_folder(tries: Tries) -> Outcome:
    with unworded(tries):
        return run(tries, folder_read_only, DISK)


def of_disk(tries: Tries) -> Outcome:
    with unworded(tries):
        return run(tries, disk_read_only, tmpfs)


def of_version(tries: Tries) -> Outcome:
    def ours(db: sqlite3.Connection, path: Path) -> int:
        return LAYOUT

    taken = patch.object(shop_module, "refuse_foreign", ours)
    with nullcontext() if tries.protected else taken:
        return run(tries, newer)


@contextmanager
def unworded(tries: Tries) -> Generator[None]:
    """Taken out: the words for what SQLite says."""
    with nullcontext() if tries.protected else patch.object(shop_module, "as_trouble", raw):
        yield


AS_ROOT = os.geteuid() == 0
DISK: Place = ext4 if AS_ROOT else nullcontext
LACKS = LACKS_DISK if AS_ROOT else ""
WORDS = "the words for what SQLite says: the terminal breaks off with a traceback"
ROWS: tuple[Row, ...] = (
    Row("file read-only",
        "nobody has the right to write the shop file (as root: an attribute of ext4)",
        "it cannot be opened for writing, and a terminal and a command write", WORDS,
        of_file, 1, 40, 0, lambda: LACKS),
    Row("folder read-only",
        "nobody has the right to make a file in its folder (as root: an attribute of ext4)",
        "nothing can be made in it, and a terminal and a command write", WORDS,
        of_folder, 1, 40, 0, lambda: LACKS),
    Row("disk read-only", "the disk is mounted read-only while nobody has the file open",
        "the file cannot be opened for writing, and a terminal and a command write", WORDS,
        of_disk, 1, 40, 0, lambda: LACKS_MOUNT),
    Row("file of a newer program", "a newer program raises the file's layout under a terminal",
        "the file says that layout after the terminal tried to write",
        "the look at the layout: nobody is told to bring the program up to date",
        of_version, 1, 40, 1),
)  # fmt: skip
