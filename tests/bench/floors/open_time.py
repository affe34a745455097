"""The time of a floor: open seconds of the shop, counted from its first opening.

Whole numbers, so that two things at one instant are at one instant. Nights and week-ends take no
time: the end of a day and the beginning of the next are the same reading, and which of the two is
meant depends on whether something ends or begins.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime
from itertools import accumulate

from store.sums.working_time import Calendar, WeekPlan

HOUR = 3600
LAST_YEAR = 14
"""Years laid out: a floor that runs past its calendar is a broken judge, so it is refused."""


class PastTheCalendar(Exception):
    """The floor ran to the end of its laid-out years."""


@dataclass(frozen=True, slots=True)
class OpenTime:
    """Open spans, and where the shop days begin.

    Attributes:
        starts, ends: POSIX seconds of the open spans.
        before: open seconds before each span, and all of them at the end.
        days: reading at which each shop day begins.
        weekdays: 0 is Monday, of each shop day.
        weeks: number of the week of each shop day, rising.
    """

    starts: Sequence[int]
    ends: Sequence[int]
    before: Sequence[int]
    days: Sequence[int]
    weekdays: Sequence[int]
    weeks: Sequence[int]

    def day(self, at: int) -> int:
        """Number of the shop day of a reading; a day's end belongs to the next."""
        return bisect_right(self.days, at) - 1

    def length(self, day: int) -> int:
        """Open seconds of a shop day."""
        if day + 1 >= len(self.days):
            raise PastTheCalendar(f"day {day}: lay out more years")
        return self.days[day + 1] - self.days[day]

    def beginning(self, at: int) -> int:
        """POSIX seconds of a reading at which something begins."""
        i = bisect_right(self.before, at) - 1
        return self.starts[i] + at - self.before[i]

    def ending(self, at: int) -> int:
        """POSIX seconds of a reading at which something ends."""
        i = max(1, bisect_left(self.before, at))
        return self.ends[i - 1] - (self.before[i] - at)

    def reading(self, wall: int) -> int:
        """Open seconds gone at an instant (POSIX seconds)."""
        i = bisect_right(self.starts, wall)
        if i == 0:
            return 0
        return self.before[i] - max(0, self.ends[i - 1] - wall)


def laid_out(zone: str, plan: WeekPlan, holidays: Collection[date]) -> OpenTime:
    """The open time of one week plan from its first day on, `LAST_YEAR` years."""
    calendar = Calendar(zone, [plan], holidays)
    first = datetime(plan.from_day.year, plan.from_day.month, plan.from_day.day, tzinfo=UTC)
    spans = calendar.open_spans(first, first.replace(year=first.year + LAST_YEAR))
    starts = [round(one.timestamp()) for one, _ in spans]
    ends = [round(one.timestamp()) for _, one in spans]
    before = list(accumulate((e - s for s, e in zip(starts, ends, strict=True)), initial=0))
    local = [calendar.day_of(one) for one, _ in spans]
    fresh = [i for i, day in enumerate(local) if i == 0 or day != local[i - 1]]
    return OpenTime(
        starts, ends, before, [before[i] for i in fresh],
        [local[i].weekday() for i in fresh],
        [(local[i].toordinal() - 1) // 7 for i in fresh],
    )  # fmt: skip
