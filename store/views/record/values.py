"""The record of a job as the vehicle's owner gets it: frozen values, instants in UTC."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Literal

from store.views.desk.values import Comeback
from store.views.follow_ups import FollowUp

Became = Literal["done", "left out", "not done yet"]
Answered = Literal["agreed", "refused", "not answered yet"]


@dataclass(frozen=True, slots=True)
class RecordVehicle:
    """Which vehicle it was, and how far it had come."""

    label: str
    vin: str | None
    plate: str | None
    engine: str | None
    gearbox: str | None
    odometer_in: tuple[float, str] | None
    odometer_out: tuple[float, str] | None


@dataclass(frozen=True, slots=True)
class Agreed:
    """The customer's word on a price. `money` only where hours and money were asked for."""

    at: datetime
    by: str | None
    means: str | None
    basis: str
    ceiling: float | None
    free_hand: float | None
    money: float | None
    left_out: tuple[str, ...]
    ahead: tuple[tuple[str, str, float | None], ...]
    check: bool = False
    """Only the check before the work was agreed by it."""


@dataclass(frozen=True, slots=True)
class ExtraWork:
    """Work that nobody had quoted, and the answer to it."""

    text: str
    asked_at: datetime
    answer: Answered
    answered_at: datetime | None
    by: str | None
    means: str | None
    money: float | None


@dataclass(frozen=True, slots=True)
class WorkDone:
    """One stretch of the work. `became`: done, left out, or not done yet; `note` says why."""

    number: str
    name: str
    became: Became
    at: datetime | None
    people: tuple[str, ...]
    note: str | None
    hours: float | None


@dataclass(frozen=True, slots=True)
class WayTaken:
    """Something that decided which way the work went."""

    at: datetime
    who: str
    text: str
    became: str


@dataclass(frozen=True, slots=True)
class Value:
    """One thing measured, with what was allowed and where that comes from.

    Attributes:
        places: where it was taken and what was found there; one place without a name where it was
            taken once.
    """

    name: str
    places: tuple[tuple[str, float], ...]
    unit: str
    allowed: str
    source: str


@dataclass(frozen=True, slots=True)
class PointSigned:
    """One name under a point.

    Attributes:
        as_is: why a value outside its limits was let stand.
        void_why: why the name counts no more; None where it does.
    """

    who: str
    at: datetime
    values: tuple[Value, ...]
    answer: str | None
    in_limits: bool
    as_is: str | None
    void: bool
    void_why: str | None


@dataclass(frozen=True, slots=True)
class Point:
    """Something that had to be signed before the work went on."""

    at: str
    phase: str
    text: str
    kind: str
    done: bool
    signed: tuple[PointSigned, ...]


@dataclass(frozen=True, slots=True)
class PartUsed:
    """A part, with its batch or serial number where that matters."""

    text: str
    became: str
    batch: str | None
    supplier: str | None
    always: bool


@dataclass(frozen=True, slots=True)
class Outwork:
    """What another firm did, and what it reported."""

    what: str
    firm: str
    sent_at: datetime
    back_at: datetime | None
    report: str | None
    readings: tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True)
class Advice:
    """What was recommended, and the answer to it."""

    text: str
    at: datetime
    who: str
    answer: str
    answered_at: datetime | None
    by: str | None
    means: str | None
    risk_told: bool


@dataclass(frozen=True, slots=True)
class Handed:
    """How the vehicle went back.

    Attributes:
        kits: name, pieces counted and pieces listed of each tool kit.
        warranty_until: local day; `warranty_to` on the odometer, in its unit.
    """

    at: datetime
    by: str
    to: str | None
    old_parts: str | None
    fluids: tuple[str, ...]
    faults_before: str | None
    faults_after: str | None
    run_in: str | None
    warranty_until: date | None
    warranty_distance: float | None
    kits: tuple[tuple[str, int, int], ...]
    missing: str | None
    photographs: str | None


@dataclass(frozen=True, slots=True)
class Checked:
    """What a check came to: the qualifying check, or the last one before the hand-over."""

    text: str
    at: datetime | None
    who: tuple[str, ...]
    note: str | None = None


@dataclass(frozen=True, slots=True)
class Record:
    """All that goes with the vehicle, in the order in which it is read.

    Attributes:
        came, went: when it came, and when it was handed over or closed.
        open: what keeps the job from being handed over; () where it is.
        labour_h: of the whole job; None unless hours and money were asked for.
        book: version of the work book that limits come from; None for a small job.
    """

    shop: str
    job: str
    at: datetime = field(compare=False)
    zone: str
    currency: str
    state: str
    work: str
    came: datetime
    went: datetime | None
    vehicle: RecordVehicle
    grade: int
    customer: str | None
    complaint: str | None
    lamps: str | None
    check: Checked | None
    agreed: tuple[Agreed, ...]
    extras: tuple[ExtraWork, ...]
    done: tuple[WorkDone, ...]
    ways: tuple[WayTaken, ...]
    points: tuple[Point, ...]
    parts: tuple[PartUsed, ...]
    outwork: tuple[Outwork, ...]
    advice: tuple[Advice, ...]
    handed: Handed | None
    follow_ups: tuple[FollowUp, ...]
    last_check: Checked | None
    comeback_of: Comeback | None
    comebacks: tuple[Comeback, ...]
    open: tuple[str, ...]
    labour_h: float | None
    book: int | None
