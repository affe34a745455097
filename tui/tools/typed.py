"""Days, money and figures as people type them in the forms of kits."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date, datetime, time, tzinfo
from typing import Any, TypeVar

from store.file.facts import calendar_of
from store.file.shop import Shop
from store.sums.working_time import Calendar
from store.trouble import Refused
from store.views.parts_values import HireOut
from tui.desk.reading import day_to_come
from tui.parts.painted import Painted
from tui.parts.when import clock_of, coming, number
from tui.words import DAYS, zone_of

T = TypeVar("T")
DIGITS = 9
"""More than a number of pieces or days ever has."""
LIKE = "Like thu, tomorrow, 22 oct, or with its time: fri 10:00."


async def or_as_it_is(
    screen: Painted[Any], asked: tuple[str, str], read: Callable[[str], T], before: T, says: str,
    facts: Sequence[str] = (),
) -> T:  # fmt: skip
    """What is typed; Enter alone leaves it as it is, or takes what is proposed.

    Args:
        asked: title and label.
        before: what Enter takes; `says`: the same in words.
    """
    title, label = asked
    return await screen.talk.type(
        title, f"{label} (Enter: {says})", lambda text: read(text) if text else before, facts=facts
    )


def calendar_now(shop: Shop) -> Calendar:
    """The shop's calendar."""
    with shop.reading() as db:
        return calendar_of(db)


def back_by(screen: Painted[Any], text: str, cut_off: time | None) -> datetime:
    """When a hire goes back: a day is meant by the supplier's cut-off, else by the shop's end.

    Raises:
        Refused: it is no day, has been, or the shop is closed then.
    """
    at, day = _typed(screen, text)
    if at is not None:
        return at
    shifts = _shifts(screen, day)
    end = shifts[-1][1]
    zone, now = zone_of(screen.zone), screen.session.now()
    cut = datetime.combine(day, cut_off, zone) if cut_off is not None else end
    found = min(end, cut)
    if found <= now:
        raise Refused("That is too late for that day's carrier. Type a later day.")
    return found


def here_on(screen: Painted[Any], text: str) -> datetime:
    """When a hire comes: a day is meant by its opening, today by its end.

    Raises:
        Refused: it is no day, has been, or the shop is closed then.
    """
    at, day = _typed(screen, text)
    if at is not None:
        return at
    (opens, *_), now = _shifts(screen, day), screen.session.now()
    return opens[0] if opens[0] > now else _shifts(screen, day)[-1][1]


def _typed(screen: Painted[Any], text: str) -> tuple[datetime | None, date]:
    """An instant where a time was typed, else the day."""
    now, zone = screen.session.now(), zone_of(screen.zone)
    words = text.strip()
    if ":" in words or words.startswith("+"):
        at = _day_and_clock(words, now, zone) or coming(words, now, zone)
        return at, at.astimezone(zone).date()
    return None, day_to_come(words, now, zone)


def _day_and_clock(words: str, now: datetime, zone: tzinfo) -> datetime | None:
    """`22 oct 15:30`, which names no day of the week."""
    day, _, clock = words.rpartition(" ")
    if not day or not day[0].isdecimal() or "-" in day:
        return None
    hour, minute = clock_of(clock)
    found = day_to_come(day, now, zone_of(str(zone)))
    return datetime.combine(found, time(hour, minute), zone)


def _shifts(screen: Painted[Any], day: date) -> list[tuple[datetime, datetime]]:
    shifts = calendar_now(screen.session.shop).shifts_of(day)
    if not shifts:
        raise Refused(f"The shop is closed on {DAYS[day.weekday()]} {day.day}. Type another day.")
    return list(shifts)


def sum_of(text: str) -> float:
    """Money, 0 allowed.

    Raises:
        Refused: it is no amount.
    """
    found = number(text.replace("'", ""))
    if found < 0:
        raise Refused("An amount is 0 or more.")
    return found


def whole(text: str) -> int:
    """A whole number from 0 on.

    Raises:
        Refused: it is none.
    """
    typed = text.strip()
    if not typed.isdecimal() or len(typed) > DIGITS:
        raise Refused(f"{typed[:20] or 'Nothing'} is no whole number. Type one like 7.")
    return int(typed)


def maybe_sum(text: str) -> float | None:
    """The same; None where nothing was typed."""
    return sum_of(text) if text else None


def day_of(text: str) -> date:
    """A date of a certificate, the past allowed.

    Raises:
        Refused: it is no date.
    """
    try:
        return date.fromisoformat(text)
    except ValueError as error:
        raise Refused(f"{text[:20] or 'Nothing'} is no date. Type one like 2027-03-31.") from error


def cut_off_of(hire: HireOut) -> time | None:
    """Until when on a day the supplier's carrier takes it; None where nobody knows."""
    return hire.terms.house.cut_off if hire.terms is not None else None


async def sum_or(screen: Painted[Any], asked: tuple[str, str], before: float) -> float:
    """Money or a figure; Enter alone leaves it."""
    return await or_as_it_is(screen, asked, sum_of, before, f"{before:g}")
