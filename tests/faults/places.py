"""Rows: the shop file copied over, moved, deleted, cut off or locked under a running terminal."""

from __future__ import annotations

import os
import shutil
from collections.abc import Generator
from contextlib import contextmanager
from pathlib import Path
from unittest.mock import patch

from store.file.backup import backup
from store.file.place import look_at_place
from store.file.standing import Standing
from tests.faults.before import SMALL, Before, Scene, command, run
from tests.faults.row import Outcome, Row, Tries


@contextmanager
def unseen() -> Generator[None]:
    """Taken out: the look at what stands at the path before each use."""
    with patch.object(Standing, "check", return_value=None):
        yield


async def filled(here: Before) -> Path:
    """Acknowledge some, copy the file as a backup tool does, and acknowledge some more: what is
    copied lacks them, whether they are in the file by now or in its log still."""
    await here.take("job-0")
    saved, by_hand = here.path.with_name("saved.shop"), here.dice.random() < 0.5
    if by_hand:
        here.shop.settle()
        shutil.copyfile(here.path, saved)
    else:
        backup(here.shop, saved)
    for n in range(1, 1 + here.dice.choice((1, 4, 12))):
        await here.take(f"job-{n}")
    if by_hand or here.dice.random() < 0.5:
        here.shop.settle()
        if here.dice.random() < 0.5:
            await here.take("job-z")
    return saved


async def copied_over(here: Before) -> bool:
    saved, all_of_it = await filled(here), here.path.with_name("newest.shop")
    backup(here.shop, all_of_it)
    number = look_at_place(here.path)
    with here.path.open("r+b") as file:  # as cp does it: the same file, its content another
        file.truncate(0)
        file.write(saved.read_bytes())
    now = look_at_place(here.path)
    happened = now.file == number.file and now.changed_ns != number.changed_ns
    await here.at.look_again()
    here.judge(here.at.said[2:], "written over", "restore FILE --replace")
    await here.refused("job-a", "Nothing more is written")
    found = command(here.path, "restore", str(all_of_it), "--replace")
    if not found.startswith("0 "):
        here.wrong.append(f"restore: {found}")
    await here.at.look_again()
    await here.again("job-a")
    return happened


async def moved_over(here: Before) -> bool:
    saved = await filled(here)
    number = look_at_place(here.path).file
    saved.replace(here.path)
    happened = look_at_place(here.path).file != number
    await here.at.look_again()
    await here.at.look_again()
    here.judge(here.at.said[2:], "Another file was put", "takes it back")
    kept = next(iter(here.path.parent.glob("made.shop.before-*")), None)
    if kept is not None:
        found = command(here.path, "restore", str(kept), "--replace")
        if not found.startswith("0 "):
            here.wrong.append(f"restore: {found}")
    await here.at.look_again()
    if not await here.take("job-b"):
        here.wrong.append(f"the terminal did not go on: {here.at.said}")
    return happened


async def deleted(here: Before) -> bool:
    await filled(here)
    here.path.unlink()
    happened = not here.path.exists()
    await here.refused("job-c", "is gone", "is saved", "goes on by itself")
    here.commanded("no shop file")
    for kept in here.path.parent.glob("made.shop.before-*"):
        command(here.path, "restore", str(kept))
    await here.again("job-c")
    return happened


async def folder_renamed(here: Before) -> bool:
    await filled(here)
    folder, away = here.path.parent, here.path.parent.with_name("away")
    folder.rename(away)
    happened = not here.path.exists()
    await here.refused("job-d", "is gone", "put it and its folder back")
    here.commanded("no shop file")
    away.rename(folder)
    await here.again("job-d")
    return happened


async def log_deleted(here: Before) -> bool:
    await filled(here)
    endings = here.dice.choice((("-wal",), ("-shm",), ("-wal", "-shm")))
    there = [Path(f"{here.path}{ending}") for ending in endings]
    happened = all(one.exists() for one in there)
    for one in there:
        one.unlink()
    if not await here.take("job-e"):
        here.wrong.append(f"the terminal did not go on: {here.at.said}")
    crash = here.path.with_name("crash.shop")
    for ending in ("", "-wal"):  # what a power cut would leave now: files by their names
        if (left := Path(f"{here.path}{ending}")).exists():
            shutil.copyfile(left, f"{crash}{ending}")
    here.whole(crash)
    if not command(here.path, *SMALL).startswith("0 "):
        here.wrong.append("a command did not go on")
    return happened


async def cut_off(here: Before) -> bool:
    await filled(here)
    newest = here.path.with_name("newest.shop")
    backup(here.shop, newest)
    left = here.dice.choice((0, here.path.stat().st_size // 2 // 4096 * 4096))
    os.truncate(here.path, left)
    happened = here.path.stat().st_size == left
    await here.at.look_again()
    await here.refused("job-f", "written over", "restore FILE --replace")
    command(here.path, "restore", str(newest), "--replace")
    if not left:  # what is empty is taken for no shop file: the name is free by hand only
        here.path.unlink(missing_ok=True)
        command(here.path, "restore", str(newest))
    await here.again("job-f")
    return happened


def row(kind: str, scene: Scene, made: str, known: str, without: str, bare: int = 0) -> Row:
    """A row whose protection is the look at the path."""

    def tried(tries: Tries) -> Outcome:
        if tries.protected:
            return run(tries, scene)
        with unseen():
            return run(tries, scene)

    return Row(kind, made, known, without, tried, 1, 50, bare)


ROWS: tuple[Row, ...] = (
    row(
        "file copied over", copied_over,
        "an older copy (of the file, or a backup) is written over the open file, as `cp` does",
        "the same file by device and number, changed since, and entries confirmed after the copy",
        "the look at the path before each use: pages of both files are mixed and written on", 1,
    ),
    row(
        "file moved over", moved_over,
        "an older copy is renamed over the open file, as `mv` and `rsync` do",
        "another file by device and number, which lacks entries that were confirmed",
        "the same look: the log of the file before is read into the new one; both are damaged",
    ),
    row(
        "file deleted", deleted,
        "the shop file is deleted under a running terminal",
        "nothing stands at its path, entries were confirmed before",
        "the same look: nobody saves what is still open, and it goes with the last terminal",
    ),
    row(
        "folder renamed", folder_renamed,
        "the folder of the shop file is renamed under a running terminal, and named back",
        "nothing stands at the path, entries were confirmed before",
        "the same look: the terminal says that a new shop is to be made",
    ),
    row(
        "log or index deleted", log_deleted,
        "-wal, -shm or both are deleted under a running terminal that goes on writing",
        "they were there; a copy by names, as a power cut leaves it, is then checked",
        "the same look: what is confirmed then lies in a log that no name leads to", bare=2,
    ),
    row(
        "file cut off", cut_off,
        "the open file is cut to nothing or to half",
        "its size is that, and entries were confirmed before",
        "the same look: the terminal goes on from what it remembers, or breaks off",
    ),
)  # fmt: skip
