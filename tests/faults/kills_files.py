"""Processes killed while they make a file: backup, restore, upgrade, a new shop, tables."""

from __future__ import annotations

import shutil
import sqlite3
import tempfile
from contextlib import closing
from functools import cache, partial
from pathlib import Path

from store.actions import settings
from store.file.backup import backup, restore
from store.file.shop import By, Shop
from store.file.whole import half_made
from tests.faults.acts import PIN, START
from tests.faults.dying_works import BACKUP, NEW, SHOP
from tests.faults.kills import KNOWN_STAGE, MADE
from tests.faults.kills_left import entries, halves, prefix_of, ready, unsound
from tests.faults.kills_run import Killed, Kind, killed
from tests.faults.row import Row
from tests.faults.traced import lacks_tracing
from tests.store.file.test_layout import age, dump

NO_HALF = "the file made beside it under another name; "

# -- backup


def backup_left(one: Killed) -> list[str]:
    """The copy is whole or not there; those who act meanwhile feel nothing of it."""
    source, target = one.folder / SHOP, one.folder / BACKUP
    wrong = unsound(source)
    keys = [key for key, _ in entries(source)]
    told = [key for key, count in one.died.beside if int(count)]
    wrong += [f"the act {key} of another terminal is gone" for key in told if key not in keys]
    if target.exists():
        wrong += unsound(target) or prefix_of(target, source)
    return wrong


def backup_again(one: Killed) -> list[str]:
    target = one.folder / BACKUP
    with closing(Shop(one.folder / SHOP)) as shop:
        if not target.exists():
            backup(shop, target)
        backup(shop, one.folder / "another.shop")
    return unsound(target) + unsound(one.folder / "another.shop") + halves(one.folder)


# -- restore


def to_restore(folder: Path) -> None:
    """A shop, and a backup from before its last act."""
    ready(folder)
    shutil.copy(folder / SHOP, folder / BACKUP)
    with closing(Shop(folder / SHOP)) as shop:
        settings.set_rate(shop, By("OWN", "t1", START, pin=PIN, key="a" * 24), per_hour=91)


def _shops(folder: Path) -> list[Path]:
    """The shop file, and what was moved aside."""
    return [one for one in folder.glob(f"{SHOP}*") if one.name[-4:] not in ("-wal", "-shm")]


def restore_left(one: Killed) -> list[str]:
    """The old shop is whole, at its place or kept beside; at its place are old, new or nothing."""
    target, source = one.folder / SHOP, one.folder / BACKUP
    wrong = [said for each in _shops(one.folder) for said in unsound(each)] + _old_lost(one)
    new = entries(source)
    if target.exists() and entries(target)[: len(new)] != new:
        wrong.append("at its place is neither the old shop nor the new one")
    return wrong


def _old_lost(one: Killed) -> list[str]:
    long = len(entries(one.folder / BACKUP)) + 1
    olds = [each for each in _shops(one.folder) if len(entries(each)) == long]
    return [] if olds else ["the shop of before is nowhere"]


def restore_again(one: Killed) -> list[str]:
    """The same command once more; the backup is there, the old shop kept."""
    target, source = one.folder / SHOP, one.folder / BACKUP
    restore(source, target, replace=True)
    same = entries(target) == entries(source)
    wrong = [] if same else ["it was not restored"]
    return wrong + _old_lost(one) + halves(one.folder)


# -- upgrade


@cache
def aged() -> tuple[Path, list[str], list[str]]:
    """A file of an older layout, what is in it, and what is to be in it."""
    folder = Path(tempfile.mkdtemp(prefix="hoistbook-test-"))
    ready(folder)
    new, path = dump(folder / SHOP), folder / SHOP
    age(path)
    with closing(sqlite3.connect(path)) as db:  # as one that has not had the later scripts
        for table in ("learned_help", "learned_need"):
            db.execute(f"drop table {table}")
        db.execute("delete from _sqlite_migrations where name in ('0004_help', '0005_need')")
        db.commit()
    return path, dump(path), new


def older(folder: Path) -> None:
    shutil.copy(aged()[0], folder / SHOP)


def upgrade_left(one: Killed) -> list[str]:
    """It is as it was, or as it is to be."""
    _, old, new = aged()
    return (
        [] if dump(one.folder / SHOP) in (old, new) else ["it is neither the old file nor the new"]
    )


def upgrade_again(one: Killed) -> list[str]:
    Shop(one.folder / SHOP).close()
    done = dump(one.folder / SHOP) == aged()[2]
    return unsound(one.folder / SHOP) + ([] if done else ["it was not brought up to date"])


# -- a new shop


def nothing(folder: Path) -> None:
    pass


def new_left(one: Killed) -> list[str]:
    """Nothing is there, or a whole shop: as it is where nobody is killed."""
    path = one.folder / NEW
    if not path.exists():
        return []
    other, _ = one.undisturbed(always_the_same=True)
    same = [key for key, _ in entries(path)] == [key for key, _ in entries(other / NEW)]
    return unsound(path) + ([] if same else ["it is not all that it begins with"])


def new_again(one: Killed) -> list[str]:
    """Where nothing is it can be made; where something is it can be worked with."""
    if not (one.folder / NEW).exists() and one.once_more().fell:
        return ["it cannot be made again"]
    with half_made(one.folder / "whatever is made next"):
        pass
    return new_left(one) + halves(one.folder)


# -- tables


def tables(folder: Path) -> None:
    ready(folder)
    for name in ("one.csv", "two.csv"):
        (folder / name).write_text("the tables of before\n" * 500)


def tables_left(one: Killed) -> list[str]:
    """Each table is the one of before or the new one, whole."""
    other, _ = one.undisturbed(always_the_same=True)
    return unsound(one.folder / SHOP) + [
        f"{name} is torn"
        for name in ("one.csv", "two.csv")
        if (one.folder / name).read_bytes()
        not in (b"the tables of before\n" * 500, (other / name).read_bytes())
    ]


def tables_again(one: Killed) -> list[str]:
    one.once_more()
    return tables_left(one) + halves(one.folder)


def _row(kind: str, without: str, what: Kind, quick: int, long: int, bare: int) -> Row:
    return Row(f"killed while {kind}", MADE, KNOWN_STAGE, without, partial(killed, what),
               quick, long, bare, lacks_tracing)  # fmt: skip


ROWS: tuple[Row, ...] = (
    _row("backing up, another terminal acting", NO_HALF + "half a copy has the backup's name",
         Kind("backing up", "half", ready, backup_left, backup_again, beside="others",
              aim="before pwrite64"), 2, 60, 6),
    _row("restoring over a shop", "moving the old file aside: the backup is copied over it; both "
         "old and new are torn",
         Kind("restoring", "swap", to_restore, restore_left, restore_again, aim="before write"),
         2, 60, 6),
    _row("bringing an older file up to date", "the transaction: neither the old tables nor the new",
         Kind("upgrading", "transaction", older, upgrade_left, upgrade_again), 2, 50, 6),
    _row("founding a shop", NO_HALF + "an empty shop blocks the next try",
         Kind("founding", "half", nothing, new_left, new_again), 2, 40, 6),
    _row("exporting tables", NO_HALF + "the table of before is gone, the new one torn",
         Kind("exporting", "half", tables, tables_left, tables_again), 2, 20, 3),
)  # fmt: skip
