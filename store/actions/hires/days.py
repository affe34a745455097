"""Days on which a hired kit comes or goes back: working days, and not long ago or far ahead."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta

from store.actions.acting import Acting
from store.sums.hires.days import ShopDays
from store.sums.working_time import Calendar
from store.trouble import Refused

LONGEST = timedelta(days=366)
"""A kit that is wanted for longer is bought; a day further ahead is a slip of the fingers."""


def day_words(doing: Acting, at: datetime) -> str:
    """Return `Thu 15 Oct` of the shop."""
    local = at.astimezone(doing.calendar.zone)
    return f"{local:%a} {local.day} {local:%b}"


def check_day(doing: Acting, at: datetime | None, begins: str) -> None:
    """Refuse a day that has been, lies far ahead, or on which the shop is closed."""
    if at is None:
        return
    if at <= doing.at:
        raise Refused(f"{begins} in the past: give a later day.")
    if at > doing.at + LONGEST:
        raise Refused(f"{begins} more than a year ahead: check the year.")
    if not doing.calendar.shifts_of(doing.calendar.day_of(at)):
        opens = day_words(doing, doing.calendar.next_opening(at))
        raise Refused(
            f"{begins} on {day_words(doing, at)}, and the shop is closed then: open again {opens}."
        )


def check_due(doing: Acting, due: datetime | None) -> None:
    """Refuse a day on which a kit cannot go back: as `check_day`, or no carrier comes."""
    check_day(doing, due, "It goes back")
    if due is None:
        return
    days, day = ShopDays(doing.calendar), doing.calendar.day_of(due)
    if not days.works(day):
        comes = day_words(doing, days.opens(days.on_or_after(day)))
        raise Refused(
            f"It goes back on {day_words(doing, due)}, and no carrier comes then: the next comes "
            f"{comes}. Give that day, or an earlier one."
        )


def comes_after(calendar: Calendar, at: datetime, lead_days: int) -> datetime:
    """Return when a kit is here that takes so many of the carrier's days: the morning of its day;
    where it takes none, at once, or at the next opening."""
    days = ShopDays(calendar)
    opens = days.opens(days.after(calendar.day_of(at), lead_days))
    return calendar.next_opening(max(opens, at))


def counted_day(calendar: Calendar, at: datetime, cut_off: time) -> date:
    """Return the day for which a hand-over counts: see `ShopDays.handed`."""
    return ShopDays(calendar).handed(at, cut_off)
