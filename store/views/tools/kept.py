"""Sums about hires, kept while nothing they are made of changes: two looks work them out once.

Draws of a forecast are instants that stay until it is made anew or one of them has passed, so that
a screen that looks every second finds its sums here.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, time, timedelta
from functools import lru_cache

from store.sums.hires.days import ShopDays
from store.sums.hires.needs import Need, from_now
from store.sums.hires.ways import LongOrShort, Option, going_on, long_or_short
from store.sums.hires.window import Asked, Window, best_window, by_return_day
from store.sums.working_time import Calendar, at_zone

KEPT = 256
"""Sums of each kind: more than a floor of 24 lifts and 30 kits takes."""
STEP = timedelta(minutes=5)
"""What a look of these minutes finds holds for all of them."""


@lru_cache(maxsize=4)
def shop_days(calendar: Calendar) -> ShopDays:
    """Return the working days of a calendar."""
    return ShopDays(calendar)


def windows(asked: Asked, needs: Sequence[Need], first: date, now: datetime) -> Window:
    """As `sums.hires.window.best_window`, what has been waited already left out."""
    return _windows(asked, _ahead(needs, now), first)


def _ahead(needs: Sequence[Need], now: datetime) -> tuple[Need, ...]:
    moment = _floored(now).timestamp()
    return tuple(frozen(from_now(one, moment)) for one in needs)


def frozen(need: Need) -> Need:
    """Return the need with draws that can be looked up."""
    return Need(
        need.job, tuple(need.start), tuple(need.end), need.begun, need.captive, need.on_lift
    )


@lru_cache(maxsize=KEPT)
def _windows(asked: Asked, needs: tuple[Need, ...], first: date) -> Window:
    return best_window(asked, needs, first)


def long_short(asked: Asked, first: Need, second: Need, ready: date, now: datetime) -> LongOrShort:
    """As `sums.hires.ways.long_or_short`, what has been waited already left out."""
    return _long_short(asked, *_ahead((first, second), now), ready)


@lru_cache(maxsize=KEPT)
def _long_short(asked: Asked, first: Need, second: Need, ready: date) -> LongOrShort:
    return long_or_short(asked, first, second, ready)


def returns(
    asked: Asked, needs: Sequence[Need], came: datetime, now: datetime, due: date | None
) -> Window:
    """As `sums.hires.window.by_return_day`; whatever the time, on its side of the cut-off."""
    then = now if came > now else _side(asked, now)
    return _returns(asked, tuple(frozen(one) for one in needs), came, then, due)


@lru_cache(maxsize=KEPT)
def _returns(
    asked: Asked, needs: tuple[Need, ...], came: datetime, now: datetime, due: date | None
) -> Window:
    return by_return_day(asked, needs, came, now, due)


def _side(asked: Asked, now: datetime) -> datetime:
    """The cut-off of the day, or its end where that is over."""
    calendar = asked.days.calendar
    day = calendar.day_of(now)
    cut_off = asked.days.cut_off(day, asked.terms.house.cut_off)
    return cut_off if now <= cut_off else at_zone(day, time(23, 59, 59), calendar.zone)


def ways(
    asked: Asked, needs: Sequence[Need], came: datetime, now: datetime, due: date | None,
    other: Need | None,
) -> tuple[Option, ...]:  # fmt: skip
    """As `sums.hires.ways.going_on`."""
    return _ways(
        asked, tuple(frozen(one) for one in needs), came, max(came, _floored(now)), due,
        None if other is None else frozen(other),
    )  # fmt: skip


@lru_cache(maxsize=KEPT)
def _ways(
    asked: Asked, needs: tuple[Need, ...], came: datetime, now: datetime, due: date | None,
    other: Need | None,
) -> tuple[Option, ...]:  # fmt: skip
    return going_on(asked, needs, came, now, due=due, other=other)


def _floored(now: datetime) -> datetime:
    """The beginning of these minutes; a second later where a cut-off may lie on it."""
    past = (now - datetime.min.replace(tzinfo=now.tzinfo)) % STEP
    return now if past < timedelta(seconds=1) else now - past + timedelta(seconds=1)
