"""The week as the shop plans it: shifts and breaks in local time, and the instants they become."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from store.sums.spans import Stretch, common, merged

ONE_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Span:
    """A shift or a break of the week plan, in local time.

    Attributes:
        days: ISO weekdays, 1 is Monday, on which it starts; a break in a night shift belongs to
            the day on which the shift starts, whether it is taken before midnight or after.
        end: at or before `start` it ends on the next day.

    Raises:
        ValueError: a weekday is not 1 to 7.
    """

    days: tuple[int, ...]
    start: time
    end: time

    def __post_init__(self) -> None:
        """Refuse weekdays that do not exist."""
        if not all(1 <= day <= 7 for day in self.days):
            raise ValueError(f"ISO weekdays are 1 to 7, not {self.days}")


@dataclass(frozen=True, slots=True)
class WeekPlan:
    """The week from a local day on, until the next plan; breaks count only inside shifts."""

    from_day: date
    shifts: tuple[Span, ...]
    breaks: tuple[Span, ...]


def at_zone(day: date, clock: time, zone: ZoneInfo) -> datetime:
    """The instant (UTC) of a local time.

    A time that happens twice means the first one; a time that is skipped is read with the offset
    before the gap, which lands as much after it.

    Source:
        RFC 5545 section 3.3.5. `zoneinfo` with fold 0 follows it in both cases.
    """
    return datetime.combine(day, clock.replace(fold=0), zone).astimezone(UTC)


def shifts_on(plan: WeekPlan, day: date, zone: ZoneInfo) -> list[Stretch]:
    """The plan's shifts that start on a local day, merged."""
    return merged(_placed(plan.shifts, day, day, zone))


def breaks_on(plan: WeekPlan, day: date, shifts: list[Stretch], zone: ZoneInfo) -> list[Stretch]:
    """The plan's breaks in a day's shifts, merged, what sticks out of the shifts cut off.

    Where there are night shifts each break is tried on the next day too: they have theirs after
    midnight.
    """
    if not plan.breaks or not shifts:
        return []
    placed = _placed(plan.breaks, day, day, zone)
    if any(shift.end <= shift.start for shift in plan.shifts):
        placed += _placed(plan.breaks, day, day + ONE_DAY, zone)
    return common(merged(placed), shifts)


def _placed(spans: Iterable[Span], day: date, on: date, zone: ZoneInfo) -> list[Stretch]:
    """The spans of a day's weekday, read as local times that begin on `on`."""
    return [
        (
            at_zone(on, span.start, zone).timestamp(),
            at_zone(_end_day(span, on), span.end, zone).timestamp(),
        )
        for span in spans
        if day.isoweekday() in span.days
    ]


def _end_day(span: Span, on: date) -> date:
    return on if span.end > span.start else on + ONE_DAY
