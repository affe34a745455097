"""A calendar month as instants of the shop's zone: from its first midnight until the next one's."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from store.sums.months import months_later
from store.sums.working_time import at_zone

MONTH = re.compile(r"[0-9]{4}-(0[1-9]|1[0-2])", re.ASCII)


@dataclass(frozen=True, slots=True)
class MonthSpan:
    """One month, as far as it is told.

    Attributes:
        month: `2026-09`.
        first, last: its local days.
        since: its first instant, UTC; in it.
        until: where it ends or is told up to, UTC; not in it.
        running: it has not ended: `until` is just after now.
    """

    month: str
    first: date
    last: date
    since: datetime
    until: datetime
    running: bool

    def holds(self, at: datetime) -> bool:
        """Whether an instant lies in it."""
        return self.since <= at < self.until


def is_month(text: str) -> bool:
    """Whether a text names a month of the years 1 to 9998."""
    return MONTH.fullmatch(text) is not None and "0001" <= text < "9999"


def month_span(month: str, now: datetime, zone: ZoneInfo) -> MonthSpan:
    """Return a month up to its end, or up to now where it still runs: an entry of now is in it.

    Args:
        month: `2026-09`.
        now: UTC.

    Raises:
        ValueError: it is no month, or begins after now.
    """
    if not is_month(month):
        raise ValueError(f"{month!r} is no month")
    first = date(int(month[:4]), int(month[5:]), 1)
    after = months_later(first, 1)
    since, end = at_zone(first, time(), zone), at_zone(after, time(), zone)
    if since > now:
        raise ValueError(f"{month} has not begun")
    until = min(end, now + timedelta(microseconds=1))
    return MonthSpan(month, first, after - timedelta(days=1), since, until, until < end)


def month_of(day: date) -> str:
    """Return the month of a local day, `2026-09`."""
    return f"{day.year:04d}-{day.month:02d}"


def shifted(month: str, months: int) -> str:
    """Return the month so many later, or earlier where negative."""
    number = int(month[:4]) * 12 + int(month[5:]) - 1 + months
    return f"{number // 12:04d}-{number % 12 + 1:02d}"
