"""What is taken out of the product in a process that is killed, to see what it is for."""

from __future__ import annotations

import os
import shutil
import sqlite3
from collections.abc import Callable, Generator
from contextlib import contextmanager
from pathlib import Path

from store.file import backup, csv_out, making, opening, shop, whole
from store.file.learned import alone
from store.file.memory import Connection

TOGETHER = ("begin immediate", "savepoint", "release", "rollback to")


class Apart(Connection):
    """Each statement is written by itself."""

    def execute(self, sql: str, /, *more: object) -> sqlite3.Cursor:
        ends = sql in ("commit", "rollback") and not self.in_transaction  # a look stays one look
        if ends or sql.startswith(TOGETHER):
            sql, more = "select 1", ()
        return super().execute(sql, *more)  # type: ignore[arg-type]  # passed through


def put(module: object, name: str, value: object) -> None:
    """Put something in place of what a module has under that name."""
    assert hasattr(module, name), name
    setattr(module, name, value)


def no_transaction() -> None:
    """All entries and rows of an act, an upgrade, a founding are written one by one."""

    def connect(path: Path, mode: str = "rw") -> sqlite3.Connection:
        put(opening, "Connection", Apart)
        try:
            return opening.connect(path, mode)
        finally:
            put(opening, "Connection", Connection)

    put(shop, "connect", connect)


def no_half() -> None:
    """A new file is written under the name that it is to have in the end."""

    @contextmanager
    def half_made(path: Path) -> Generator[Path]:
        yield path

    def stays(half: Path, path: Path) -> None:
        pass

    for one in (making, backup, csv_out):
        put(one, "half_made", half_made)
    put(making, "put_in_place", stays)
    put(backup, "put_in_place", stays)
    put(csv_out, "put_over", stays)


def over_the_old_one() -> None:
    """A backup is copied over the shop file that it replaces."""

    def swap(half: Path, target: Path) -> Path:
        kept = target.with_name(f"{target.name}.replaced-1")
        shutil.copyfile(target, kept)
        with half.open("rb") as source, target.open("r+b", buffering=0) as file:
            while piece := source.read(4096):
                file.write(piece)
        return kept

    put(backup, "_swap", swap)


def no_settling() -> None:
    """What was deleted stays in the side file until others write over it."""

    def settle(shop: object) -> bool:
        return True

    put(shop.Shop, "settle", settle)


def a_mark_for_a_lock() -> None:
    """The learner's side file says that somebody is there; nobody takes it away for the dead."""

    def take(path: Path) -> int | None:
        try:
            return os.open(alone.side_file(path), os.O_CREAT | os.O_EXCL)
        except FileExistsError:
            return None

    put(alone, "_take", take)


def synchronous(how: str) -> Callable[[], None]:
    """The disk is not asked to keep what was acknowledged."""

    def connect(path: Path, mode: str = "rw") -> sqlite3.Connection:
        db = opening.connect(path, mode)
        db.execute(f"pragma synchronous = {how}")
        return db

    def patch() -> None:
        put(shop, "connect", connect)

    return patch


def no_fsync() -> None:
    """Neither a new file nor its folder's list of names is asked to be kept."""

    def onto_disk(path: Path) -> None:
        pass

    put(whole, "_onto_disk", onto_disk)


WITHOUT: dict[str, Callable[[], None]] = {
    "": lambda: None,
    "transaction": no_transaction,
    "half": no_half,
    "swap": over_the_old_one,
    "settling": no_settling,
    "lock": a_mark_for_a_lock,
    "full": synchronous("normal"),
    "any": synchronous("off"),
    "fsync": no_fsync,
}


def take_out(what: str) -> None:
    """Take something out of this process; empty: nothing."""
    WITHOUT[what]()
