"""Money of one job out of the file: what was agreed, used up so far, and is expected at the end."""

from __future__ import annotations

import sqlite3
from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime

from store.edges.instants import from_text
from store.file.facts import calendar_of, rate_on, setting
from store.file.hours_left import left_together
from store.file.labour import clock_labour_h
from store.file.route_now import phases_of
from store.sums.job_money import Reckoned, Used, beside_labour, free_left, labour_money
from store.sums.working_time import Calendar

AHEAD = "agreed ahead"
"""The means of a word that was given beforehand: within the free hand nobody is called."""


@dataclass(frozen=True, slots=True)
class Terms:
    """What was agreed about money.

    Attributes:
        agreed: money of the newest agreement.
        extras: money of extra work that was approved.
        free_hand: up to which extra work needs no call; `free` what is left of it.
    """

    basis: str | None
    agreed: float | None
    extras: float
    ceiling: float | None
    free_hand: float | None
    free: float | None


def terms_of(db: sqlite3.Connection, job: str) -> Terms:
    """Return what was agreed about a job's money."""
    row = db.execute(
        "select basis, ceiling, free_hand, (select money from estimate where "
        "estimate.job = job.job order by seq desc limit 1) as money from job where job = ?",
        [job],
    ).fetchone()
    approved = db.execute(
        "select money, means from supplement where job = ? and state = 'approved' "
        "and money is not null",
        [job],
    ).fetchall()
    free = free_left(row["free_hand"], (one["money"] for one in approved if one["means"] == AHEAD))
    extras = sum(one["money"] for one in approved)
    return Terms(row["basis"], row["money"], extras, row["ceiling"], row["free_hand"], free)


def reckoned(db: sqlite3.Connection, job: str, now: datetime) -> Reckoned:
    """Return what a job used up until now and what is still to come."""
    calendar = calendar_of(db)
    rates = _Rates(db, calendar)
    clocks = db.execute(
        "select phase, since, until, breaks_worked from clock where job = ? and part != 'learner'",
        [job],
    ).fetchall()
    labour: dict[str, float] = defaultdict(float)
    worked: list[tuple[float, float | None]] = []
    for row in clocks:
        hours = clock_labour_h(
            calendar, row["since"], row["until"], bool(row["breaks_worked"]), now
        )
        labour[row["phase"]] += hours
        worked.append((hours, rates.at(row["since"])))
    back, away = _outwork(db, job)
    here, coming = _parts(db, job)
    used = Used(labour_money(worked), back, here, _extra(db, job, rates))
    left = _left(db, job, labour)
    return Reckoned(used, away + coming, left, rates.on(calendar.day_of(now)))


class _Rates:
    """Rates by local day, each looked up once."""

    def __init__(self, db: sqlite3.Connection, calendar: Calendar) -> None:
        self._db, self._calendar = db, calendar
        self._known: dict[date, float | None] = {}

    def on(self, day: date) -> float | None:
        if day not in self._known:
            self._known[day] = rate_on(self._db, day)
        return self._known[day]

    def at(self, text: str) -> float | None:
        """The rate of the day on which something began."""
        return self.on(self._calendar.day_of(from_text(text)))


def _left(db: sqlite3.Connection, job: str, labour: Mapping[str, float]) -> tuple[float, float]:
    """What was not agreed to costs nothing yet."""
    return left_together(
        db, job, phases_of(db, job), labour, float(setting(db, "cautious")), unanswered=False
    )


def _outwork(db: sqlite3.Connection, job: str) -> tuple[float, float]:
    """Known prices of what is back again, and of what is away."""
    row = db.execute(
        "select coalesce(sum(case when back_at is not null then coalesce(charged, price) end), 0), "
        "coalesce(sum(case when back_at is null then price end), 0) from outwork where job = ?",
        [job],
    ).fetchone()
    return row[0], row[1]


def _parts(db: sqlite3.Connection, job: str) -> tuple[float, float]:
    """Known prices of parts that are here, and of those that are to come."""
    row = db.execute(
        "select coalesce(sum(case when state in ('here', 'fitted') then price end), 0), "
        "coalesce(sum(case when state in ('wanted', 'ordered') then price end), 0) "
        "from part where job = ?",
        [job],
    ).fetchone()
    return row[0], row[1]


def _extra(db: sqlite3.Connection, job: str, rates: _Rates) -> float:
    return beside_labour(
        (row["money"], row["hours"], rates.at(row["asked_at"]))
        for row in db.execute(
            "select money, hours, asked_at from supplement where job = ? and state = 'approved'",
            [job],
        )
    )
