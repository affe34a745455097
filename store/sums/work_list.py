"""When the lines of a list are likely to be done: one after another, absences left out."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from store.sums.working_time import Calendar

Stretch = tuple[datetime, datetime]


def done_by(calendar: Calendar, at: datetime, hours: float, away: Sequence[Stretch]) -> datetime:
    """Return when so many working hours are through that begin at an instant (UTC).

    Args:
        hours: of work, 0 or more.
        away: stretches without work, in the order of their beginnings; they may overlap.

    Raises:
        NeverOpens: the shop is closed for two years on end.
    """
    for since, until in away:
        if until <= at:
            continue
        end = calendar.after(at, hours)
        if end < since or (hours > 0 and end == since):
            return end
        if since > at:
            hours = max(0.0, hours - calendar.working_h(at, since))
        at = until
    return calendar.after(at, hours)


def one_after_another(
    calendar: Calendar, now: datetime, hours: Sequence[float], away: Sequence[Stretch]
) -> list[Stretch]:
    """Return when each piece of work begins and ends, (n) pairs, in their order (UTC).

    Args:
        hours: (n) working hours of each piece, 0 or more.
        away: as for `done_by`.

    Raises:
        NeverOpens: the shop is closed for two years on end.
    """
    found: list[Stretch] = []
    at = now
    for one in hours:
        start = done_by(calendar, at, 0.0, away)
        at = done_by(calendar, start, one, away)
        found.append((start, at))
    return found
