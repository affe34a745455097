"""Days as people give them, as instants of the shop."""

from __future__ import annotations

from datetime import date, datetime, timedelta

from store.file.facts import calendar_of, day_bounds
from store.file.shop import Shop
from store.sums.working_time import Calendar
from store.trouble import Refused


def end_of_day(shop: Shop, day: date) -> datetime:
    """Return the end of the last shift of a day: what is said for a day is said by then.

    Raises:
        Refused: the shop is closed on that day.
    """
    with shop.reading() as db:
        return shift_end_on(calendar_of(db), day)


def shift_end_on(calendar: Calendar, day: date) -> datetime:
    """Return the end of the last shift of a day.

    Raises:
        Refused: the shop is closed on that day.
    """
    shifts = calendar.shifts_of(day)
    if shifts:
        return shifts[-1][1]
    opens = calendar.next_opening(day_bounds(day + timedelta(days=1), calendar.zone)[0])
    local = opens.astimezone(calendar.zone)
    raise Refused(
        f"The shop is closed on {day:%a} {day.day} {day:%b}: open again {local:%a} {local.day} "
        f"{local:%b}."
    )
