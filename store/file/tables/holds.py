"""What holds a job up: holds, findings, supplements; and acts taken back."""

from __future__ import annotations

import sqlite3

from store.edges.events.holds import (
    AnswerNoted,
    AnswerTakenBack,
    FindingTakenBack,
    Found,
    Held,
    HoldChanged,
    HoldTakenBack,
    Raised,
    Released,
    ReleaseTakenBack,
    SupplementAnswered,
    Undone,
)
from store.file.ledger import Row
from store.file.tables.applying import applies


@applies(Held)
def held(db: sqlite3.Connection, row: Row, event: Held) -> None:
    db.execute(
        "insert into hold (seq, job, phase, reason, since, expected, expected_now, next_move, "
        "text) values (?, ?, ?, ?, ?, ?, ?, ?, ?)",
        (row.seq, event.job, event.phase, event.reason, row.happened_at, event.expected,
         event.expected, event.next_move, event.text),
    )  # fmt: skip


@applies(HoldChanged)
def hold_changed(db: sqlite3.Connection, row: Row, event: HoldChanged) -> None:
    db.execute(
        "update hold set expected_now = ?, next_move = ? where seq = ?",
        (event.expected, event.next_move, event.hold),
    )


@applies(Released)
def released(db: sqlite3.Connection, row: Row, event: Released) -> None:
    db.execute("update hold set until = ? where seq = ?", (row.happened_at, event.hold))


@applies(HoldTakenBack)
def hold_taken_back(db: sqlite3.Connection, row: Row, event: HoldTakenBack) -> None:
    db.execute("delete from hold where seq = ?", (event.hold,))


@applies(ReleaseTakenBack)
def release_taken_back(db: sqlite3.Connection, row: Row, event: ReleaseTakenBack) -> None:
    db.execute("update hold set until = null where seq = ?", (event.hold,))


@applies(Found)
def found(db: sqlite3.Connection, row: Row, event: Found) -> None:
    db.execute(
        "insert into finding (seq, job, phase, kind, text, hours, code, by, at) "
        "values (?, ?, ?, ?, ?, ?, ?, ?, ?)",
        (row.seq, event.job, event.phase, event.finding, event.text, event.hours, event.code,
         event.person, row.happened_at),
    )  # fmt: skip
    if event.asked:
        db.execute(
            "insert into supplement (job, line, phase, text, hours, money, state, asked_at, "
            "asked_by, finding) values (?, ?, ?, ?, ?, ?, 'asked', ?, ?, ?)",
            (event.job, event.asked.line, event.phase, event.asked.text, event.asked.hours,
             event.asked.money, row.happened_at, event.person, row.seq),
        )  # fmt: skip


@applies(FindingTakenBack)
def finding_taken_back(db: sqlite3.Connection, row: Row, event: FindingTakenBack) -> None:
    db.execute("update finding set withdrawn = 1 where seq = ?", (event.finding,))
    db.execute("update supplement set state = 'withdrawn' where finding = ?", (event.finding,))


@applies(SupplementAnswered)
def answered(db: sqlite3.Connection, row: Row, event: SupplementAnswered) -> None:
    db.executemany(
        "update supplement set state = ?, answered_at = ?, answered_by = ?, means = ? "
        "where job = ? and line = ?",
        [
            (event.answer, row.happened_at, event.by, event.means, event.job, line)
            for line in event.lines
        ],
    )
    _raise(db, event.job, event.raises)


def _raise(db: sqlite3.Connection, job: str, raises: list[Raised]) -> None:
    for raised in raises:
        figures = raised.estimate
        db.execute(
            "update phase set estimate_middle_h = ?, estimate_cautious_h = ?, "
            "estimate_mean_h = ? where job = ? and phase = ?",
            (figures.middle, figures.cautious, figures.mean, job, raised.phase),
        )


@applies(AnswerNoted)
def answer_noted(db: sqlite3.Connection, row: Row, event: AnswerNoted) -> None:
    db.executemany(
        "update supplement set answered_by = ?, means = ? where job = ? and line = ?",
        [(event.by, event.means, event.job, line) for line in event.lines],
    )


@applies(AnswerTakenBack)
def answer_taken_back(db: sqlite3.Connection, row: Row, event: AnswerTakenBack) -> None:
    db.executemany(
        "update supplement set state = 'asked', answered_at = null, answered_by = null, "
        "means = null where job = ? and line = ?",
        [(event.job, line) for line in event.lines],
    )
    _raise(db, event.job, event.raises)


@applies(Undone)
def undone(db: sqlite3.Connection, row: Row, event: Undone) -> None:
    db.execute("update entry set undone = 1 where seq = ?", (event.entry,))
