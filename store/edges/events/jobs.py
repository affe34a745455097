"""Kinds of event of a job from its opening to its closing: vehicle, customer, promise, place."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from store.edges.events.base import (
    Event,
    Id,
    JobNumber,
    Moment,
    PhaseNumber,
    Seq,
    Text,
    Vehicle_part,
)
from store.edges.events.route import StepRef


class VehicleKnown(Event):
    """A vehicle, or what is known of it now."""

    kind = "vehicle-known"
    vehicle: Id
    label: Text
    family: str
    vin: str | None = None
    plate: str | None = None
    engine: str | None = None
    gearbox: str | None = None
    mass_kg: Annotated[float, Field(gt=0, le=100_000, allow_inf_nan=False)] | None = None


class OdometerRead(Event):
    """Distance on a vehicle."""

    kind = "odometer-read"
    vehicle: Id
    value: Annotated[float, Field(ge=0, allow_inf_nan=False)]
    unit: Literal["km", "miles"]


class CustomerKnown(Event):
    """Somebody outside the shop, by a random id only."""

    kind = "customer-known"
    customer: Id


class CustomerErased(Event):
    """Name and telephone of a customer were erased."""

    kind = "customer-erased"
    customer: Id


class JobOpened(Event):
    """One visit of a vehicle."""

    kind = "job-opened"
    job: JobNumber
    vehicle: Id
    customer: Id | None = None
    small: bool
    work: Text
    operations: list[str]
    family: str
    options: dict[str, str]
    grade: Annotated[int, Field(ge=1, le=4)]
    version: int | None = None
    complaint: str | None = None
    state: Literal["enquiry", "booked", "arrived", "quoted", "waiting"]


class Promised(Event):
    """What the customer was told; None takes it back."""

    kind = "promised"
    job: JobNumber
    promise: Moment | None
    chance: Annotated[float, Field(gt=0, lt=1)] | None = None


class Placed(Event):
    """A vehicle's body, or a unit of it, stands at a place from now on (None: at none)."""

    kind = "placed"
    job: JobNumber
    part: Vehicle_part
    place: Id | None
    state: str
    """The job's state from now on."""
    voids: list[StepRef] = []
    takes_back: Seq | None = None
    """The `placed` event that never was."""
    unready: list[Text] = []
    """What it lacked when it came in all the same, on the foreman's word."""


class StateChanged(Event):
    """A job moves on in its life."""

    kind = "state-changed"
    job: JobNumber
    state: Literal[
        "enquiry", "booked", "arrived", "quoted", "waiting", "on-lift", "off-lift", "finished",
        "declined", "turned-away",
    ]  # fmt: skip
    why: str | None = None


class JobClosed(Event):
    """Done and handed over. `confirms`: clocks that count as confirmed by it."""

    kind = "job-closed"
    job: JobNumber
    confirms: list[Seq]


class JobNoted(Event):
    """Something to remember of a job, in somebody's own words."""

    kind = "job-noted"
    job: JobNumber
    text: Text


class JobNoteTakenBack(Event):
    """A note written by mistake."""

    kind = "job-note-taken-back"
    job: JobNumber
    noted: Seq


class NotTeaching(Event):
    """A job, or one of its phases, does not teach."""

    kind = "not-teaching"
    job: JobNumber
    phase: PhaseNumber | None = None
    why: Text
