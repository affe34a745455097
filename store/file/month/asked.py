"""What customers were asked in an owner's month: quotes, extra work; and work booked ahead."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby
from typing import Literal

from store.edges.instants import from_text, to_text
from store.sums.month.span import MonthSpan

Outcome = Literal["agreed", "declined", "open"]

QUOTES = (
    "select job, seq, quote.at, quote.state, agreed_seq, job.state as now, work from quote "
    "join job using (job) where job in (select job from quote where at >= ? and at < ?) "
    "order by number, quote"
)
EXTRA = (
    "select job, line, text, hours, money, state, asked_at, answered_at, finding from supplement "
    "where state != 'withdrawn' and ((asked_at >= ?1 and asked_at < ?2) "
    "or (answered_at >= ?1 and answered_at < ?2)) order by asked_at, job, line"
)
ANSWERS = (
    "select payload ->> '$.job', line.value, max(seq) from ledger, "
    "json_each(payload, '$.lines') as line where kind = 'supplement-answered' group by 1, 2"
)
AHEAD = (
    "select job, work, agreed_seq, (select middle_h from estimate_change where "
    "estimate_change.job = job.job and at < ?1 order by seq desc limit 1) as hours from job "
    "join estimate using (job) where estimate.seq = agreed_seq and at < ?1 "
    "and (closed_at is null or closed_at >= ?1) and not exists (select 1 from clock where "
    "clock.job = job.job and since >= estimate.at and since < ?1) order by number"
)


@dataclass(frozen=True, slots=True)
class Quoted:
    """A job that was quoted in a month, and what became of it since.

    Attributes:
        at: of the last quote given in the month.
        seqs: of the quotes given in it.
    """

    job: str
    work: str
    at: datetime
    outcome: Outcome
    seqs: tuple[int, ...]


def quoted_in(db: sqlite3.Connection, span: MonthSpan) -> Iterator[Quoted]:
    """Yield the jobs that were quoted in a month: once, however many quotes it took."""
    rows = db.execute(QUOTES, [to_text(span.since), to_text(span.until)])
    for job, each in groupby(rows, key=lambda row: row["job"]):
        quotes = list(each)
        given = [row for row in quotes if span.holds(from_text(row["at"]))]
        last = quotes[-1]
        yield Quoted(
            job, last["work"], from_text(given[-1]["at"]), _outcome(last),
            tuple(row["seq"] for row in given),
        )  # fmt: skip


def _outcome(last: sqlite3.Row) -> Outcome:
    """Of a job's last quote: a job that was agreed to without naming it was agreed to."""
    if last["state"] == "agreed" or (last["agreed_seq"] or 0) > last["seq"]:
        return "agreed"
    if last["state"] in ("declined", "withdrawn") or last["now"] in ("declined", "turned-away"):
        return "declined"
    return "open"


@dataclass(frozen=True, slots=True)
class Extra:
    """Extra work that was asked or answered in a month.

    Attributes:
        state: asked, approved or refused, by now.
        events: that found it, and that answered.
    """

    job: str
    text: str
    hours: float
    money: float | None
    state: str
    asked_at: datetime
    answered_at: datetime | None
    events: tuple[int, ...]


def extra_in(db: sqlite3.Connection, span: MonthSpan) -> list[Extra]:
    """Return the extra work that was asked or answered in a month."""
    answers = {(row[0], row[1]): row[2] for row in db.execute(ANSWERS)}
    return [
        Extra(
            row["job"], row["text"], row["hours"], row["money"], row["state"],
            from_text(row["asked_at"]),
            from_text(row["answered_at"]) if row["answered_at"] else None,
            tuple(_known(row["finding"], answers.get((row["job"], row["line"])))),
        )
        for row in db.execute(EXTRA, [to_text(span.since), to_text(span.until)])
    ]  # fmt: skip


def _known(*seqs: int | None) -> Iterable[int]:
    return (one for one in seqs if one is not None)


@dataclass(frozen=True, slots=True)
class Ahead:
    """A job that was agreed and not begun. `seq`: of the agreement."""

    job: str
    work: str
    hours: float
    seq: int


def booked_ahead(
    db: sqlite3.Connection, gone: Mapping[str, tuple[datetime, int]], until: datetime
) -> list[Ahead]:
    """Return what was agreed and not begun at an instant, with its hours as agreed by then."""
    return [
        Ahead(row["job"], row["work"], row["hours"] or 0.0, row["agreed_seq"])
        for row in db.execute(AHEAD, [to_text(until)])
        if row["job"] not in gone or gone[row["job"]][0] >= until
    ]
