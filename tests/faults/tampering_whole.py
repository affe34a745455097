"""Ledgers written anew as a whole: they agree with themselves, not with what was noted."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from store.file.ledger import Row
from store.file.noted import SHOWN
from store.file.verify import verify
from tests.faults.row import Outcome, Tries
from tests.faults.tampering_tries import Count, prey
from tests.store.file.edits import cut_off, ledger, tampering, write_anew


def rows_of(path: Path) -> list[Row]:
    """The ledger."""
    with tampering(path) as db:
        return ledger(db)


def written_anew_tries(tries: Tries) -> Outcome:
    """Change an entry and write every hash from there on."""

    def edit(path: Path, rows: list[Row]) -> int:
        row = tries.dice.choice(rows)
        write_anew(path, row.seq, terminal=f"{row.terminal} 2")
        return row.seq

    return _tries(edit, tries)


def cut_off_tries(tries: Tries) -> Outcome:
    """Take entries from the end; never so many that a PIN has no entry."""

    def edit(path: Path, rows: list[Row]) -> int:
        begins = [row.seq for row in rows[-40:] if "." not in row.key]
        seq = tries.dice.choice(begins)
        cut_off(path, seq - 1)
        return seq

    return _tries(edit, tries)


def _tries(edit: Callable[[Path, list[Row]], int], tries: Tries) -> Outcome:
    at, count = prey(tries.folder), Count()
    rows = rows_of(at.whole)
    noted = verify(at.whole).last[:SHOWN]
    while count.tried < tries.times:
        path = at.fresh()
        seq = edit(path, rows)
        if not verify(path).ok or rows_of(path) == rows:
            count.beside += 1
            continue
        if not tries.protected:
            count.found(well=False, again=False, note=f"entry {seq}: {verify(path).says}")
            continue
        by_note, by_backup = verify(path, noted=[noted]), verify(path, against=at.saved)
        well = not by_note.ok and not by_backup.ok and by_backup.seq == seq
        count.found(well=well, again=well and at.restored(),
                    note=f"entry {seq}: {by_note.says} {by_backup.says}")  # fmt: skip
    return count.outcome()
