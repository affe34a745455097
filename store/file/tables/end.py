"""The end of a job, and the months after."""

from __future__ import annotations

import sqlite3

from store.edges.events.end import (
    AdviceAnswered,
    FollowUpDone,
    FollowUpMoved,
    FollowUpsSet,
    FollowUpTakenBack,
    HandedOver,
)
from store.file.ledger import Row, canonical
from store.file.tables.applying import applies

BY = "(select person from person where badge = ?)"


@applies(AdviceAnswered)
def advice_answered(db: sqlite3.Connection, row: Row, event: AdviceAnswered) -> None:
    db.execute(
        "insert or replace into advice values (?, ?, ?, ?, ?, ?, ?, ?)",
        (event.finding, event.job, row.happened_at, event.answer, event.risk_told, event.by,
         event.means, row.seq),
    )  # fmt: skip


@applies(HandedOver)
def handed_over(db: sqlite3.Connection, row: Row, event: HandedOver) -> None:
    content = canonical(event.model_dump(exclude={"job", "to"}, exclude_defaults=True))
    db.execute(
        f"insert into handed_over values (?, ?, {BY}, ?, ?)",
        (event.job, row.happened_at, row.badge, event.to, content),
    )


@applies(FollowUpsSet)
def follow_ups(db: sqlite3.Connection, row: Row, event: FollowUpsSet) -> None:
    db.executemany(
        "insert into follow_up (job, line, what, who, day, distance, since, counted_from, state) "
        "values (?, ?, ?, ?, ?, ?, ?, ?, 'open')",
        [
            (event.job, one.line, one.what, one.who, one.day, one.distance, one.since,
             one.counted_from)
            for one in event.lines
        ],
    )  # fmt: skip


@applies(FollowUpMoved)
def follow_up_moved(db: sqlite3.Connection, row: Row, event: FollowUpMoved) -> None:
    db.execute(
        "update follow_up set day = ?, distance = ? where job = ? and line = ?",
        (event.day, event.distance, event.job, event.line),
    )


@applies(FollowUpDone)
def follow_up_done(db: sqlite3.Connection, row: Row, event: FollowUpDone) -> None:
    db.execute(
        f"update follow_up set state = ?, outcome = ?, done_at = ?, done_by = {BY} "
        "where job = ? and line = ?",
        ("dropped" if event.dropped else "done", event.outcome, row.happened_at, row.badge,
         event.job, event.line),
    )  # fmt: skip


@applies(FollowUpTakenBack)
def follow_up_taken_back(db: sqlite3.Connection, row: Row, event: FollowUpTakenBack) -> None:
    db.execute(
        "update follow_up set state = ?, outcome = null, done_at = null, done_by = null "
        "where job = ? and line = ?",
        ("withdrawn" if event.never_set else "open", event.job, event.line),
    )
