"""The whole shop at one moment, as far as forecasts of its jobs ask."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from store.edges.instants import to_text
from store.file.books import book_of
from store.file.facts import calendar_of
from store.file.learned.hand import Hand, hands
from store.file.learned.kept import Forecast, Position, forecasts, newest_position
from store.file.past_spans import own_spans
from store.learn.dates.spans import Span
from store.rules.book import WorkBook
from store.rules.lift_fit import carries
from store.sums.working_time import Calendar

LATELY = timedelta(days=9)
"""Jobs closed no longer ago than this still say how scarce people are: three shop days and more."""


@dataclass(frozen=True, slots=True)
class Stand:
    """A lift in service: its code, and what stands on it; `small`: a small job."""

    lift: str
    rated_kg: float
    job: str | None
    small: bool = False


@dataclass(frozen=True, slots=True)
class Lifts:
    """The lifts in service, in the shop's order."""

    stands: tuple[Stand, ...] = ()

    @property
    def free(self) -> int:
        """How many nothing stands on."""
        return sum(one.job is None for one in self.stands)

    @property
    def jobs(self) -> tuple[str, ...]:
        """Which jobs stand on lifts, small ones left out."""
        return tuple(one.job for one in self.stands if one.job is not None and not one.small)

    @property
    def small(self) -> int:
        """On how many small jobs stand."""
        return sum(one.small for one in self.stands)

    def with_job(self, job: str, lift: str | None) -> Lifts:
        """The same with a job on that lift, or on none."""
        return Lifts(
            tuple(
                replace(one, job=job)
                if one.lift == lift
                else replace(one, job=None)
                if one.job == job
                else one
                for one in self.stands
            )
        )


@dataclass(frozen=True, slots=True)
class Moment:
    """What is known now.

    Attributes:
        now: the shop's instant.
        hands: every job that goes on, by number; small ones left out.
        spans: of these jobs and of those closed lately.
        employed: badges of who is employed that day.
        books: versions of the work book, by number.
        kept: the forecasts as they stand.
    """

    at: Position
    now: datetime
    calendar: Calendar
    hands: Mapping[str, Hand]
    spans: tuple[Span, ...]
    employed: frozenset[str]
    books: Mapping[int, WorkBook]
    lifts: Lifts
    kept: Mapping[str, Forecast]


def behind(hands: Mapping[str, Hand], lifts: Lifts) -> tuple[dict[str, int], int | None]:
    """Return how many lifts must become free before each waiting job finds one.

    In the order of the line each takes the first free lift that carries it; the others wait for
    the next, the one after that, and so on.

    Returns:
        By job, 0 is the next; whoever finds a free lift is left out. And the same for somebody who
        comes last, of whose vehicle nothing is known; None where a lift is free then.
    """
    free = [one.rated_kg for one in lifts.stands if one.job is None]
    waits: dict[str, int] = {}
    line = [one for one in hands.values() if one.waits]
    for hand in sorted(line, key=lambda one: one.line or 0):
        lift = next((kg for kg in free if carries(kg, hand.mass_kg)), None)
        if lift is None:
            waits[hand.job] = len(waits)
        else:
            free.remove(lift)
    return waits, None if free else len(waits)


def moment(db: sqlite3.Connection, live: Sequence[str], now: datetime) -> Moment:
    """Return the shop at one moment of the file.

    Args:
        live: numbers of the jobs of which something is left.
    """
    calendar = calendar_of(db)
    there = hands(db, live, now)
    return Moment(
        newest_position(db), now, calendar, there,
        tuple(own_spans(db, [*live, *_closed_lately(db, now)])), employed_on(db, calendar, now),
        {one: book_of(db, one) for one in _versions(there)}, _lifts(db), forecasts(db, live),
    )  # fmt: skip


def _versions(there: Mapping[str, Hand]) -> list[int]:
    """Versions that open decisions are answered by."""
    return sorted({one.version for one in there.values() if one.version is not None and one.asked})


def _closed_lately(db: sqlite3.Connection, now: datetime) -> list[str]:
    return [
        row[0]
        for row in db.execute(
            "select job from job where state = 'closed' and not small and closed_at > ? "
            "order by number",
            [to_text(now - LATELY)],
        )
    ]


def employed_on(db: sqlite3.Connection, calendar: Calendar, now: datetime) -> frozenset[str]:
    """Return the badges of who is employed on an instant's day."""
    return frozenset(
        row[0]
        for row in db.execute(
            "select badge from person where from_day <= ?1 "
            "and (until_day is null or until_day >= ?1)",
            [calendar.day_of(now).isoformat()],
        )
    )


def _lifts(db: sqlite3.Connection) -> Lifts:
    rows = db.execute(
        "select code, rated_kg, job.job, job.small from place left join job_place on "
        "job_place.place = place.place and part = 'body' left join job using (job) "
        "where place.kind = 'lift' and in_service order by position"
    )
    return Lifts(tuple(Stand(row[0], row[1], row[2], bool(row[3])) for row in rows))
