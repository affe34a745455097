"""Times as people type them at a terminal, and numbers as gauges show them."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, timedelta
from math import isfinite
from zoneinfo import ZoneInfo

from store.edges.instants import BadInstant, parse_instant
from store.trouble import Refused
from tui.words import DAYS, local

_CLOCK = re.compile(r"(\d{1,2})[:.,h ]?(\d{2})", re.ASCII)
_DAY_CLOCK = re.compile(r"([a-z]{2,9})[ .]+(.+)", re.ASCII | re.IGNORECASE)
_NUMBER = re.compile(r"[+-]?(\d+([.,]\d*)?|[.,]\d+)", re.ASCII)
NIGHT_ENDS = 5
"""Who stops before five in the morning worked through midnight."""


def clock_of(text: str) -> tuple[int, int]:
    """Hour and minute of `14:05`, `14.05` or `1405`.

    Raises:
        Refused: it is no time of day.
    """
    found = _CLOCK.fullmatch(text.strip())
    hour, minute = (int(found[1]), int(found[2])) if found else (24, 0)
    if hour > 23 or minute > 59:
        raise Refused(f"{text[:20] or 'Nothing'} is no time of day. Type one like 14:05 or 1405.")
    return hour, minute


def _on(day: date, clock: tuple[int, int], zone: ZoneInfo) -> datetime:
    text = f"{day.isoformat()}T{clock[0]:02d}:{clock[1]:02d}"
    try:
        return parse_instant(text, zone)
    except BadInstant as error:
        raise Refused(f"{error}") from error


def stopped_at(text: str, since: datetime, now: datetime, zone: ZoneInfo) -> datetime:
    """When somebody stopped a clock that began at `since`, from a time of day.

    Raises:
        Refused: it is no time of day, before the clock began, or has not come yet.
    """
    clock, began = clock_of(text), local(since, zone)
    at = _on(began.date(), clock, zone)
    if at < since and clock[0] < NIGHT_ENDS:
        at = _on(began.date() + timedelta(days=1), clock, zone)
    if at < since:
        raise Refused(f"The clock began at {began:%H:%M}. Type a later time, or Esc for later.")
    if at > now:
        raise Refused(f"It is {local(now, zone):%H:%M} now. Type a time that has been.")
    return at


def inside(text: str, since: datetime, until: datetime, zone: ZoneInfo) -> datetime:
    """A time of day between two instants.

    Raises:
        Refused: it is no time of day, or lies outside.
    """
    clock, began = clock_of(text), local(since, zone)
    days = (began.date() + timedelta(days=ahead) for ahead in (0, 1))
    found = next((at for day in days if since < (at := _on(day, clock, zone)) < until), None)
    if found is None:
        span = f"{began:%H:%M} and {local(until, zone):%H:%M}"
        raise Refused(f"{text[:20]} is outside that clock. Type a time between {span}.")
    return found


def coming(text: str, now: datetime, zone: ZoneInfo) -> datetime:
    """An instant that is still to come: `14:00`, `fri 10:00`, `+2.5` hours, or date and time.

    Raises:
        Refused: it is no such text, or has been.
    """
    words = text.strip().lower()
    if words.startswith("+"):
        return now + timedelta(hours=number(words[1:].removesuffix("h"), above=0.0))
    named = _DAY_CLOCK.fullmatch(words)
    if named:
        return _weekday(named[1], clock_of(named[2]), now, zone)
    if _CLOCK.fullmatch(words):
        today = local(now, zone).date()
        at = _on(today, clock_of(words), zone)
        return at if at > now else _on(today + timedelta(days=1), clock_of(words), zone)
    try:
        at = parse_instant(text, zone)
    except BadInstant as error:
        if "-" in words:  # somebody meant a date: what is wrong with it is worth knowing
            raise Refused(f"{error}") from error
        raise Refused(
            f"{text[:20] or 'Nothing'} is no time. Type 14:00, fri 10:00, +2 for two hours, "
            "or 2026-10-14 10:40."
        ) from None
    if at <= now.astimezone(UTC):
        raise Refused("That time has been. Type a later one.")
    return at


def _weekday(word: str, clock: tuple[int, int], now: datetime, zone: ZoneInfo) -> datetime:
    today = local(now, zone).date()
    if word in ("today", "tomorrow"):
        return _on(today + timedelta(days=1 if word == "tomorrow" else 0), clock, zone)
    wanted = next((n for n, day in enumerate(DAYS) if word.startswith(day.lower())), None)
    if wanted is None:
        raise Refused(f"{word} is no day. Type mon, tue, wed, thu, fri, sat or sun, then the time.")
    ahead = (wanted - today.weekday()) % 7
    at = _on(today + timedelta(days=ahead), clock, zone)
    return at if at > now else _on(today + timedelta(days=ahead + 7), clock, zone)


def number(text: str, *, above: float | None = None) -> float:
    """A number with a point or a comma.

    Args:
        above: it must be more than that.

    Raises:
        Refused: it is no number, or not above.
    """
    words = text.strip().replace(" ", "")
    value = float(words.replace(",", ".")) if _NUMBER.fullmatch(words) else float("nan")
    if not isfinite(value):
        raise Refused(f"{text[:20] or 'Nothing'} is no number. Type one like 0.15.")
    if above is not None and value <= above:
        raise Refused(f"{text[:20]} is too little. Type a number above {above:g}.")
    return value


def some(text: str) -> str:
    """A text that is not empty.

    Raises:
        Refused: nothing was typed.
    """
    if not text:
        raise Refused("Nothing was typed. Type a few words, or Esc goes back.")
    return text


def maybe(text: str) -> str | None:
    """A text, or None where nothing was typed."""
    return text or None
