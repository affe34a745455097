"""A ledger that was written anew as a whole agrees with itself; a note or a backup tells."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from store.file.backup import backup
from store.file.ledger import Row
from store.file.noted import SHOWN
from store.file.shop import Shop
from store.file.trouble import NoBackup
from store.file.verify import verify
from store.trouble import Refused
from tests.store.actions.made import World
from tests.store.file.acts import one_line, set_rate
from tests.store.file.edits import cut_off, ledger, tampering, write_anew


def rows_of(path: Path) -> list[Row]:
    with tampering(path) as db:
        return ledger(db)


@pytest.fixture
def saved(path: Path, tmp_path: Path) -> Path:
    """A backup of the shop file."""
    shop, target = Shop(path), tmp_path / "saved.shop"
    backup(shop, target)
    shop.close()
    return target


def a_rate(rows: list[Row]) -> Row:
    return next(row for row in rows if row.kind == "rate-set")


def other_terminal(path: Path) -> int:
    """Write the ledger anew from an entry on: another terminal's name."""
    at = a_rate(rows_of(path)).seq
    write_anew(path, at, terminal="elsewhere")
    return at


def no_end(path: Path) -> int:
    """Take the last two entries away."""
    end = rows_of(path)[-1].seq
    cut_off(path, end - 2)
    return end - 1


@pytest.mark.parametrize("edit", [other_terminal, no_end])
def test_what_agrees_with_itself_is_found_against_a_note_or_a_backup(
    path: Path, saved: Path, edit: Callable[[Path], int]
) -> None:
    noted = verify(path).last[:SHOWN]
    at = edit(path)
    assert verify(path).ok
    by_note = verify(path, noted=[noted])
    assert (by_note.ok, by_note.table) == (False, "ledger")
    assert noted in by_note.says
    by_backup = verify(path, against=saved)
    assert (by_backup.ok, by_backup.seq, by_backup.table) == (False, at, "ledger")
    assert f"{at:,}" in by_backup.says
    assert str(saved) in by_backup.says


def test_a_shop_that_went_on_has_all_that_was_noted(path: Path, saved: Path) -> None:
    before = verify(path)
    world = World(Shop(path), World.now.replace(year=2027))
    set_rate(world)
    world.shop.close()
    after = verify(path, noted=[before.last, before.last[:SHOWN].upper()], against=saved)
    assert after.ok, after
    assert f"All {before.events:,} entries of {saved} are in it" in after.says
    assert f"is that of entry {before.events:,} of " in after.says
    assert after.last != before.last


def test_a_backup_is_older_than_the_shop_it_is_compared_with(path: Path, saved: Path) -> None:
    world = World(Shop(path), World.now.replace(year=2027))
    set_rate(world)
    world.shop.close()
    verdict = verify(saved, against=path)
    assert not verdict.ok
    assert "older copy" in verdict.says


@pytest.mark.parametrize("noted", ["", "8270e69a05fb489", "x" * 16, "0" * 65, "8270e69a05fb48\n"])
def test_what_is_no_noted_hash_is_refused(path: Path, noted: str) -> None:
    with pytest.raises(Refused) as caught:
        verify(path, noted=[noted])
    assert "16 digits" in one_line(caught.value)


def test_what_is_no_backup_is_refused(path: Path, tmp_path: Path) -> None:
    (tmp_path / "text").write_text("badge;name\n" * 1000)
    for one in ("text", "nothing"):
        with pytest.raises(NoBackup):
            verify(path, against=tmp_path / one)


def test_what_is_wrong_within_the_file_is_said_first(path: Path, saved: Path) -> None:
    with tampering(path) as db:
        db.execute("update rate set per_hour = 1")
    assert verify(path, noted=["0" * 64], against=saved).table == "rate"
