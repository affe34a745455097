"""Kinds of event of people: who works here, what they may, when they are there."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from store.edges.events.base import Badge, Day, Event, Experience, Id, Moment, Role, Seq, Text


class PersonAdded(Event):
    """Somebody works here from a day on."""

    kind = "person-added"
    person: Id
    badge: Badge
    name: Text
    role: Role
    experience: Experience
    from_day: Day
    until_day: Day | None = None


class PersonChanged(PersonAdded):
    """The same person, as they are from a day on; what they were before stays true of before."""

    kind = "person-changed"
    since: Day


class PinSet(Event):
    """A PIN was set; `check` is the SHA-256 of the row kept outside the ledger."""

    kind = "pin-set"
    person: Id
    check: Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]


class Qualified(Event):
    """A person holds a qualification up to and on a day."""

    kind = "qualified"
    person: Id
    what: Text
    until: Day


class AbsenceSet(Event):
    """A person is away."""

    kind = "absence-set"
    person: Id
    since: Moment
    until: Moment
    why: Text


class AttendanceCorrected(Event):
    """What a person's day was, where the calendar does not say it."""

    kind = "attendance-corrected"
    person: Id
    day: Day
    hours: Annotated[float, Field(ge=0, le=24, allow_inf_nan=False)]
    why: str | None = None


class DayConfirmed(Event):
    """The clocks of a person's day are as they say."""

    kind = "day-confirmed"
    person: Id
    day: Day
    clocks: list[Seq]
