"""Kinds of event that get a job ready: parts, work done by other firms."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from store.edges.events.base import Day, Event, Finite, JobNumber, Moment, PhaseNumber, Piece, Text
from store.edges.events.desk import Money

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
