"""Rows: a disk that is full, dies, takes no more, or cannot be read; a file kept by another."""

from __future__ import annotations

import os
import sqlite3
import subprocess
import sys
from collections.abc import Generator
from contextlib import AbstractContextManager, ExitStack, contextmanager, nullcontext, suppress
from functools import partial
from pathlib import Path
from unittest.mock import patch

from store.file import opening
from store.file import shop as shop_module
from store.file.opening import code_of
from store.file.shop import Shop
from store.trouble import Trouble
from tests.faults.before import Before, Place, Scene, run
from tests.faults.disk_mounts import LACKS_DISK, LACKS_MOUNT, dead, ext4, replug, tmpfs
from tests.faults.row import Outcome, Row, Tries

SAID: list[str] = []
"""Codes in which SQLite spoke of what went wrong."""


@contextmanager
def seen() -> Generator[list[str]]:
    """Collect the codes in which SQLite speaks of what goes wrong."""
    SAID.clear()
    put = shop_module.as_trouble

    def noted(error: sqlite3.Error, path: Path) -> Trouble:
        SAID.append(code_of(error))
        return put(error, path)

    with patch.object(shop_module, "as_trouble", noted):
        yield SAID


def swallowed(self: Shop, db: sqlite3.Connection, key: object) -> None:
    """A commit of which nobody asks whether it went through."""
    try:
        db.execute("commit")
    except sqlite3.Error as error:
        SAID.append(code_of(error))


async def full(here: Before) -> bool:
    await here.take("job-0")
    filler = here.path.with_name("filler")
    with seen() as codes, filler.open("wb", buffering=0) as file:
        with suppress(OSError):
            while file.write(b"\0" * 4096):
                pass
        room = os.statvfs(here.path).f_bavail
        n = 1  # the log may have room left from before
        while await here.take(f"job-{n}") and not codes:
            n += 1
        here.judge(here.at.said[2:], "the disk is full", "nothing was lost")
        here.commanded("the disk is full")
    filler.unlink()
    await here.again(f"job-{n}")
    return room == 0 and any(code.startswith("SQLITE_FULL") for code in codes)


async def dies(here: Before) -> bool:
    subprocess.run(["sync", "-f", str(here.path.parent)], check=True)  # what is copied for a test
    await here.take("job-0")
    with seen() as codes:
        died = dead(here.path.parent)
        await here.refused("job-h", "disk")
        here.commanded("disk")
    replug(here.path.parent)
    await here.at.look_again()
    await here.again("job-h")
    return died and any(code.startswith("SQLITE_IOERR") for code in codes)


def numbers_of(path: Path, *endings: str) -> list[int]:
    """Descriptors of this process for a shop file."""
    wanted = {os.path.realpath(f"{path}{ending}") for ending in endings}
    found: list[int] = []
    for one in Path("/proc/self/fd").iterdir():
        with suppress(OSError):
            if str(one.readlink()) in wanted:
                found.append(int(one.name))
    return found


async def unreadable(here: Before) -> bool:
    """Descriptors are replaced by ones that cannot be read, and put back."""
    await here.take("job-0")
    here.shop.settle()
    write_only = os.open(here.path.with_name("other"), os.O_WRONLY | os.O_CREAT)
    kept = {number: os.dup(number) for number in numbers_of(here.path, "", "-wal")}
    with seen() as codes:
        for number in kept:
            os.dup2(write_only, number)
        os.close(write_only)
        await here.refused("job-i", "could not be read", "Do it again")
        for number, good in kept.items():
            os.dup2(good, number)
            os.close(good)
    await here.again("job-i")
    return bool(kept) and any(code.startswith("SQLITE_IOERR") for code in codes)


async def unwritable(here: Before) -> bool:
    """The log is replaced by a descriptor that takes nothing."""
    await here.take("job-0")
    read_only = os.open(f"{here.path}-wal", os.O_RDONLY)
    numbers = numbers_of(here.path, "-wal")
    with seen() as codes:
        for number in numbers:
            if number != read_only:
                os.dup2(read_only, number)
        os.close(read_only)
        await here.refused("job-k", "Not written", "Do it again")
    await here.again("job-k")
    return bool(numbers) and any(code.startswith("SQLITE_IOERR") for code in codes)


HOLD = """
import sqlite3, sys
db = sqlite3.connect(sys.argv[1], isolation_level=None)
db.execute("begin immediate")
print("held", flush=True)
sys.stdin.readline()
"""


async def locked(here: Before) -> bool:
    await here.take("job-0")
    with ExitStack() as stack:
        holder = stack.enter_context(subprocess.Popen(
            [sys.executable, "-c", HOLD, str(here.path)], stdin=subprocess.PIPE,
            stdout=subprocess.PIPE, text=True,
        ))  # fmt: skip
        assert holder.stdout is not None
        happened = holder.stdout.readline() == "held\n"
        stack.enter_context(patch.object(opening, "BUSY_S", 0.05))
        here.shop.close()  # how long it waits is a connection's own
        await here.refused("job-g", "Another terminal is writing", "nothing was written")
        here.commanded("Another terminal is writing", "leave the other terminals")
        happened &= holder.poll() is None
        holder.kill()
    await here.again("job-g")
    return happened


def raw(error: sqlite3.Error, path: Path) -> Trouble:
    """SQLite's own error, without words."""
    raise error


Taken = AbstractContextManager[object]


def row(
    kind: str, scene: Scene, out: partial[Taken], made: str, known: str, without: str,
    place: Place = nullcontext, lacks: str = "", bare: int = 0,
) -> Row:  # fmt: skip
    """A row and what is taken out of the product to see it fail."""

    def tried(tries: Tries) -> Outcome:
        with nullcontext() if tries.protected else out():
            return run(tries, scene, place)

    return Row(kind, made, known, without, tried, 1, 50, bare, lambda: lacks)


ROWS: tuple[Row, ...] = (
    row(
        "disk full", full, partial(patch.object, Shop, "_commit", swallowed),
        "a disk in memory is filled to the last byte while somebody works on it",
        "no block is free, and SQLite answered SQLITE_FULL to an act",
        "the answer to a commit: what was not written is said to be done", tmpfs, LACKS_MOUNT, 1,
    ),
    row(
        "disk dies", dies, partial(patch.object, Shop, "_commit", swallowed),
        "the kernel shuts an ext4 disk off without a last sync; then it is plugged in again",
        "the disk refuses to write, and SQLite answered SQLITE_IOERR to an act",
        "the answer to a commit: what was not written is said to be done", ext4, LACKS_DISK,
    ),
    row(
        "error while reading", unreadable,
        partial(patch.object, shop_module, "as_trouble", raw),
        "every descriptor of file and log is replaced by one that cannot be read",
        "SQLite answered SQLITE_IOERR to a look",
        "the words for what SQLite says: the terminal breaks off with a traceback",
    ),
    row(
        "error while writing", unwritable, partial(patch.object, Shop, "_commit", swallowed),
        "the descriptor of the log is replaced by one that takes nothing",
        "SQLite answered SQLITE_IOERR to a commit",
        "the answer to a commit: what was not written is said to be done",
    ),
    row(
        "file locked by another", locked, partial(patch.object, shop_module, "as_trouble", raw),
        "another process holds the write lock for longer than anybody waits",
        "it said that it has the lock, and has it still after the act was refused",
        "the words for what SQLite says: the terminal breaks off with a traceback", bare=1,
    ),
)  # fmt: skip
