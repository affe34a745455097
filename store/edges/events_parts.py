"""Kinds of event that get a job ready: parts, hired kits, work done by other firms."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from store.edges.events import (
    Day,
    Event,
    Finite,
    Id,
    JobNumber,
    Moment,
    PhaseNumber,
    Piece,
    Text,
)
from store.edges.events_desk import Money

PartState = Literal["wanted", "ordered", "here", "wrong", "returned", "fitted", "not needed"]


class PartLine(Piece):
    """One part that a job needs. `renewed`: the work book says that it is renewed every time."""

    line: Annotated[int, Field(ge=1)]
    text: Text
    phase: PhaseNumber | None = None
    """For which phase it must be here; None for the job."""
    renewed: bool = False


class PartsListed(Event):
    """Parts that a job needs from now on."""

    kind = "parts-listed"
    job: JobNumber
    lines: Annotated[list[PartLine], Field(min_length=1)]


class PartsMoved(Event):
    """What became of parts: ordered, here, wrong, returned, fitted."""

    kind = "parts-moved"
    job: JobNumber
    lines: Annotated[list[int], Field(min_length=1)]
    state: PartState
    expected: Moment | None = None
    supplier: Text | None = None
    batch: Text | None = None
    """Batch or serial number, where it matters."""
    note: Text | None = None
    price: Money | None = None


class PartWas(Piece):
    """A line as it was before somebody's slip."""

    line: Annotated[int, Field(ge=1)]
    state: PartState
    expected: Moment | None = None
    supplier: Text | None = None
    batch: Text | None = None
    note: Text | None = None
    price: Money | None = None
    moved_at: Moment | None = None


class PartsTakenBack(Event):
    """Lines listed or moved by mistake. `gone`: they never were; `back`: as they are again."""

    kind = "parts-taken-back"
    job: JobNumber
    gone: list[int] = []
    back: list[PartWas] = []


class HireAsked(Event):
    """A kit was asked for at a supplier's."""

    kind = "hire-asked"
    hire: Id
    kit: Text
    """Its code."""
    supplier: Text
    job: JobNumber | None = None
    expected: Moment | None = None
    due: Moment | None = None
    """When it is to be handed to the carrier again."""


class HireReceived(Event):
    """A hired kit is here."""

    kind = "hire-received"
    hire: Id
    complete: bool = True
    note: Text | None = None
    """What lacks, where it is not complete."""
    due: Moment | None = None
    """When it is to be handed to the carrier again, where that is said only now."""


class HireExtended(Event):
    """A hired kit goes back on another day."""

    kind = "hire-extended"
    hire: Id
    due: Moment


class HireSentBack(Event):
    """A hired kit was handed to the carrier. `pieces`: counted before."""

    kind = "hire-sent-back"
    hire: Id
    complete: bool = True
    pieces: Annotated[int, Field(ge=0)] | None = None
    note: Text | None = None


class HireWas(Piece):
    """A hire as it was before somebody's slip."""

    due: Moment | None = None
    received_at: Moment | None = None
    complete: bool | None = None
    sent_at: Moment | None = None
    sent_complete: bool | None = None
    pieces: int | None = None
    note: Text | None = None


class HireTakenBack(Event):
    """An entry of a hire that never was. `was`: as it is again; None: the kit is not hired."""

    kind = "hire-taken-back"
    hire: Id
    kit: Text
    was: HireWas | None = None


class OutworkSent(Event):
    """A phase went to another firm."""

    kind = "outwork-sent"
    job: JobNumber
    phase: PhaseNumber
    what: Text
    firm: Text
    promised: Moment | None = None
    chase: Day | None = None
    price: Money | None = None


class OutworkChased(Event):
    """The firm was asked how far it is; what holds from then on is said in full."""

    kind = "outwork-chased"
    job: JobNumber
    phase: PhaseNumber
    said: Text | None = None
    promised: Moment | None = None
    chase: Day | None = None


class OutworkBack(Event):
    """What another firm did is here again, with its report."""

    kind = "outwork-back"
    job: JobNumber
    phase: PhaseNumber
    report: Text | None = None
    readings: dict[str, Finite] = {}
    price: Money | None = None
    """What it came to; None where that is not known yet."""
