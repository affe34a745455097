"""What happens to a job before it goes on a lift."""

from __future__ import annotations

import json
import sqlite3

from store.edges.events.desk import (
    ArrivalBooked,
    Arrived,
    CallTried,
    CeilingSet,
    CheckJudged,
    ComebackLinked,
    CustomerOfJob,
    DeskTakenBack,
    QuoteAnswered,
    QuoteGiven,
    WorkChosen,
)
from store.file.ledger import Row, canonical
from store.file.tables.applying import applies

BY = "(select person from person where badge = ?)"


@applies(CustomerOfJob)
def customer_of_job(db: sqlite3.Connection, row: Row, event: CustomerOfJob) -> None:
    db.execute("update job set customer = ? where job = ?", (event.customer, event.job))


@applies(WorkChosen)
def work_chosen(db: sqlite3.Connection, row: Row, event: WorkChosen) -> None:
    """What a check came to was said of the work that was chosen then, and of less."""
    before = db.execute("select operations from job where job = ?", [event.job]).fetchone()[0]
    if not set(event.operations) <= set(json.loads(before)):
        db.execute(
            "update job set check_result = null, check_text = null, checked_at = null "
            "where job = ?",
            (event.job,),
        )
    db.execute(
        "update job set vehicle = ?, work = ?, operations = ?, family = ?, options = ?, "
        "version = ?, complaint = ? where job = ?",
        (event.vehicle, event.work, json.dumps(event.operations), event.family,
         canonical(dict(event.options)), event.version, event.complaint, event.job),
    )  # fmt: skip


@applies(ArrivalBooked)
def booked(db: sqlite3.Connection, row: Row, event: ArrivalBooked) -> None:
    db.execute(
        "insert into booking values (?, ?, ?, ?, ?, ?)",
        (row.seq, event.job, row.happened_at, event.day, event.note, event.deposit),
    )
    db.execute("update job set arrives = ? where job = ?", (event.day, event.job))


@applies(Arrived)
def arrived(db: sqlite3.Connection, row: Row, event: Arrived) -> None:
    db.execute(
        "insert into arrival values (?, ?, ?, ?, ?)",
        (row.seq, event.job, row.happened_at, event.lamps, event.photographs),
    )
    db.execute("update job set arrived_at = ? where job = ?", (row.happened_at, event.job))


@applies(CheckJudged)
def judged(db: sqlite3.Connection, row: Row, event: CheckJudged) -> None:
    db.execute(
        "update job set check_result = ?, check_text = ?, checked_at = ? where job = ?",
        (event.result, event.text, row.happened_at if event.result else None, event.job),
    )


@applies(QuoteGiven)
def quoted(db: sqlite3.Connection, row: Row, event: QuoteGiven) -> None:
    db.execute(
        "update quote set state = 'followed' where job = ? and state in ('open', 'thinking')",
        (event.job,),
    )
    ways = canonical(event.model_dump(include={"ways"}))
    db.execute(
        "insert into quote (job, quote, seq, at, by, rough, ways, extras, basis, ceiling, promise, "
        f"means, until, state) values (?, ?, ?, ?, {BY}, ?, ?, ?, ?, ?, ?, ?, ?, 'open')",
        (event.job, event.quote, row.seq, row.happened_at, row.badge, event.rough, ways,
         json.dumps(event.extras, ensure_ascii=False), event.basis, event.ceiling, event.promise,
         event.means, event.until),
    )  # fmt: skip


@applies(QuoteAnswered)
def quote_answered(db: sqlite3.Connection, row: Row, event: QuoteAnswered) -> None:
    db.execute(
        "update quote set state = ?, answered_at = ?, why = ?, answered_by = ?, answer_means = ? "
        "where job = ? and quote = ?",
        (event.answer, None if event.answer == "open" else row.happened_at, event.why, event.by,
         event.means, event.job, event.quote),
    )  # fmt: skip


def quote_agreed(
    db: sqlite3.Connection, row: Row, job: str, quote: int, by: str | None, means: str | None
) -> None:
    """A quote became what was agreed."""
    db.execute(
        "update quote set state = 'agreed', answered_at = ?, answered_by = ?, answer_means = ? "
        "where job = ? and quote = ?",
        (row.happened_at, by, means, job, quote),
    )


@applies(CallTried)
def called(db: sqlite3.Connection, row: Row, event: CallTried) -> None:
    db.execute(
        "insert into call (seq, job, at, by, means, reached, text, again) values "
        f"(?, ?, ?, {BY}, ?, ?, ?, ?)",
        (row.seq, event.job, row.happened_at, row.badge, event.means, event.reached, event.text,
         event.again),
    )  # fmt: skip


@applies(CeilingSet)
def ceiling(db: sqlite3.Connection, row: Row, event: CeilingSet) -> None:
    db.execute(
        "insert into ceiling_set (seq, job, at, ceiling, by, means, before) select ?, job, ?, ?, "
        "?, ?, ceiling from job where job = ?",
        (row.seq, row.happened_at, event.ceiling, event.by, event.means, event.job),
    )
    db.execute("update job set ceiling = ? where job = ?", (event.ceiling, event.job))


@applies(ComebackLinked)
def comeback(db: sqlite3.Connection, row: Row, event: ComebackLinked) -> None:
    db.execute(
        "insert into comeback values (?, ?, ?, ?, ?, ?, ?) on conflict (job) do update set "
        "of = excluded.of, phase = excluded.phase, cause = excluded.cause, "
        "fault = excluded.fault, pays = excluded.pays, at = excluded.at",
        (event.job, event.of, event.phase, event.cause, event.fault, event.pays, row.happened_at),
    )


@applies(DeskTakenBack)
def taken_back(db: sqlite3.Connection, row: Row, event: DeskTakenBack) -> None:
    """Of the tables that such an entry is in, one has a row of it."""
    entry = (event.entry,)
    db.execute("delete from quote where seq = ?", entry)
    if db.execute("delete from booking where seq = ?", entry).rowcount:
        db.execute(
            "update job set arrives = (select day from booking where booking.job = job.job "
            "order by seq desc limit 1) where job = ?",
            (event.job,),
        )
    db.execute("update call set withdrawn = 1 where seq = ?", entry)
    db.execute(
        "update job set ceiling = (select before from ceiling_set where seq = ?1) where job = "
        "(select job from ceiling_set where seq = ?1)",
        entry,
    )
    db.execute("update ceiling_set set withdrawn = 1 where seq = ?", entry)
    db.execute("delete from outwork where seq = ?", entry)
    db.execute(
        "update outwork set back_seq = null, back_at = null, report = null, readings = '{}', "
        "charged = null where back_seq = ?",
        entry,
    )
    db.execute("delete from advice where told_seq = ?", entry)
