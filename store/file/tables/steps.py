"""Names under steps and hold points."""

from __future__ import annotations

import json
import sqlite3

from store.edges.events.phases import LimitsTyped, ReadingLetStand, SignatureTakenBack, StepSigned
from store.file.ledger import Row, canonical
from store.file.tables.applying import applies
from store.file.tables.route import begin, close_conditions, empty, open_conditions


def _set(db: sqlite3.Connection, job: str, phase: str, step: str, state: str) -> None:
    db.execute(
        "update step set state = ? where job = ? and phase = ? and step = ?",
        (state, job, phase, step),
    )


@applies(StepSigned)
def signed(db: sqlite3.Connection, row: Row, event: StepSigned) -> None:
    if event.begins:
        begin(db, row, event.job, event.phase, [])
    db.execute(
        "insert into signature (seq, job, phase, step, person, at, readings, answer, in_limits, "
        "faults) values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        (row.seq, event.job, event.phase, event.step, event.person, row.happened_at,
         canonical(dict(event.readings)) if event.readings else "{}", event.answer,
         event.in_limits, json.dumps(event.faults, ensure_ascii=False) if event.faults else "[]"),
    )  # fmt: skip
    _set(db, event.job, event.phase, event.step, event.state)
    open_conditions(db, row, event.job, event.opens)
    close_conditions(db, event.job, event.closes)


@applies(ReadingLetStand)
def let_stand(db: sqlite3.Connection, row: Row, event: ReadingLetStand) -> None:
    db.execute(
        "update signature set as_is = ?, as_is_by = ?, as_is_at = ? where seq = ?",
        (event.reason, event.person, row.happened_at, event.signature),
    )
    _set(db, event.job, event.phase, event.step, event.state)
    open_conditions(db, row, event.job, event.opens)
    close_conditions(db, event.job, event.closes)


@applies(SignatureTakenBack)
def taken_back(db: sqlite3.Connection, row: Row, event: SignatureTakenBack) -> None:
    db.execute(
        "update signature set void = 1, void_at = ? where seq = ?",
        (row.happened_at, event.signature),
    )
    _set(db, event.job, event.phase, event.step, event.state)
    open_conditions(db, row, event.job, event.opens)
    close_conditions(db, event.job, event.closes)
    empty(db, event.job, event.empties)


@applies(LimitsTyped)
def limits(db: sqlite3.Connection, row: Row, event: LimitsTyped) -> None:
    db.execute(
        "insert into step_limit values (?, ?, ?, ?, ?, ?, ?) "
        "on conflict (job, phase, step, reading) do update set low = excluded.low, "
        "high = excluded.high, source = excluded.source",
        (event.job, event.phase, event.step, event.reading, event.low, event.high, event.source),
    )
