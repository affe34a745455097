"""Small facts that actions and views both read."""

from __future__ import annotations

import json
import sqlite3
from datetime import date, datetime, time, timedelta
from functools import lru_cache
from typing import Any
from zoneinfo import ZoneInfo

from store.file.memory import memory_of
from store.sums.working_time import Calendar, Span, WeekPlan, at_zone

DEFAULTS: dict[str, Any] = {
    "first job": 1001,
    "cautious": 0.8,
    "small job hours": 1.0,
    "signed alone": [],
    "overdue lift refused": False,
    "sign off after seconds": 120,
    "lift day cost": 150.0,
}
"""Settings until the shop changes them."""


CHECKED_UNTIL = (
    "(select at from estimate where estimate.seq = agreed_seq and exists "
    "(select 1 from estimate as sold where sold.job = job.job and sold.seq < agreed_seq))"
)
"""When a job was agreed whose check had been sold before, in SQL; null for every other job. What
came before is no part of its stay: days lie between, and nobody could have gone on with it."""


def setting(db: sqlite3.Connection, name: str) -> Any:
    """Return a setting's value."""
    row = db.execute("select value from setting where name = ?", [name]).fetchone()
    return json.loads(row[0]) if row else DEFAULTS[name]


def calendar_of(db: sqlite3.Connection) -> Calendar:
    """Return the shop's calendar; the same object while nothing about it changed."""
    memory = memory_of(db)
    if memory is not None and memory.calendar is not None:
        return memory.calendar
    found = _calendar_of(db)
    if memory is not None:
        memory.calendar = found
    return found


def _calendar_of(db: sqlite3.Connection) -> Calendar:
    zone = db.execute("select zone from shop").fetchone()
    plans = tuple(
        (row[0], row[1]) for row in db.execute("select from_day, plan from calendar order by 1")
    )
    days = tuple(row[0] for row in db.execute("select day from holiday order by 1"))
    return _calendar(zone[0] if zone else "UTC", plans, days)


@lru_cache(maxsize=8)
def _calendar(zone: str, plans: tuple[tuple[str, str], ...], days: tuple[str, ...]) -> Calendar:
    return Calendar(
        zone,
        [_plan(from_day, json.loads(plan)) for from_day, plan in plans],
        frozenset(date.fromisoformat(day) for day in days),
    )


def _plan(from_day: str, plan: dict[str, Any]) -> WeekPlan:
    return WeekPlan(date.fromisoformat(from_day), _spans(plan["shifts"]), _spans(plan["breaks"]))


def _spans(spans: list[dict[str, Any]]) -> tuple[Span, ...]:
    return tuple(
        Span(tuple(one["days"]), time.fromisoformat(one["start"]), time.fromisoformat(one["end"]))
        for one in spans
    )


def day_bounds(day: date, zone: ZoneInfo) -> tuple[datetime, datetime]:
    """Return the instants at which a local day begins and ends."""
    return at_zone(day, time(), zone), at_zone(day + timedelta(days=1), time(), zone)


def rate_on(db: sqlite3.Connection, day: date) -> float | None:
    """Return the price of an hour of labour on a day; None where no rate was set."""
    row = db.execute(
        "select per_hour from rate where from_day <= ? order by from_day desc limit 1",
        [day.isoformat()],
    ).fetchone()
    return row[0] if row else None
