"""Clocks and holds of an owner's month, out of the file."""

from __future__ import annotations

import sqlite3
from bisect import bisect_right
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import cast

from store.edges.instants import from_text, to_text
from store.sums.clock_labour import counts_to, labour_spans
from store.sums.month.hours import ClockIn, HoldIn, Part, clipped, span_h
from store.sums.month.span import MonthSpan
from store.sums.working_time import Calendar

CLOCKS = (
    "select clock.seq, badge, person.name, clock.job, clock.phase, phase.name as phase_name, "
    "reason, part, since, until, breaks_worked from clock join person using (person) "
    "left join phase on phase.job = clock.job and phase.phase = clock.phase "
    "where since < ? and {} order by since, clock.seq"
)
STOPS = (
    "select clock.seq, person.badge, clock.job, clock.phase, reason, since, until, "
    "begun.recorded_at as begun, stop.recorded_at as stopped, stop.kind from clock "
    "join person using (person) join ledger as begun on begun.seq = clock.seq "
    "left join ledger as stop on stop.seq = stopped_seq "
    "where since >= ? and since < ? order by since, clock.seq"
)
HOLDS = (
    "select seq, job, phase, reason, since, until, text from hold "
    "where since < ? and coalesce(until, '9') > ? order by since, seq"
)
GONE = (
    "select job, happened_at, seq from job join ledger on seq = gone_seq "
    "where state in ('declined', 'turned-away')"
)


def clocks_in(
    db: sqlite3.Connection, calendar: Calendar, span: MonthSpan, now: datetime
) -> list[ClockIn]:
    """Return the clocks with labour in a month, as they began.

    Args:
        now: to which running clocks count, or to their shift's end.
    """
    rows = db.execute(
        CLOCKS.format("coalesce(until, '9') > ?"), [to_text(span.until), to_text(span.since)]
    )
    found = (_clock(row, calendar, span.since, span.until, now) for row in rows)
    return [one for one in found if one.spans]


def clocks_of(
    db: sqlite3.Connection, calendar: Calendar, jobs: Iterable[str], until: datetime, now: datetime
) -> list[ClockIn]:
    """Return all that was clocked on some jobs up to an instant, as it began."""
    names = list(jobs)
    where = f"clock.job in ({', '.join('?' * len(names))})"
    rows = db.execute(CLOCKS.format(where), [to_text(until), *names])
    return [_clock(row, calendar, None, until, now) for row in rows]


def _clock(
    row: sqlite3.Row, calendar: Calendar, since: datetime | None, until: datetime, now: datetime
) -> ClockIn:
    begun = from_text(row["since"])
    ended = from_text(row["until"]) if row["until"] else counts_to(calendar, begun, now)[0]
    spans = labour_spans(calendar, begun, ended, bool(row["breaks_worked"]))
    return ClockIn(
        row["seq"], row["badge"], row["name"], row["job"], row["phase"], row["phase_name"],
        row["reason"], cast("Part", row["part"]), begun, calendar.day_of(begun), span_h(spans),
        clipped(spans, since, until),
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class RanOn:
    """A clock that ran past the end of its shift until somebody noticed.

    Attributes:
        until: what it says now; None while it runs.
        noticed: when it was stopped.
    """

    seq: int
    badge: str
    job: str | None
    phase: str | None
    reason: str | None
    since: datetime
    until: datetime | None
    noticed: datetime | None


def left_running(
    db: sqlite3.Connection, calendar: Calendar, span: MonthSpan, now: datetime
) -> Iterator[RanOn]:
    """Yield the clocks of a month that were left running.

    Those that run on now, and those stopped on a later day than their shift's end or, after it, by
    putting them right. Whoever works longer and clocks off the same evening forgot nothing.
    """
    for row in db.execute(STOPS, [to_text(span.since), to_text(span.until)]):
        since = from_text(row["since"])
        noticed = from_text(row["stopped"]) if row["stopped"] and row["until"] else None
        limit, ran_on = counts_to(calendar, since, noticed or now)
        if not ran_on or from_text(row["begun"]) > limit:
            continue
        if noticed is not None and row["kind"] != "clock-corrected":
            ran_on = calendar.day_of(noticed) > calendar.day_of(limit)
        if ran_on:
            yield RanOn(
                row["seq"], row["badge"], row["job"], row["phase"], row["reason"], since,
                from_text(row["until"]) if row["until"] else None, noticed,
            )  # fmt: skip


def holds_in(
    db: sqlite3.Connection, span: MonthSpan, gone: Mapping[str, tuple[datetime, int]]
) -> list[HoldIn]:
    """Return the holds with some time in a month, whole; those that go on end with it.

    Args:
        gone: when jobs were declined: whatever held them holds them no longer.
    """
    rows = db.execute(HOLDS, [to_text(span.until), to_text(span.since)])
    found = (
        HoldIn(
            row["seq"], row["job"], row["phase"], row["reason"], from_text(row["since"]),
            min(
                from_text(row["until"]) if row["until"] else span.until,
                gone[row["job"]][0] if row["job"] in gone else span.until,
            ),
            row["text"],
        )
        for row in rows
    )  # fmt: skip
    return [one for one in found if one.until > max(one.since, span.since)]


def gone_at(db: sqlite3.Connection) -> dict[str, tuple[datetime, int]]:
    """Return when jobs were declined or turned away, and the entry that says so."""
    return {row[0]: (from_text(row[1]), row[2]) for row in db.execute(GONE)}


class Rates:
    """The price of an hour by local day, read once."""

    def __init__(self, db: sqlite3.Connection) -> None:
        """Read them."""
        rows = db.execute("select from_day, per_hour from rate order by from_day").fetchall()
        self._days = [date.fromisoformat(row[0]) for row in rows]
        self._rates = [float(row[1]) for row in rows]

    def on(self, day: date) -> float | None:
        """The price of a day's hour; None where none was set yet."""
        at = bisect_right(self._days, day)
        return self._rates[at - 1] if at else None

    def of(self, clock: ClockIn, hours: float | None = None) -> float | None:
        """What a clock's labour comes to, at the rate of the day on which it began."""
        rate = self.on(clock.day)
        return None if rate is None else rate * (clock.hours if hours is None else hours)
