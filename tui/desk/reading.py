"""What people type at the desk, as values: an odometer, a mass, money, a day."""

from __future__ import annotations

import re
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from store.trouble import Refused
from tui.parts.when import number
from tui.words import DAYS, MONTHS, local

_ODOMETER = re.compile(r"([\d][\d .,']*?) ?(km|mi|miles)?", re.ASCII | re.IGNORECASE)
_MASS = re.compile(r"(\d+(?:[.,]\d+)?) ?(t|kg)?", re.ASCII | re.IGNORECASE)
LIGHTEST_KG, HEAVIEST_KG = 200.0, 60_000.0
_GROUPED = re.compile(r"\d{1,3}(?:[ .,']\d{3})+", re.ASCII)
_DAY_MONTH = re.compile(r"(\d{1,2})[. ]+([a-z]{3,9})", re.ASCII | re.IGNORECASE)

WEEK = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")


def odometer(text: str, unit: str) -> tuple[float, str] | None:
    """Distance and unit of `84200`, `84,200 km` or `52300 mi`; None where nothing was typed.

    Args:
        unit: where none was typed.

    Raises:
        Refused: it is no distance.
    """
    if not text:
        return None
    found = _ODOMETER.fullmatch(text.strip())
    if found is None:
        raise Refused(f"{text[:20]} is no distance. Type one like 84200, or 52300 mi.")
    digits = found[1].strip()
    if _GROUPED.fullmatch(digits):
        digits = re.sub(r"\D", "", digits)
    typed = (found[2] or "").lower()
    return number(digits), {"": unit, "miles": "mi"}.get(typed, typed)


def mass(text: str) -> float | None:
    """Gross mass in kg of `1.5 t`, `1500 kg` or `1500`; None where nothing was typed.

    Raises:
        Refused: it is no mass that a vehicle has.
    """
    if not text:
        return None
    found = _MASS.fullmatch(text.strip())
    if found is None:
        raise Refused(f"{text[:20]} is no mass. Type one like 1.5 t or 1500 kg.")
    value = number(found[1]) * (1000.0 if (found[2] or "").lower() == "t" else 1.0)
    if not LIGHTEST_KG <= value <= HEAVIEST_KG:
        raise Refused(f"{text[:20]} is no mass of a vehicle. Type one like 1.5 t or 1500 kg.")
    return value


def amount(text: str) -> float | None:
    """Money; None where nothing was typed.

    Raises:
        Refused: it is no amount.
    """
    if not text:
        return None
    plain = text.replace("'", "")
    if _GROUPED.fullmatch(plain):
        plain = re.sub(r"\D", "", plain)
    return number(plain, above=0.0)


def day_to_come(text: str, now: datetime, zone: ZoneInfo) -> date:
    """A day from today on: `thu`, `today`, `22 oct`, or 2026-10-22.

    Raises:
        Refused: it is no such day, or has been.
    """
    words = text.strip().lower()
    today = local(now, zone).date()
    found = _by_name(words, today) or _by_date(words, today)
    if found is None:
        raise Refused(
            f"{text[:20] or 'Nothing'} is no day. Type thu, tomorrow, 22 oct or 2026-10-22."
        )
    if found < today:
        raise Refused("That day has been. Type a later one.")
    return found


def _by_name(words: str, today: date) -> date | None:
    if words in ("today", "tomorrow"):
        return today + timedelta(days=words == "tomorrow")
    if len(words) < 2:
        return None
    wanted = next((n for n, day in enumerate(WEEK) if day.startswith(words)), None)
    return None if wanted is None else today + timedelta(days=(wanted - today.weekday()) % 7)


def _by_date(words: str, today: date) -> date | None:
    """A date, or day and month: those next to come."""
    try:
        return date.fromisoformat(words)
    except ValueError:
        pass
    found = _DAY_MONTH.fullmatch(words)
    if found is None:
        return None
    month = next((n for n, name in enumerate(MONTHS, 1) if found[2].startswith(name.lower())), None)
    if month is None:
        return None
    for year in (today.year, today.year + 1):
        try:
            at = date(year, month, int(found[1]))
        except ValueError:
            continue
        if at >= today:
            return at
    return None


def day_words(day: date, today: date) -> str:
    """`today`, `tomorrow`, `Thu`; `22 Oct` from six days off on, with the year from 300."""
    away = (day - today).days
    if away in (0, 1):
        return "tomorrow" if away else "today"
    if abs(away) < 6:
        return DAYS[day.weekday()]
    year = f" {day.year}" if abs(away) >= 300 else ""
    return f"{day.day} {MONTHS[day.month - 1]}{year}"
