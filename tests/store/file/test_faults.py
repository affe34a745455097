"""When the disk fails: what was written is told as written, what was not as not."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from pathlib import Path
from typing import ClassVar

import pytest

from store.actions import settings
from store.file import opening
from store.file.trouble import (
    AlreadyRecorded,
    Busy,
    Damaged,
    InDoubt,
    NotAShop,
    NotWritten,
    Unreadable,
)
from store.file.verify import verify
from store.trouble import Trouble
from tests.store.actions.made import World
from tests.store.file.acts import one_line, set_rate, sqlite3_error, use


class Faulty(sqlite3.Connection):
    """A connection whose commit raises, after or before it did its work."""

    code: ClassVar[str] = ""
    kept: ClassVar[bool] = False
    blind: ClassVar[bool] = False
    """Whether what comes after it fails too."""
    fired: ClassVar[int] = 0

    def execute(self, sql: str, /, *more: object) -> sqlite3.Cursor:
        if Faulty.fired and Faulty.blind and "from ledger where key" in sql:
            raise sqlite3_error("SQLITE_IOERR_READ")
        if sql == "commit" and Faulty.code:
            Faulty.fired += 1
            super().execute("commit" if Faulty.kept else "rollback")
            raise sqlite3_error(Faulty.code)
        return super().execute(sql, *more)  # type: ignore[arg-type]  # passed through


@pytest.fixture
def faulty(world: World, monkeypatch: pytest.MonkeyPatch) -> Iterator[World]:
    """A shop whose commits can be made to fail."""
    Faulty.code, Faulty.kept, Faulty.blind, Faulty.fired = "", False, False, 0
    use(monkeypatch, Faulty)
    yield world
    Faulty.code = ""


CODES = ["SQLITE_IOERR_FSYNC", "SQLITE_IOERR_WRITE", "SQLITE_FULL"]


@pytest.mark.parametrize("code", CODES)
def test_a_commit_that_failed_is_told_and_the_next_one_works(faulty: World, code: str) -> None:
    before, Faulty.code = faulty.events(), code
    with pytest.raises(NotWritten) as caught:
        set_rate(faulty)
    one_line(caught.value)
    assert Faulty.fired == 1
    Faulty.code = ""
    assert faulty.events() == before
    set_rate(faulty)
    assert faulty.events() == before + 1


@pytest.mark.parametrize("code", CODES)
def test_a_commit_that_raised_and_was_kept_all_the_same_counts(faulty: World, code: str) -> None:
    before = faulty.events()
    Faulty.code, Faulty.kept = code, True
    by = faulty.by("OWN")
    settings.set_rate(faulty.shop, by, per_hour=70)
    assert Faulty.fired == 1
    Faulty.code = ""
    assert faulty.events() == before + 1
    with pytest.raises(AlreadyRecorded):
        settings.set_rate(faulty.shop, by, per_hour=70)
    assert verify(faulty.shop.path).ok


@pytest.mark.parametrize("kept", [True, False])
def test_a_bulk_tells_likewise(faulty: World, kept: bool) -> None:
    before = faulty.events()
    Faulty.kept = kept

    def two_acts() -> None:
        with faulty.shop.bulk():
            set_rate(faulty, 70)
            set_rate(faulty, 71)
            Faulty.code = "SQLITE_IOERR_FSYNC"

    if kept:
        two_acts()
    else:
        with pytest.raises(NotWritten):
            two_acts()
    Faulty.code = ""
    assert faulty.events() == before + (2 if kept else 0)


def test_what_nobody_can_tell_is_not_told_as_written_or_not(faulty: World) -> None:
    Faulty.code, Faulty.blind = "SQLITE_IOERR_FSYNC", True
    with pytest.raises(InDoubt) as caught:
        set_rate(faulty)
    assert "hoistbook ledger" in one_line(caught.value)


def test_a_failed_note_beside_the_ledger_is_told(faulty: World) -> None:
    Faulty.code = "SQLITE_FULL"
    with pytest.raises(NotWritten), faulty.shop.beside() as db:
        db.execute("insert into pin_tries (person, wrong, last_at) values ('p-1', 1, 'now')")
    Faulty.code = ""
    assert faulty.one("select count(*) from pin_tries") == 0


@pytest.mark.parametrize(
    "code, kind",
    [
        ("SQLITE_BUSY_SNAPSHOT", Busy), ("SQLITE_LOCKED", Busy), ("SQLITE_PROTOCOL", Busy),
        ("SQLITE_IOERR_READ", NotWritten), ("SQLITE_FULL", NotWritten),
        ("SQLITE_READONLY_DBMOVED", Unreadable), ("SQLITE_PERM", Unreadable),
        ("SQLITE_CORRUPT_INDEX", Damaged), ("SQLITE_NOTADB", NotAShop),
    ],
)  # fmt: skip
def test_each_fault_has_its_words(path: Path, code: str, kind: type[Trouble]) -> None:
    trouble = opening.as_trouble(sqlite3_error(code), path)
    assert type(trouble) is kind
    one_line(trouble)


@pytest.mark.parametrize("code", ["SQLITE_ERROR", "SQLITE_CONSTRAINT_CHECK", "SQLITE_MISUSE"])
def test_our_own_fault_stays_an_error(path: Path, code: str) -> None:
    with pytest.raises(sqlite3.OperationalError):
        opening.as_trouble(sqlite3_error(code), path)
