# pyright: reportUnknownMemberType=false, reportUnknownVariableType=false
# pyright: reportMissingTypeStubs=false, reportUnknownArgumentType=false, reportUnknownParameterType=false
# (portion 2.6 carries no types)
"""Working time worked out another way: dateutil's own zone files, portion's interval algebra."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from datetime import UTC, date, datetime, time, timedelta
from typing import Protocol, cast

import portion  # type: ignore[import-untyped]  # portion 2.6 carries no types
from dateutil import tz
from dateutil.zoneinfo import get_zonefile_instance

from store.sums.working_time import Span, WeekPlan


class _Atom(Protocol):
    lower: datetime
    upper: datetime


class ReferenceHours:
    """The open spans between two instants."""

    def __init__(
        self,
        zone: str,
        plans: Sequence[WeekPlan],
        holidays: Collection[date],
        since: datetime,
        until: datetime,
    ) -> None:
        self._zone = get_zonefile_instance().get(zone)
        shifts = breaks = portion.empty()
        day = since.date() - timedelta(days=3)
        while day <= until.date() + timedelta(days=3):
            plan = self._plan(plans, day)
            if plan is not None and day not in holidays:
                of_day = self._union(plan.shifts, day, day)
                rests = self._union(plan.breaks, day, day)
                rests |= self._union(plan.breaks, day, day + timedelta(days=1))
                shifts |= of_day
                breaks |= rests & of_day
            day += timedelta(days=1)
        inside = (shifts - breaks) & portion.closedopen(since, until)
        atoms = cast("list[_Atom]", [] if inside.empty else list(inside))
        self.spans = [(atom.lower, atom.upper) for atom in atoms]

    @property
    def hours(self) -> float:
        return sum((end - start).total_seconds() for start, end in self.spans) / 3600

    def is_open(self, at: datetime) -> bool:
        return any(start <= at < end for start, end in self.spans)

    def after(self, hours: float) -> datetime | None:
        """None if the hours are more than there are."""
        left = timedelta(hours=hours)
        for start, end in self.spans:
            if left <= end - start:
                return start + left
            left -= end - start
        return None

    @staticmethod
    def _plan(plans: Sequence[WeekPlan], day: date) -> WeekPlan | None:
        holding = [plan for plan in plans if plan.from_day <= day]
        return max(holding, key=lambda plan: plan.from_day) if holding else None

    def _union(self, spans: Sequence[Span], day: date, on: date) -> portion.Interval:
        union = portion.empty()
        for span in spans:
            if day.isoweekday() in span.days:
                end_day = on if span.end > span.start else on + timedelta(days=1)
                start, end = self._utc(on, span.start), self._utc(end_day, span.end)
                union |= portion.closedopen(start, end)
        return union

    def _utc(self, day: date, clock: time) -> datetime:
        local = datetime.combine(day, clock, self._zone)
        return tz.resolve_imaginary(local).astimezone(UTC)
