"""Kinds of event of the shop itself: how it is called, when it is open, what an hour costs."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field, JsonValue

from store.edges.events.base import Day, Event, Moment, Piece, Text, TimeOfDay


class Demo(Piece):
    """How an invented shop was made, and the instant at which its own clock starts."""

    seed: int
    months: int
    opens_at: Moment


class ShopFounded(Event):
    """The first event of every file. `shop` is the shop's own id."""

    kind = "shop-founded"
    shop: Annotated[str, Field(pattern=r"^[0-9a-f]{16,32}$")]
    name: Text
    zone: Text
    currency: Annotated[str, Field(pattern=r"^[A-Z]{3}$")]
    demo: Demo | None = None


class SettingChanged(Event):
    """A property of the shop that has no history of its own."""

    kind = "setting-changed"
    name: Text
    value: JsonValue
    why: str | None = None


class WeekSpan(Piece):
    """Part of a week plan; an end at or before the start is on the next day."""

    days: Annotated[list[Annotated[int, Field(ge=1, le=7)]], Field(min_length=1)]
    start: TimeOfDay
    end: TimeOfDay


class CalendarSet(Event):
    """The week plan from a local day on, until the next one."""

    kind = "calendar-set"
    from_day: Day
    shifts: list[WeekSpan]
    breaks: list[WeekSpan]


class HolidaySet(Event):
    """The shop is closed on that day."""

    kind = "holiday-set"
    day: Day
    name: Text


class HolidayCleared(Event):
    """The shop is open on that day after all."""

    kind = "holiday-cleared"
    day: Day


class RateSet(Event):
    """The price of an hour of labour, from a local day on."""

    kind = "rate-set"
    from_day: Day
    per_hour: Annotated[float, Field(ge=0, le=1e6, allow_inf_nan=False)]
