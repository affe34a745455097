"""What each month cost as its owner typed it, and the hours that were attended in it."""

from __future__ import annotations

import sqlite3
from collections import defaultdict
from dataclasses import dataclass
from datetime import date, datetime

from store.file.attended import attended, days_between
from store.file.month.clocks import clocks_in
from store.sums.month.span import MonthSpan, month_of, shifted
from store.sums.prices import per_hour
from store.sums.working_time import Calendar

TYPED = "select month, wages, overheads, seq from month_cost order by seq"


@dataclass(frozen=True, slots=True)
class MonthCost:
    """A month's costs.

    Attributes:
        taken_from: the earlier month whose costs were taken over; None where it has its own.
        seq: the entry that says so.
        running: it has not ended: its hours are not all in, so what one cost is not known.
    """

    month: str
    wages: float
    overheads: float
    attended_h: float
    seq: int
    taken_from: str | None = None
    running: bool = False

    @property
    def per_hour(self) -> float | None:
        """(wages + overheads) / hours attended; None where nobody attended, or it still runs."""
        return None if self.running else per_hour(self.wages, self.overheads, self.attended_h)


def costs_of(
    db: sqlite3.Connection, calendar: Calendar, span: MonthSpan, now: datetime
) -> dict[str, MonthCost]:
    """Return what the months of a time cost; those before the first costs typed are left out.

    A month that has none of its own takes the last one's over.
    """
    typed = {row["month"]: row for row in db.execute(TYPED)}
    if not typed:
        return {}
    hours = attended_by_month(db, calendar, span, now)
    found: dict[str, MonthCost] = {}
    month = month_of(span.first)
    while month <= month_of(span.last):
        last = max((one for one in typed if one <= month), default=None)
        if last is not None:
            row = typed[last]
            found[month] = MonthCost(
                month, row["wages"], row["overheads"], hours.get(month, 0.0), row["seq"],
                None if last == month else last, span.running and month == span.month,
            )  # fmt: skip
        month = shifted(month, 1)
    return found


def attended_by_month(
    db: sqlite3.Connection, calendar: Calendar, span: MonthSpan, now: datetime
) -> dict[str, float]:
    """Return hours attended by month: technicians by calendar, others what they clocked."""
    hours: dict[str, float] = defaultdict(float)
    known: set[tuple[str, date]] = set()
    for person in attended(db, calendar, days_between(span.first, span.last), now):
        for day in person.days:
            hours[month_of(day.day)] += day.hours
            known.add((person.badge, day.day))
    for clock in clocks_in(db, calendar, span, now):
        if (clock.badge, clock.day) not in known:
            hours[month_of(clock.day)] += clock.hours
    return dict(hours)
