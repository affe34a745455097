"""Kinds of event of lifts, benches, stands and yards."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from store.edges.events.base import Day, Event, Id, Text


class PlaceAdded(Event):
    """A lift, bench, stand or yard."""

    kind = "place-added"
    place: Id
    code: Annotated[str, Field(pattern=r"^[A-Za-z0-9-]{1,12}$")]
    place_kind: Literal["lift", "bench", "stand", "yard"]
    position: int
    lift_kind: str | None = None
    rated_kg: Annotated[float, Field(gt=0, le=100_000, allow_inf_nan=False)] | None = None


class LiftInspected(Event):
    """A competent person inspected it; the interval and its source are the shop's."""

    kind = "lift-inspected"
    place: Id
    day: Day
    months: Annotated[int, Field(ge=1, le=120)]
    source: Text
    by: Text


class LiftLookedOver(Event):
    """The daily look-over before use."""

    kind = "lift-looked-over"
    place: Id
    day: Day
    note: str | None = None


class LiftWithdrawn(Event):
    """Out of service, and why."""

    kind = "lift-withdrawn"
    place: Id
    reason: Text


class LiftReturned(Event):
    """In service again."""

    kind = "lift-returned"
    place: Id
