"""Days on which a hired kit comes or goes back: working days, and not long ago or far ahead."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta

from store.actions.acting import Acting
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


def morning_after(calendar: Calendar, at: datetime, days: int) -> datetime:
    """Return the opening of the so-manieth working day after one; 0: the next opening.

    A kit comes on the morning of its day.
    """
    if days == 0:
        return calendar.next_opening(at)
    for _ in range(days):
        at = calendar.next_opening(_midnight_after(calendar, at))
    return at


def _midnight_after(calendar: Calendar, at: datetime) -> datetime:
    day = calendar.day_of(at) + timedelta(days=1)
    return datetime.combine(day, time(0), calendar.zone)


def counted_day(calendar: Calendar, at: datetime, cut_off: time) -> date:
    """Return the day for which a hand-over counts: after the cut-off it is the next working day."""
    local = at.astimezone(calendar.zone)
    if local.time() <= cut_off and calendar.shifts_of(local.date()):
        return local.date()
    return calendar.day_of(morning_after(calendar, at, 1))
