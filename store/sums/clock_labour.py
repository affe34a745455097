"""The labour of one clock: its wall time less the breaks in it, and when it counts as forgotten."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from store.sums.working_time import Calendar, NeverOpens

EVENING = timedelta(hours=4)
"""How long a clock started after the day's last shift may run before it is left running."""
DAY_OFF = timedelta(hours=10)
"""The same for one started on a day without a shift: a long working day."""


def labour_h(calendar: Calendar, since: datetime, until: datetime, breaks_worked: bool) -> float:
    """Labour hours between the start and the stop of a clock.

    A shop break that begins and ends while the clock runs, to the second at either end, is taken
    off. One in which the clock starts or stops is not: whoever touches the clock then is at work.
    For the same reason a clock that runs for exactly the break keeps its time.

    Args:
        breaks_worked: the person worked through them; nothing is taken off.

    Returns:
        Hours, 0 or more; 0 where the machine's clock was set back in between.

    Raises:
        ValueError: an instant without offset.
    """
    start, end = _utc(since), _utc(until)
    if end <= start:
        return 0.0
    wall = end - start
    if not breaks_worked:
        wall -= _rest(calendar, start, end)
    return wall / timedelta(hours=1)


def counts_to(calendar: Calendar, since: datetime, now: datetime) -> tuple[datetime, bool]:
    """Up to when a running clock counts (UTC), and whether it has been left running.

    It counts to now until the working day on which it was started ends, and to that end
    afterwards. Started after the last shift of the day it counts for `EVENING`, on a day without
    a shift for `DAY_OFF`, and in both cases no longer than to the next opening of the shop.

    Returns:
        Never an instant before `since`, wherever the machine's clock was set.

    Raises:
        ValueError: an instant without offset.
    """
    start = _utc(since)
    limit = calendar.shift_end(start) or _evening_end(calendar, start)
    reached = max(start, _utc(now))
    return (limit, True) if reached > limit else (reached, False)


def labour_spans(
    calendar: Calendar, since: datetime, until: datetime, breaks_worked: bool
) -> list[tuple[datetime, datetime]]:
    """When a clock's labour was (UTC), in order: together as long as `labour_h` says.

    Raises:
        ValueError: an instant without offset.
    """
    here, end = _utc(since), _utc(until)
    found: list[tuple[datetime, datetime]] = []
    for a, b in [] if breaks_worked or end <= here else _spanned(calendar, here, end):
        found.append((here, a))
        here = b
    return [(a, b) for a, b in [*found, (here, end)] if b > a]


def _rest(calendar: Calendar, start: datetime, end: datetime) -> timedelta:
    """How long the breaks are that a clock spans whole."""
    return sum((b - a for a, b in _spanned(calendar, start, end)), timedelta())


def _spanned(calendar: Calendar, start: datetime, end: datetime) -> list[tuple[datetime, datetime]]:
    """The breaks that a clock spans whole."""
    breaks = calendar.breaks_between(start, end)
    return [(a, b) for a, b in breaks if start <= a and b <= end and (a, b) != (start, end)]


def _evening_end(calendar: Calendar, start: datetime) -> datetime:
    worked_day = calendar.shifts_of(calendar.day_of(start))
    limit = start + (EVENING if worked_day else DAY_OFF)
    try:
        return min(limit, calendar.next_opening(start))
    except NeverOpens:
        return limit


def _utc(at: datetime) -> datetime:
    """The same instant in UTC: within one zone Python would subtract wall clocks."""
    if at.tzinfo is None:
        raise ValueError(f"an instant needs an offset: {at}")
    return at.astimezone(UTC)
