"""A stored forecast moved to now: what is left and when it ends, without any array."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta

from store.file.learned.kept import Forecast, Spread
from store.sums import moving
from store.sums.working_time import Calendar
from store.views.values import Finish, Span

MIDDLE = 0.5
HAND_OVER = timedelta(minutes=15)
AT_RISK = 0.55
"""A promise with a smaller chance than this is called out."""


@dataclass(frozen=True, slots=True)
class Likely:
    """A job's forecast at a later moment.

    Attributes:
        labour: hours in each phase now.
    """

    forecast: Forecast
    calendar: Calendar
    now: datetime
    labour: Mapping[str, float]

    def knows(self, phases: Collection[str]) -> bool:
        """Tell whether it was made for these phases that are left: the route did not change."""
        return all(one in self.forecast.phases for one in phases)

    def phase_left(self, phase: str) -> tuple[float, ...] | None:
        """Quantiles of the labour still to go in a phase; None where it is not known."""
        known = self.forecast.phases.get(phase)
        if known is None:
            return None
        return _moved(known.left, self.labour.get(phase, 0.0) - known.labour_h)

    def left(self) -> tuple[float, ...]:
        """Quantiles of the labour still to go in all phases together."""
        return _moved(self.forecast.left, sum(self.labour.values()) - self.forecast.labour_h)

    def open_hours(self) -> tuple[float, ...] | None:
        """Quantiles of the shop's open hours until the last phase is finished."""
        if self.forecast.finish is None:
            return None
        return _moved(self.forecast.finish, self.age_h())

    def age_h(self) -> float:
        """Open hours since it was made."""
        return self.calendar.working_h(min(self.forecast.made_at, self.now), self.now)


def _moved(spread: Spread, passed: float) -> tuple[float, ...]:
    return moving.left(spread.quantiles, max(0.0, passed))


def span(quantiles: tuple[float, ...], cautious: float) -> Span:
    """Return middle and cautious hours."""
    return Span(moving.quantile(quantiles, MIDDLE), moving.quantile(quantiles, cautious))


def instants(
    calendar: Calendar, now: datetime, quantiles: tuple[float, ...]
) -> tuple[datetime, ...]:
    """Return when so many open hours have passed: the map rises, so quantiles stay quantiles."""
    return tuple(calendar.after(now, hours) for hours in quantiles)


def finish(
    calendar: Calendar, now: datetime, quantiles: tuple[float, ...], cautious: float
) -> Finish:
    """Return the middle and the cautious finish."""
    found = span(quantiles, cautious)
    return Finish(calendar.after(now, found.middle), calendar.after(now, found.cautious))


def hand_over(at: datetime) -> datetime:
    """Return an instant that can be promised: the same, or the next full quarter of an hour."""
    over = (at - datetime.min.replace(tzinfo=at.tzinfo)) % HAND_OVER
    return at + (HAND_OVER - over) if over else at


def chance(
    calendar: Calendar, now: datetime, quantiles: tuple[float, ...], promise: datetime
) -> float:
    """Return the chance that the job is finished by then, never nearer to 0 or 1 than .05."""
    hours = calendar.working_h(now, promise) if promise > now else 0.0
    return round(moving.chance(quantiles, hours), 4)
