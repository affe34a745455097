"""Hours attended: a person's calendar less absence, unless the day sheet was put right."""

from __future__ import annotations

import sqlite3
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from store.edges.instants import from_text, to_text
from store.file.facts import day_bounds
from store.sums.attended import Span, hours_of, present_spans
from store.sums.working_time import Calendar

PEOPLE = "select person, badge, name, role, from_day, until_day from person order by badge"
CORRECTED = (
    "select payload ->> '$.person' as person, payload ->> '$.day' as day, "
    "payload ->> '$.hours' as hours, max(seq) as seq from ledger "
    "where kind = 'attendance-corrected' and day between ? and ? group by 1, 2"
)
"""The newest correction of each day, with its entry."""


@dataclass(frozen=True, slots=True)
class DayHere:
    """A person's day.

    Attributes:
        hours: attended.
        technician: what the person was that day; of others only corrected days are told.
        events: that corrected it, else absences that shortened it.
    """

    day: date
    hours: float
    technician: bool
    corrected: bool
    events: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Here:
    """A person and the days attended."""

    badge: str
    name: str
    days: tuple[DayHere, ...]


def present_on(db: sqlite3.Connection, calendar: Calendar, person: str, on: date) -> list[Span]:
    """Return a person's own working spans of a day: the shop's, less absence."""
    start, end = day_bounds(on, calendar.zone)
    rows = db.execute(
        "select since, until from absence where person = ? and since < ? and until > ?",
        [person, to_text(end), to_text(start)],
    )
    return present_spans(calendar, on, [(from_text(row[0]), from_text(row[1])) for row in rows])


def attended_h(db: sqlite3.Connection, person: str, on: date, present: Sequence[Span]) -> float:
    """Return the hours of a day as the day sheet was put right, else those of `present`."""
    row = db.execute(
        "select hours from attendance where person = ? and day = ?", [person, on.isoformat()]
    ).fetchone()
    return float(row["hours"]) if row is not None else hours_of(present)


def attended(
    db: sqlite3.Connection, calendar: Calendar, days: Sequence[date], now: datetime
) -> list[Here]:
    """Return who attended how long on some days in a row, by badge; four queries.

    Technicians by their calendar while they are employed, up to now; whoever is something else
    that day only where the day sheet was put right.

    Args:
        days: not empty; those that have not come count nothing.
    """
    first, last = days[0].isoformat(), days[-1].isoformat()
    since, until = day_bounds(days[0], calendar.zone)[0], day_bounds(days[-1], calendar.zone)[1]
    absences: dict[str, list[tuple[datetime, datetime, int]]] = defaultdict(list)
    for person, start, end, seq in db.execute(
        "select person, since, until, seq from absence where since < ? and until > ?",
        [to_text(until), to_text(since)],
    ):
        absences[person].append((from_text(start), from_text(end), seq))
    corrected = {
        (row["person"], date.fromisoformat(row["day"])): (float(row["hours"]), int(row["seq"]))
        for row in db.execute(CORRECTED, [first, last])
    }
    roles = _roles(db)
    return [
        Here(row["badge"], row["name"], tuple(
            _days(row, calendar, days, now, roles[row["person"]], absences[row["person"]],
                  corrected)
        ))
        for row in db.execute(PEOPLE).fetchall()
    ]  # fmt: skip


def _roles(db: sqlite3.Connection) -> Mapping[str, list[tuple[str, str]]]:
    """What each person was from which day on, in order."""
    found: dict[str, list[tuple[str, str]]] = defaultdict(list)
    for person, from_day, role in db.execute(
        "select person, from_day, role from person_since order by from_day"
    ):
        found[person].append((from_day, role))
    return found


def _days(
    row: sqlite3.Row,
    calendar: Calendar,
    days: Sequence[date],
    now: datetime,
    roles: Sequence[tuple[str, str]],
    absences: Sequence[tuple[datetime, datetime, int]],
    corrected: Mapping[tuple[str, date], tuple[float, int]],
) -> Iterator[DayHere]:
    today = calendar.day_of(now)
    for day in days:
        text = day.isoformat()
        if day > today or not row["from_day"] <= text <= (row["until_day"] or text):
            continue
        role = next((role for since, role in reversed(roles) if since <= text), row["role"])
        technician = role == "technician"
        put_right = corrected.get((row["person"], day))
        if put_right is not None:
            yield DayHere(day, put_right[0], technician, True, (put_right[1],))
        elif technician:
            start, end = day_bounds(day, calendar.zone)
            cuts = [one for one in absences if one[0] < end and one[1] > start]
            spans = present_spans(calendar, day, [(a, b) for a, b, _ in cuts])
            yield DayHere(
                day, hours_of(spans, until=now), True, False, tuple(one[2] for one in cuts)
            )


def days_between(first: date, last: date) -> list[date]:
    """Return the days from one to another, both of them taken in."""
    return [first + timedelta(days=n) for n in range((last - first).days + 1)]
