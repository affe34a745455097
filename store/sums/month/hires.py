"""Money and idle days of a hire, spread over the days on which they fell. Days are local."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass
from datetime import date, timedelta


@dataclass(frozen=True, slots=True)
class HireDays:
    """A hired kit and its days.

    Attributes:
        came, last: the first day it was here, and the last that is paid.
        sent: the day it was handed over, or yesterday while it is here: today is not over.
        due: the day agreed at last; None where none was.
        whole: money of the whole hire without the fee for lateness; None where nobody knows.
        idle_a_day: what a day of it costs without carriage and extras.
        late: money of the fee for lateness.
        used: days on which it was in use.
    """

    came: date
    last: date
    sent: date
    due: date | None
    whole: float | None
    idle_a_day: float | None
    late: float
    used: Collection[date]

    def spent(self, first: date, last: date) -> float | None:
        """Its money that falls on some days: each day from `came` to `last` carries the same."""
        if self.whole is None:
            return None
        days = (self.last - self.came).days + 1
        return self.whole * _shared(self.came, self.last, first, last) / days

    def late_on(self, first: date, last: date) -> float:
        """Its fee for lateness that falls on some days: each day after the one agreed carries the
        same; where none is late the last day carries it."""
        if not self.late:
            return 0.0
        begun = self.last if self.due is None else min(self.last, self.due + timedelta(days=1))
        days = (self.last - begun).days + 1
        return self.late * _shared(begun, self.last, first, last) / days

    def idle(self, first: date, last: date, works: Callable[[date], bool]) -> tuple[date, ...]:
        """The shop days among some days on which it was here and nobody used it."""
        start, end = max(self.came, first), min(self.sent, last)
        days = (start + timedelta(days=n) for n in range((end - start).days + 1))
        return tuple(day for day in days if works(day) and day not in self.used)


def _shared(one: date, other: date, first: date, last: date) -> int:
    """How many days two stretches of days share."""
    return max(0, (min(other, last) - max(one, first)).days + 1)
