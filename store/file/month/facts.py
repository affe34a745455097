"""What an owner's month is judged by, read once: closed jobs with what was agreed when and why, and
finished phases with their clocks, of some years up to an instant."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta
from itertools import groupby
from zoneinfo import ZoneInfo

from store.edges.instants import from_text, to_text
from store.file.facts import calendar_of, setting
from store.file.month.agreed import READY, Agreed, Told, agreed_in, moved, ranges_in, told_in
from store.file.month.phases import hours_by_badge, most, phases_between
from store.sums.month.jobs import JobJudged, PhaseJudged
from store.sums.month.span import MonthSpan
from store.sums.working_time import Calendar, at_zone

CLOSED = (
    f"select job.*, label, {READY} as ready_at from job join vehicle using (vehicle) "
    "where job.state = 'closed' and closed_at < ? and closed_at >= ? order by closed_at, number"
)
CLOSING = (
    "select payload ->> '$.job', max(seq) from ledger where kind = 'job-closed' "
    "and happened_at >= ? and happened_at < ? group by 1"
)
LOOKS_BACK = 5
"""Years before a month that it is judged beside: what was earlier no owner decides by, and a file
of many years is not to be read whole."""
NOTHING_AGREED = Agreed(())
NOTHING_TOLD = Told(None, None, None)


@dataclass(frozen=True, slots=True)
class Facts:
    """Everything that was closed or finished between two instants.

    Attributes:
        jobs: closed ones by time of closing.
        phases: finished labour phases by time of finishing, those of jobs not closed yet included.
        people: names by badge.
        cautious: the shop's chance of a cautious figure.
    """

    jobs: tuple[JobJudged, ...]
    phases: tuple[PhaseJudged, ...]
    people: dict[str, str]
    cautious: float

    def between(self, since: datetime, until: datetime) -> Facts:
        """Return what of it was closed and finished from an instant on, and before another."""
        return replace(
            self, jobs=tuple(one for one in self.jobs if since <= one.closed_at < until),
            phases=tuple(
                one for one in self.phases if one.finished_at and since <= one.finished_at < until
            ),
        )  # fmt: skip

    def jobs_of(self, span: MonthSpan) -> tuple[JobJudged, ...]:
        """Return the jobs that were closed in a month."""
        return tuple(one for one in self.jobs if span.holds(one.closed_at))

    def phases_of(self, span: MonthSpan) -> tuple[PhaseJudged, ...]:
        """Return the phases that were finished in a month."""
        return tuple(one for one in self.phases if one.finished_at and span.holds(one.finished_at))


def facts(db: sqlite3.Connection, until: datetime, now: datetime) -> Facts:
    """Return what was closed and finished in `LOOKS_BACK` years before the month that ends at an
    instant, and in it, in a fixed number of queries.

    Whoever goes from month to month asks again and again: what was read last is kept until the
    shop has a new entry; an older month reads what lies before it besides.

    Args:
        until: not in it, UTC.
        now: to which running clocks count; nothing was closed after it.
    """
    row = db.execute("select hash from ledger order by seq desc limit 1").fetchone()
    newest = row[0] if row is not None else ""
    calendar = calendar_of(db)
    since = _begins(until, calendar.zone)
    for entry, begins, found in _kept:
        if entry == newest and begins <= since:
            return found.between(since, until)
    found = _read(db, calendar, since, now)
    if not any(clock.until is None for one in found.phases for clock in one.clocks):
        _kept[:] = [(newest, since, found)]
    return found.between(since, until)


_kept: list[tuple[str, datetime, Facts]] = []
"""At most one: the hash of the last entry, and all facts from an instant up to it. Replaced whole,
since views are read in threads."""


def _begins(until: datetime, zone: ZoneInfo) -> datetime:
    """The first instant that a month which ends at another looks back to."""
    last = (until - timedelta(microseconds=1)).astimezone(zone).date()
    return at_zone(date(last.year - LOOKS_BACK, last.month, 1), time(), zone)


def _read(db: sqlite3.Connection, calendar: Calendar, since: datetime, now: datetime) -> Facts:
    until = now + timedelta(microseconds=1)
    span = (to_text(until), to_text(since))
    phases = list(phases_between(db, calendar, span, now))
    by_job = {job: tuple(rows) for job, rows in groupby(phases, key=lambda one: one.job)}
    agreed, told, ranges = agreed_in(db, span), told_in(db, span), ranges_in(db, span)
    jobs = [
        _job(
            row, by_job.get(job, ()), agreed.get(job, NOTHING_AGREED),
            told.get(job, NOTHING_TOLD), ranges.get(job),
        )
        for row in db.execute(CLOSED, span)
        for job in (row["job"],)
    ]  # fmt: skip
    return Facts(
        tuple(jobs), tuple(_finished(phases, until)),
        {row[0]: row[1] for row in db.execute("select badge, name from person")},
        float(setting(db, "cautious")),
    )  # fmt: skip


def began_at(db: sqlite3.Connection) -> datetime:
    """Return the first thing that happened: late entries may lie before the file."""
    row = db.execute(
        "select min(at) from (select happened_at as at from ledger where seq = 1 "
        "union all select min(opened_at) from job union all select min(since) from clock)"
    ).fetchone()
    return from_text(row[0])


def closing(db: sqlite3.Connection, span: MonthSpan) -> dict[str, int]:
    """Return the entry that closed each job of a month."""
    rows = db.execute(CLOSING, [to_text(span.since), to_text(span.until)])
    return {row[0]: row[1] for row in rows}


def _finished(phases: Sequence[PhaseJudged], until: datetime) -> list[PhaseJudged]:
    """By the time of finishing, then by number: what was cut off is not finished."""
    ended = [
        (one.finished_at, one)
        for one in phases
        if one.state == "finished" and one.finished_at is not None and one.finished_at < until
    ]
    return [one for _, one in sorted(ended, key=lambda pair: pair[0])]


def _job(
    row: sqlite3.Row, phases: tuple[PhaseJudged, ...], agreed: Agreed, told: Told,
    quantiles: tuple[float, ...] | None,
) -> JobJudged:  # fmt: skip
    changes = agreed.changes
    clocks = [clock for one in phases for clock in one.clocks]
    return JobJudged(
        job=row["job"], vehicle=row["label"], operations=tuple(json.loads(row["operations"])),
        work=row["work"], family=row["family"], grade=row["grade"], small=bool(row["small"]),
        lead=most(hours_by_badge(clocks, ("lead",))), basis=row["basis"],
        closed_at=from_text(row["closed_at"]),
        labour_h=sum(one.labour_h for one in phases),
        first_h=changes[0].middle_h if changes else None,
        estimate_h=changes[-1].middle_h if changes else None,
        cautious_h=changes[-1].cautious_h if changes else None,
        extra_h=agreed.added("supplement"), route_h=agreed.added("route"),
        other_h=agreed.added("other") + agreed.added("agreed"),
        quantiles=moved(quantiles, changes[-1].middle_h if changes else None),
        changes=changes, promised=told.last, first_promised=told.first, chance=told.chance,
        ready_at=from_text(row["ready_at"]) if row["ready_at"] else None,
        not_teaching=row["not_teaching"], phases=phases,
    )  # fmt: skip
