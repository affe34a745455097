"""Days of a hire: when a carrier comes, what a hand-over counts for, and open time as seconds."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta

from store.sums.spans import Layout, laid_out
from store.sums.working_time import Calendar, NeverOpens, at_zone

ONE = timedelta(days=1)
SATURDAY = WORKING_DAYS = 5
ABOUT = 30
"""Days before and after, by which a shop's way of opening is known."""
LONGEST_SHUT = 120
"""Days in a row without a working day, after which a shop is taken never to open again."""


class ShopDays:
    """The days on which a carrier comes to one shop: Monday to Friday where the shop is open.

    No carrier is counted on at a week-end, though a shop be open on Saturdays too. A shop that is
    open at week-ends alone must have one who comes then: there it is every open day. Common
    practice, no source.
    """

    def __init__(self, calendar: Calendar) -> None:
        """Keep the calendar; each day is looked at once."""
        self.calendar = calendar
        self._works: dict[date, bool] = {}

    def works(self, day: date) -> bool:
        """Whether a carrier comes that day."""
        known = self._works.get(day)
        if known is None:
            known = self._works[day] = self._open(day) and (
                day.weekday() < SATURDAY or not self._in_the_week(day)
            )
        return known

    def _open(self, day: date) -> bool:
        return bool(self.calendar.shifts_of(day))

    def _in_the_week(self, day: date) -> bool:
        """Whether the shop is open Monday to Friday about then; a holiday of weeks is no rule."""
        near = (day + timedelta(days=n) for n in range(-ABOUT, ABOUT + 1))
        return any(each.weekday() < SATURDAY and self._open(each) for each in near)

    def on_or_after(self, day: date) -> date:
        """The first working day from a day on.

        Raises:
            NeverOpens: there is none for `LONGEST_SHUT` days.
        """
        for ahead in range(LONGEST_SHUT):
            if self.works(found := day + timedelta(days=ahead)):
                return found
        raise NeverOpens(day)

    def after(self, day: date, working_days: int) -> date:
        """The working day that is so many (0 or more) after a day; at 0 `on_or_after`.

        Raises:
            NeverOpens: there is none for `LONGEST_SHUT` days.
        """
        if working_days == 0:
            return self.on_or_after(day)
        for _ in range(working_days):
            day = self.on_or_after(day + ONE)
        return day

    def between(self, first: date, last: date) -> list[date]:
        """The working days from one day to another, both of them taken in."""
        days = (first + timedelta(days=n) for n in range((last - first).days + 1))
        return [day for day in days if self.works(day)]

    def handed(self, at: datetime, cut_off: time) -> date:
        """The day that a hand-over counts for: after the cut-off, the next working day."""
        local = at.astimezone(self.calendar.zone)
        in_time = local.time() <= cut_off
        return self.on_or_after(local.date() if in_time else local.date() + ONE)

    def cut_off(self, day: date, cut_off: time) -> datetime:
        """The cut-off of a day as an instant (UTC): what is handed over by then counts for it."""
        return at_zone(day, cut_off, self.calendar.zone)

    def opens(self, day: date) -> datetime:
        """When the shop opens on a working day (UTC): a kit that comes that day is here then."""
        return self.calendar.shifts_of(day)[0][0]

    def shop_day_h(self, first: date) -> float:
        """Open hours of a shop day: the mean of the first five working days from one on."""
        days = [first := self.on_or_after(first)]
        days += [first := self.after(first, 1) for _ in range(WORKING_DAYS - 1)]
        shifts = [self.calendar.shifts_of(day) for day in days]
        return sum(self.calendar.working_h(each[0][0], each[-1][1]) for each in shifts) / len(days)

    def open_time(self, since: float, until: float) -> Layout:
        """Open time between two epoch seconds, counted from the first: one bisect a question."""
        zone = self.calendar.zone
        begin, end = datetime.fromtimestamp(since, zone), datetime.fromtimestamp(until, zone)
        spans = self.calendar.open_spans(begin, end)
        stretches = [(start.timestamp(), stop.timestamp()) for start, stop in spans]
        return laid_out((begin.toordinal(), end.toordinal() + 1), (since, until), stretches, ())
