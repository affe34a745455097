"""Labour: one clock a person, put right by later events."""

from __future__ import annotations

import sqlite3

from store.edges.events.labour import (
    ClockCorrected,
    ClockedIndirect,
    ClockedOff,
    ClockedOn,
    ClockEntered,
    ClockRemoved,
)
from store.file.ledger import Row
from store.file.tables.applying import applies
from store.file.tables.route import begin, empty, open_conditions


@applies(ClockedOn)
def on(db: sqlite3.Connection, row: Row, event: ClockedOn) -> None:
    db.execute(
        "insert into clock (seq, person, job, phase, part, since) values (?, ?, ?, ?, ?, ?)",
        (row.seq, event.person, event.job, event.phase, event.part, row.happened_at),
    )
    _begin(db, row, event.job, event.phase, event.begins, event.opens)


def _begin(
    db: sqlite3.Connection,
    row: Row,
    job: str | None,
    phase: str | None,
    begins: bool,
    opens: list[str],
) -> None:
    if job is None or phase is None:
        return
    if begins:
        begin(db, row, job, phase, opens)
    else:
        open_conditions(db, row, job, opens)


@applies(ClockedIndirect)
def indirect(db: sqlite3.Connection, row: Row, event: ClockedIndirect) -> None:
    db.execute(
        "insert into clock (seq, person, reason, part, since, away_from) "
        "values (?, ?, ?, 'lead', ?, ?)",
        (row.seq, event.person, event.reason, row.happened_at, event.away_from),
    )


@applies(ClockedOff)
def off(db: sqlite3.Connection, row: Row, event: ClockedOff) -> None:
    db.execute(
        "update clock set until = ?, stopped_seq = ? where seq = ?",
        (row.happened_at, row.seq, event.clock),
    )


@applies(ClockEntered)
def entered(db: sqlite3.Connection, row: Row, event: ClockEntered) -> None:
    db.execute(
        "insert into clock (seq, person, job, phase, reason, part, since, until, breaks_worked, "
        "stopped_seq) values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        (row.seq, event.person, event.job, event.phase, event.reason, event.part, event.since,
         event.until, event.breaks_worked, row.seq),
    )  # fmt: skip
    _begin(db, row, event.job, event.phase, event.begins, event.opens)


@applies(ClockCorrected)
def corrected(db: sqlite3.Connection, row: Row, event: ClockCorrected) -> None:
    before = db.execute("select job from clock where seq = ?", (event.clock,)).fetchone()
    db.execute(
        "update clock set job = ?, phase = ?, reason = ?, part = ?, since = ?, until = ?, "
        "breaks_worked = ?, stopped_seq = case when ? is null then null "
        "else coalesce(stopped_seq, ?) end where seq = ?",
        (event.job, event.phase, event.reason, event.part, event.since, event.until,
         event.breaks_worked, event.until, row.seq, event.clock),
    )  # fmt: skip
    _begin(db, row, event.job, event.phase, event.begins, event.opens)
    if event.empties:
        empty(db, before["job"], event.empties)


@applies(ClockRemoved)
def removed(db: sqlite3.Connection, row: Row, event: ClockRemoved) -> None:
    before = db.execute("select job from clock where seq = ?", (event.clock,)).fetchone()
    db.execute("delete from clock where seq = ?", (event.clock,))
    if event.empties:
        empty(db, before["job"], event.empties)
