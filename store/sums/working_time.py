"""The shop calendar: when the shop is open, working time between two instants, and back.

Instants come in with any offset and go
out in UTC; inside they are epoch seconds, laid out for the days that were asked for and no more.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Collection, Iterable, Sequence
from datetime import UTC, date, datetime, time, timedelta
from itertools import repeat
from zoneinfo import ZoneInfo

from store.sums.spans import ROUNDING_S, Layout, Stretch, laid_out
from store.sums.week_plan import Span, WeekPlan, at_zone, breaks_on, shifts_on
from store.sums.zones import UnknownZone, zone_named
from store.trouble import Trouble

__all__ = ["Calendar", "NeverOpens", "Span", "UnknownZone", "WeekPlan", "at_zone"]

FEWEST_DAYS = 60
"""Laid out at a time at least; after that half as much again as there is, so that many small
steps through ten years cost no more than a few layouts."""
SEARCH_S = 2 * 366 * 86_400.0
"""A shop with no open hour for two years is taken never to open again."""
LONGEST_H = 200_000.0
"""Working hours that `Calendar.after` looks ahead at most: a century of full weeks."""
LAST_DAY = date(9998, 12, 31).toordinal()
MIDNIGHT = time()


class NeverOpens(Trouble):
    """The calendar has no open hour for as long as anybody would look."""

    def __init__(self, day: date) -> None:
        self.day = day
        super().__init__(
            f"The shop calendar has no open hours after {day}: give the shop its shifts first."
        )


class Calendar:
    """Shifts, breaks and holidays of one shop. Never changed: a new plan is a new calendar.

    Before the first plan the shop is closed. Of two plans from the same day the later one in the
    sequence holds. Any number of threads may ask at once.
    """

    def __init__(
        self, zone: str, plans: Sequence[WeekPlan], holidays: Collection[date] = ()
    ) -> None:
        """Keep the plans; nothing is laid out yet.

        Args:
            zone: name in the IANA time zone database.
            holidays: local days on which no shift starts.

        Raises:
            UnknownZone: no such time zone.
        """
        self._zone = zone_named(zone)
        self._plans = sorted(plans, key=_from_day)
        self._holidays = frozenset(holidays)
        self._laid: Layout | None = None
        self._days: dict[date, list[Stretch]] = {}

    @property
    def zone(self) -> ZoneInfo:
        """The shop's time zone."""
        return self._zone

    def working_h(self, since: datetime, until: datetime) -> float:
        """Open hours between two instants, breaks cut out.

        Raises:
            ValueError: `until` is before `since`, or one of them has no offset.
        """
        start, end = _in_order(since, until)
        laid = self._cover(start, end)
        return (laid.upto(end) - laid.upto(start)) / 3600

    def after(self, since: datetime, hours: float) -> datetime:
        """The first instant (UTC) by which so many working hours have passed.

        Args:
            since: at 0 hours it comes back itself if the shop is open then, else the next opening.
            hours: working hours, 0 to `LONGEST_H`.

        Raises:
            NeverOpens: the shop is closed for two years on end before the hours are through.
            ValueError: hours outside their range, or an instant without offset.
        """
        if not 0 <= hours <= LONGEST_H:
            raise ValueError(f"hours must be 0 to {LONGEST_H:g}, not {hours}")
        start, wanted = _epoch(since), hours * 3600
        if wanted <= ROUNDING_S:
            return self.next_opening(since)
        laid = self._cover(start, start)
        while (reached := laid.upto(start) + wanted) > laid.reach:
            laid = self._further(laid, start)
        return _instant(laid.when(reached))

    def each_after(self, since: datetime, hours: Sequence[float]) -> list[datetime]:
        """Return `after` of each of many hours, in their order, for one look at the plans.

        Raises:
            NeverOpens, ValueError: as `after` does.
        """
        if not hours:
            return []
        first, _ = self.after(since, min(hours)), self.after(since, max(hours))
        laid = self._cover(_epoch(since), _epoch(since))
        base = laid.upto(_epoch(since))
        seconds = laid.each_when([base + one * 3600 for one in hours])
        instants = list(map(datetime.fromtimestamp, seconds, repeat(UTC)))
        if min(hours) * 3600 > ROUNDING_S:
            return instants
        pairs = zip(instants, hours, strict=True)
        return [one if hour * 3600 > ROUNDING_S else first for one, hour in pairs]

    def next_opening(self, at: datetime) -> datetime:
        """The first instant (UTC) from `at` on at which the shop is open: `at` itself if it is.

        The end of a break counts as an opening.

        Raises:
            NeverOpens: the shop stays closed for two years.
            ValueError: an instant without offset.
        """
        start = _epoch(at)
        laid = self._cover(start, start)
        if laid.is_open(start):
            return at.astimezone(UTC)
        while (opening := laid.next_start(start)) is None:
            laid = self._further(laid, start)
        return _instant(opening)

    def is_open(self, at: datetime) -> bool:
        """Whether somebody works then; the end of a shift and the time of a break do not count."""
        x = _epoch(at)
        return self._cover(x, x).is_open(x)

    def open_spans(self, since: datetime, until: datetime) -> list[tuple[datetime, datetime]]:
        """The open stretches between two instants (UTC), breaks and nights cut out.

        Raises:
            ValueError: `until` is before `since`, or one of them has no offset.
        """
        start, end = _in_order(since, until)
        return _instants(self._cover(start, end).open_between(start, end))

    def breaks_between(self, since: datetime, until: datetime) -> list[tuple[datetime, datetime]]:
        """The breaks that overlap the time between two instants (UTC), each whole.

        Raises:
            ValueError: `until` is before `since`, or one of them has no offset.
        """
        start, end = _in_order(since, until)
        return _instants(self._cover(start, end).breaks_between(start, end))

    def day_of(self, at: datetime) -> date:
        """The local day of an instant."""
        return _aware(at).astimezone(self._zone).date()

    def shifts_of(self, day: date) -> list[tuple[datetime, datetime]]:
        """The shifts that start on a local day (UTC instants), breaks not cut out, merged."""
        return _instants(self._shifts(day))

    def breaks_of(self, day: date) -> list[tuple[datetime, datetime]]:
        """The breaks in the shifts that start on a local day (UTC instants), merged."""
        return _instants(self._breaks(day, self._shifts(day)))

    def shift_end(self, at: datetime) -> datetime | None:
        """When the working day that an instant belongs to ends (UTC).

        Returns:
            Inside a shift the end of the last shift of the day on which that shift started (where
            two overlap, of the later day). Outside any shift the end of the local day's last
            shift, if that is still to come, else None.
        """
        x, today = _epoch(at), self.day_of(at)
        for day in (today, today - timedelta(days=1)):
            shifts = self._shifts(day)
            if any(start <= x < end for start, end in shifts):
                return _instant(shifts[-1][1])
        shifts = self._shifts(today)
        return _instant(shifts[-1][1]) if shifts and shifts[-1][1] > x else None

    def _plan(self, day: date) -> WeekPlan | None:
        if day in self._holidays:
            return None
        i = bisect_right(self._plans, day, key=_from_day)
        return self._plans[i - 1] if i else None

    def _shifts(self, day: date) -> list[Stretch]:
        found = self._days.get(day)
        if found is None:
            plan = self._plan(day)
            found = self._days[day] = shifts_on(plan, day, self._zone) if plan else []
        return found

    def _breaks(self, day: date, shifts: list[Stretch]) -> list[Stretch]:
        plan = self._plan(day)
        return breaks_on(plan, day, shifts, self._zone) if plan else []

    def _cover(self, since: float, until: float) -> Layout:
        """A layout that is good for both instants."""
        laid = self._laid
        if laid is not None and laid.lo <= since and until <= laid.hi:
            return laid
        first = self._ordinal(since) - 1
        last = self._ordinal(until) + FEWEST_DAYS
        if laid is not None:
            more = _more(laid)
            first = laid.first if first >= laid.first else min(first, laid.first - more)
            last = laid.last if last <= laid.last else max(last, laid.last + more)
        return self._lay(first, last)

    def _further(self, laid: Layout, since: float) -> Layout:
        """A layout that goes on further."""
        recent = laid.hi - SEARCH_S
        if laid.last >= LAST_DAY or (recent > since and laid.upto(recent) == laid.reach):
            raise NeverOpens(_instant(since).astimezone(self._zone).date())
        return self._lay(laid.first, laid.last + _more(laid))

    def _lay(self, first: int, last: int) -> Layout:
        """Lay out the shifts of days `first` to `last` less one.

        Before the first plan there is nothing, so that a layout from there is good for all time
        before. The day before `first` is laid out too: its night shift reaches into `first`.
        """
        opened = self._plans[0].from_day.toordinal() if self._plans else LAST_DAY
        last = min(last, LAST_DAY)
        first = max(min(first, last), opened)
        lo = -math.inf if first <= opened else self._midnight(first)
        hi = self._midnight(last) if self._plans else math.inf
        shifts: list[Stretch] = []
        breaks: list[Stretch] = []
        for ordinal in range(max(first - 1, opened), last):
            day = date.fromordinal(ordinal)
            of_day = self._shifts(day)
            shifts += of_day
            breaks += self._breaks(day, of_day)
        self._laid = laid_out((first, last), (lo, hi), shifts, breaks)
        return self._laid

    def _ordinal(self, x: float) -> int:
        return datetime.fromtimestamp(x, self._zone).toordinal()

    def _midnight(self, ordinal: int) -> float:
        return at_zone(date.fromordinal(ordinal), MIDNIGHT, self._zone).timestamp()


def _more(laid: Layout) -> int:
    return max(FEWEST_DAYS, (laid.last - laid.first) // 2)


def _from_day(plan: WeekPlan) -> date:
    return plan.from_day


def _aware(at: datetime) -> datetime:
    if at.tzinfo is None:
        raise ValueError(f"an instant needs an offset: {at}")
    return at


def _epoch(at: datetime) -> float:
    return _aware(at).timestamp()


def _in_order(since: datetime, until: datetime) -> Stretch:
    start, end = _epoch(since), _epoch(until)
    if end < start:
        raise ValueError(f"{until} is before {since}")
    return start, end


def _instant(x: float) -> datetime:
    return datetime.fromtimestamp(x, UTC)


def _instants(stretches: Iterable[Stretch]) -> list[tuple[datetime, datetime]]:
    return [(_instant(start), _instant(end)) for start, end in stretches]
