"""What the owner sets: calendar, holidays, rates, settings. Last year's figures never move."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from store.actions.acting import Acting, Done, acting
from store.actions.customers import erase_customer
from store.edges.events.shop import (
    CalendarSet,
    HolidayCleared,
    HolidaySet,
    RateSet,
    SettingChanged,
    WeekSpan,
)
from store.file.change import By
from store.file.facts import DEFAULTS, calendar_of
from store.file.shop import Shop
from store.trouble import Refused

__all__ = [
    "change_setting", "clear_holiday", "erase_customer", "set_calendar", "set_holiday", "set_rate",
]  # fmt: skip

MOST = 1_000_000
"""No setting is a larger number."""


def set_calendar(
    shop: Shop,
    by: By,
    *,
    shifts: Sequence[WeekSpan],
    breaks: Sequence[WeekSpan],
    from_day: date | None = None,
) -> Done:
    """Set the week plan from a day on.

    Args:
        from_day: today or later; None is today.

    Raises:
        Refused: the day is past, since that would move hours already worked; no shift at all.
    """
    with acting(shop, by, "set calendar") as doing:
        day = _not_past(doing, from_day)
        if not shifts:
            raise Refused('A shop has shifts: --shift "mon-fri 07:30-16:30".')
        doing.record(CalendarSet(from_day=day, shifts=list(shifts), breaks=list(breaks)))
        return doing.done(f"The calendar holds from {day} on.")


def _not_past(doing: Acting, day: date | None) -> str:
    today = calendar_of(doing.db).day_of(doing.now)
    if day is not None and day < today:
        raise Refused("That day is past, and its figures stay. Give today or a later day.")
    return (day or today).isoformat()


def set_holiday(shop: Shop, by: By, *, day: date, name: str) -> Done:
    """Close the shop on a day.

    Raises:
        Refused: the day is past.
    """
    with acting(shop, by, "set calendar") as doing:
        doing.record(HolidaySet(day=_not_past(doing, day), name=name))
        return doing.done(f"The shop is closed on {day}: {name}.")


def clear_holiday(shop: Shop, by: By, *, day: date) -> Done:
    """Open the shop on a holiday after all.

    Raises:
        Refused: the day is past, or is no holiday.
    """
    with acting(shop, by, "set calendar") as doing:
        text = _not_past(doing, day)
        if not doing.db.execute("select 1 from holiday where day = ?", [text]).fetchone():
            raise Refused(f"{day} is no holiday.")
        doing.record(HolidayCleared(day=text))
        return doing.done(f"The shop is open on {day}.")


def set_rate(shop: Shop, by: By, *, per_hour: float, from_day: date | None = None) -> Done:
    """Set the price of an hour of labour from a day on.

    Raises:
        Refused: the day is past, or the price is negative.
    """
    with acting(shop, by, "set rate") as doing:
        if not 0 <= per_hour <= 1e6:
            raise Refused("The price of an hour is 0 or more.")
        day = _not_past(doing, from_day)
        doing.record(RateSet(from_day=day, per_hour=per_hour))
        return doing.done(f"An hour costs {per_hour:.2f} from {day} on.")


def change_setting(shop: Shop, by: By, *, name: str, value: float | bool | str) -> Done:
    """Change one of the shop's settings.

    Raises:
        Refused: no such setting, or a value of another kind.
    """
    with acting(shop, by, "change setting") as doing:
        if name not in DEFAULTS or isinstance(DEFAULTS[name], list):
            names = ", ".join(sorted(k for k, v in DEFAULTS.items() if not isinstance(v, list)))
            raise Refused(f"There is no setting {name}. There are: {names}.")
        _refuse_value(name, value)
        whole = isinstance(DEFAULTS[name], int) and not isinstance(value, (bool, str))
        doing.record(SettingChanged(name=name, value=int(value) if whole else value))
        return doing.done(f"{name} is {value} now.")


def _refuse_value(name: str, value: float | bool | str) -> None:
    there = DEFAULTS[name]
    if isinstance(there, bool) != isinstance(value, bool) or isinstance(value, str):
        raise Refused(f"{name} takes {'yes or no' if isinstance(there, bool) else 'a number'}.")
    if name == "cautious" and not 0.5 < value < 0.99:
        raise Refused("The cautious figure is a chance between 0.5 and 0.99.")
    if isinstance(there, bool):
        return
    if not 0 < value <= MOST:
        raise Refused(f"{name} is more than 0 and at most {MOST:,}.")
    if isinstance(there, int) and value != int(value):
        raise Refused(f"{name} is a whole number.")
