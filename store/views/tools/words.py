"""Days, money and chances of kits in words."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime
from math import floor

from store.sums.working_time import Calendar

NAMED = 6
"""So many days ahead a day is called by its name alone."""


def money(amount: float) -> str:
    """Return `31`, `38.50`, `1,250`: an amount in the shop's money."""
    cents = round(amount * 100)
    return f"{cents // 100:,}" if cents % 100 == 0 else f"{cents / 100:,.2f}"


def whole(amount: float) -> str:
    """Return expected money to the unit: what is expected is not known to the cent."""
    return f"{round(amount):,}"


def tenths(chance: float) -> str:
    """Return `4 in 10`; `under 1 in 10`, `nearly sure` at the ends."""
    step = floor(round(chance * 10, 9) + 0.5)
    if step <= 0:
        return "under 1 in 10"
    return "nearly sure" if step >= 10 else f"{step} in 10"


def day(of: date, today: date) -> str:
    """Return `today`, `Thu`, `22 Oct`, and with the name of the day for what has been."""
    away = (of - today).days
    if away == 0:
        return "today"
    if 0 < away < NAMED:
        return f"{of:%a}"
    return f"{of:%a} {of.day} {of:%b}" if away < 0 else f"{of.day} {of:%b}"


def when(at: datetime, now: datetime, calendar: Calendar) -> str:
    """Return `today 16:00`, `Thu 08:00`, `22 Oct 12:00`."""
    return f"{day(calendar.day_of(at), calendar.day_of(now))} {clock(at, calendar)}"


def clock(at: datetime, calendar: Calendar) -> str:
    """Return `16:00` of the shop."""
    return f"{at.astimezone(calendar.zone):%H:%M}"


def counted(number: int, what: str) -> str:
    """Return `1 day`, `2 days`."""
    return f"{number} {what}" if number == 1 else f"{number} {what}s"


def listed(names: Sequence[str], last: str = "and") -> str:
    """Return `a, b and c`."""
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} {last} {names[-1]}"
