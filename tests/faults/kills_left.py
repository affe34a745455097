"""What must hold of a shop file and its folder after somebody was killed."""

from __future__ import annotations

import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

from store.actions import settings
from store.file.shop import By, Shop
from store.file.verify import verify
from tests.faults.acts import PIN, small_shop
from tests.faults.dying_works import BACKUP, NEW, NOW, SHOP
from tests.faults.kills_run import Killed

Entries = list[tuple[str, str]]
"""Key and hash of each entry of a ledger, in order."""


def ready(folder: Path) -> None:
    """A small shop, of which nobody has anything open."""
    small_shop(folder, SHOP).close()


def entries(path: Path) -> Entries:
    """Read a ledger, as it is, with whatever lies beside it."""
    with closing(sqlite3.connect(f"{path.as_uri()}?mode=rw", uri=True)) as db:
        return db.execute("select key, hash from ledger order by seq").fetchall()


def unsound(path: Path) -> list[str]:
    """What verifying says is wrong with a file."""
    verdict = verify(path)
    return [] if verdict.ok else [verdict.says]


def acts_left(one: Killed) -> list[str]:
    """The ledger holds what was acknowledged, and the one act under way whole or not at all."""
    wrong = unsound(one.folder / SHOP)
    base = one.folder.with_name("base")
    if not base.exists():
        base.mkdir()
        one.ready(base)
    found = [key for key, _ in entries(one.folder / SHOP)][len(entries(base / SHOP)) :]
    wanted = [
        key if n == 0 else f"{key}.{n}"
        for key, count in one.died.acknowledged
        for n in range(int(count))
    ]
    rest = found[len(wanted) :]
    if found[: len(wanted)] != wanted:
        wrong.append(f"of {len(wanted)} acknowledged entries not all are there")
    elif rest:
        wrong += _not_whole(one, rest)
    return wrong


def _not_whole(one: Killed, rest: list[str]) -> list[str]:
    """What is left of the act under way must be the act as it is when nobody is killed."""
    key = one.died.under_way or ""
    _, done = one.undisturbed()
    acted = () if done is None else done.acknowledged
    count = next((int(n) for name, n in acted if name == key), 0)
    wanted = [key if n == 0 else f"{key}.{n}" for n in range(count)]
    return [] if rest == wanted else [f"{len(rest)} entries of {count} of the act under way"]


def goes_on(one: Killed) -> list[str]:
    """Somebody acts, and the file verifies still."""
    path = one.folder / SHOP
    with closing(Shop(path)) as shop:
        settings.set_rate(shop, By("OWN", "t9", NOW, pin=PIN), per_hour=91)
    return unsound(path)


def halves(folder: Path) -> list[str]:
    """What was left half made, and is still there once the same was done again."""
    return [f"{one.name} stays behind" for one in folder.iterdir() if ".half" in one.name]


def prefix_of(path: Path, source: Path) -> list[str]:
    """A copy must be the source as it was at one moment."""
    copied = entries(path)
    return [] if copied == entries(source)[: len(copied)] else [f"{path.name} is no such copy"]


def copied_before(folder: Path, name: str) -> Path:
    """A copy of a shop as it is now, under another name."""
    shutil.copy(folder / SHOP, folder / name)
    return folder / name


__all__ = ["BACKUP", "NEW", "SHOP", "acts_left", "copied_before", "entries", "goes_on", "halves",
           "prefix_of", "ready", "unsound"]  # fmt: skip
