"""Entries of parts and of hired kits taken back: the lines are again as they were.

How they were is what the entries before make of them, applied to empty tables by the same
functions: no rule of its own has to agree with those.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Generator
from contextlib import AbstractContextManager, contextmanager
from typing import Any

from store.actions.acting import Acting
from store.edges.events.hires import (
    DepositReturned,
    HireArrivedBack,
    HireAsked,
    HireExtended,
    HireGiven,
    HireInvoiced,
    HireMended,
    HireReceived,
    HireSentBack,
    HireTakenBack,
    HireWas,
)
from store.edges.events.parts import PartsListed, PartsMoved, PartsTakenBack, PartWas
from store.file.layout import make_tables
from store.file.ledger import COLUMNS, Row
from store.file.tables.applying import APPLY
from store.trouble import Refused

WAS = "line, state, expected, supplier, batch, note, price, moved_at"
HIRE_WAS = ", ".join(HireWas.model_fields)
PART_KINDS = ("parts-listed", "parts-moved", "parts-taken-back")
HIRE_KINDS = (
    "hire-asked", "hire-received", "hire-mended", "hire-extended", "hire-given", "hire-sent-back",
    "hire-arrived-back", "deposit-returned", "hire-invoiced", "hire-taken-back",
)  # fmt: skip
HireEntry = (
    HireReceived | HireMended | HireExtended | HireGiven | HireSentBack | HireArrivedBack
    | DepositReturned | HireInvoiced
)  # fmt: skip


def _of_job(doing: Acting, job: str, until: int) -> AbstractContextManager[sqlite3.Connection]:
    return _replayed(doing, "entry.job is ?", job, PART_KINDS, until)


def _of_hire(doing: Acting, hire: str, until: int) -> AbstractContextManager[sqlite3.Connection]:
    """A hire may have been given to another job since."""
    return _replayed(doing, "payload ->> 'hire' = ?", hire, HIRE_KINDS, until)


@contextmanager
def _replayed(
    doing: Acting, which: str, whose: str, kinds: tuple[str, ...], until: int
) -> Generator[sqlite3.Connection]:
    """Empty tables after the entries of these kinds, up to and including one."""
    columns = ", ".join(f"ledger.{one}" for one in COLUMNS.split(", "))
    marks = ", ".join("?" * len(kinds))
    found = doing.db.execute(
        f"select {columns} from entry join ledger on ledger.seq between entry.seq and entry.last "
        f"where {which} and kind in ({marks}) and ledger.seq <= ? order by ledger.seq",
        [whose, *kinds, until],
    ).fetchall()
    scratch = sqlite3.connect(":memory:")
    scratch.row_factory = sqlite3.Row
    try:
        make_tables(scratch)
        for row in (Row(*one) for one in found):
            APPLY[row.kind](scratch, row, row.event())
        yield scratch
    finally:
        scratch.close()


def _lines(db: sqlite3.Connection, job: str) -> dict[int, tuple[object, ...]]:
    rows = db.execute(f"select {WAS} from part where job = ?", [job])
    return {row["line"]: tuple(row) for row in rows}


def listed_back(doing: Acting, row: Row, event: PartsListed) -> None:
    """Take lines out that were listed by mistake.

    Raises:
        Refused: something became of one of them since.
    """
    _refuse_moved(doing, row, event.job, [one.line for one in event.lines])
    doing.record(PartsTakenBack(job=event.job, gone=[one.line for one in event.lines]))


def moved_back(doing: Acting, row: Row, event: PartsMoved) -> None:
    """Put part lines back to what they were.

    Raises:
        Refused: something else became of one of them since.
    """
    _refuse_moved(doing, row, event.job, event.lines)
    with _of_job(doing, event.job, row.seq - 1) as then:
        before = then.execute(f"select {WAS} from part where job = ?", [event.job]).fetchall()
    back = [PartWas(**dict(one)) for one in before if one["line"] in event.lines]
    doing.record(PartsTakenBack(job=event.job, back=back))


def _refuse_moved(doing: Acting, row: Row, job: str, lines: list[int]) -> None:
    now = _lines(doing.db, job)
    with _of_job(doing, job, row.seq) as then:
        after = _lines(then, job)
    for line in lines:
        if now.get(line) != after.get(line):
            raise Refused(f"{job}: part line {line} was moved on since: that stays.")


def asked_back(doing: Acting, row: Row, event: HireAsked) -> None:
    """A kit that was never asked for.

    Raises:
        Refused: it is here since, or goes back another day.
    """
    _refuse_hire_moved(doing, row, event.hire)
    doing.record(HireTakenBack(hire=event.hire, kit=event.kit))


def hire_back(doing: Acting, row: Row, event: HireEntry) -> None:
    """Put a hire back to what it was.

    Raises:
        Refused: something else became of it since.
    """
    found = doing.db.execute("select kit from hire where hire = ?", [event.hire]).fetchone()
    if found is None:
        raise Refused("That kit is not hired any more: it stays so.")
    _refuse_hire_moved(doing, row, event.hire)
    with _of_hire(doing, event.hire, row.seq - 1) as then:
        before = _hire(then, event.hire)
    assert before is not None
    doing.record(HireTakenBack(hire=event.hire, kit=found["kit"], was=_was(before)))


def hire_before(doing: Acting, row: Row, hire: str) -> dict[str, Any] | None:
    """Return a hire's row as it stood before an entry; None where it was not hired then."""
    with _of_hire(doing, hire, row.seq - 1) as then:
        found = then.execute("select * from hire where hire = ?", [hire]).fetchone()
    return None if found is None else dict(found)


def _was(row: sqlite3.Row) -> HireWas:
    fields = dict(row)
    for name in ("complete", "came_complete", "sent_complete", "clean", "wrong"):
        fields[name] = None if fields[name] is None else bool(fields[name])
    fields["missing"] = json.loads(fields["missing"])
    return HireWas(**fields)


def _hire(db: sqlite3.Connection, hire: str) -> sqlite3.Row | None:
    row: sqlite3.Row | None = db.execute(
        f"select {HIRE_WAS} from hire where hire = ?", [hire]
    ).fetchone()
    return row


def _refuse_hire_moved(doing: Acting, row: Row, hire: str) -> None:
    now = _hire(doing.db, hire)
    with _of_hire(doing, hire, row.seq) as then:
        after = _hire(then, hire)
    if now is None or after is None or tuple(now) != tuple(after):
        raise Refused("Something else became of that kit since: it stays.")
