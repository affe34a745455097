"""Single edits of the ledger, made at random."""

from __future__ import annotations

from pathlib import Path
from random import Random

from store.file.ledger import COLUMNS
from tests.faults.tampering_loose import Edit, Edited, untyped
from tests.faults.tampering_values import another
from tests.store.file.edits import ledger, signed, tampering, write

LEDGER = COLUMNS.split(", ")


def a_value(path: Path, dice: Random) -> Edited:
    """Another value in a column."""
    with tampering(path) as db:
        row = dice.choice(ledger(db))
        column = dice.choice(LEDGER)
        new = another(dice, getattr(row, column))
        db.execute(f"update ledger set {column} = ? where seq = ?", [new, row.seq])
    number = new if column == "seq" and isinstance(new, int) else row.seq
    return Edited("ledger", f"{row.seq}.{column} = {new!r}", (row.seq, row.seq + 1, number))


def a_value_of_another_type(path: Path, dice: Random) -> Edited:
    """A value of a type that the table does not take."""
    with tampering(path) as db:
        row = dice.choice(ledger(db))
        column = dice.choice(LEDGER[1:])
    with untyped(path, "ledger") as db:
        new = dice.choice((None, b"5", b"\xff", 1.5))
        db.execute(f"update ledger set {column} = ? where seq = ?", [new, row.seq])
    return Edited("ledger", f"{row.seq}.{column} = {new!r}", (row.seq, row.seq + 1))


def a_value_signed_anew(path: Path, dice: Random) -> Edited:
    """Another value, and the hash that fits it; not in the last entry, to which nobody chained."""
    with tampering(path) as db:
        row = dice.choice(ledger(db)[:-1])
        column = dice.choice(("badge", "terminal", "payload", "kind", "key", "happened_at"))
        new = another(dice, getattr(row, column))
        assert isinstance(new, str | int)
        write(db, signed(row, **{column: new}))
    return Edited("ledger", f"{row.seq}.{column} = {new!r}, signed", (row.seq, row.seq + 1))


def a_row_gone(path: Path, dice: Random) -> Edited:
    """An entry taken out."""
    with tampering(path) as db:
        row = dice.choice(ledger(db)[:-1])
        db.execute("delete from ledger where seq = ?", [row.seq])
    return Edited("ledger", f"{row.seq} gone", (row.seq, row.seq + 1))


def a_row_twice(path: Path, dice: Random) -> Edited:
    """An entry once more, at the end, before the first or far off; its key must be another."""
    with tampering(path) as db:
        rows = ledger(db)
        row = dice.choice(rows)
        seq = dice.choice((rows[-1].seq + 1, rows[-1].seq + 7, 0, -row.seq))
        write(db, row._replace(seq=seq, key=f"{row.key}x"))
    return Edited("ledger", f"{row.seq} again as {seq}", (seq, 1))


def two_rows_swapped(path: Path, dice: Random) -> Edited:
    """Two entries in each other's place."""
    with tampering(path) as db:
        one, other = sorted(dice.sample(ledger(db), 2))
        db.execute("delete from ledger where seq in (?, ?)", [one.seq, other.seq])
        write(db, one._replace(seq=other.seq))
        write(db, other._replace(seq=one.seq))
    return Edited("ledger", f"{one.seq} and {other.seq} swapped", (one.seq,))


def all_renumbered(path: Path, dice: Random) -> Edited:
    """From an entry on all numbers are one higher."""
    with tampering(path) as db:
        row = dice.choice(ledger(db))
        db.execute("update ledger set seq = -seq - 1 where seq >= ?", [row.seq])
        db.execute("update ledger set seq = -seq where seq < 0")
    return Edited("ledger", f"one more from {row.seq} on", (row.seq, row.seq + 1))


LEDGER_EDITS: tuple[Edit, ...] = (
    a_value, a_value, a_value, a_value, a_value_of_another_type, a_value_signed_anew,
    a_value_signed_anew, a_row_gone, a_row_twice, two_rows_swapped, all_renumbered,
)  # fmt: skip
