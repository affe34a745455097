"""Kinds of event before a job goes on a lift: from the first call to the customer's word."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from store.edges.events.base import Day, Event, Id, JobNumber, Moment, PhaseNumber, Piece, Seq, Text
from store.edges.events.route import Figures

Money = Annotated[float, Field(ge=0, le=1e9, allow_inf_nan=False)]
"""Of the shop's currency."""
Basis = Literal["fixed price", "ceiling", "time"]


class CustomerOfJob(Event):
    """Whose vehicle it is; the ledger knows an id only."""

    kind = "customer-of-job"
    job: JobNumber
    customer: Id


class WorkChosen(Event):
    """What a job that is not agreed yet is to be about, from now on."""

    kind = "work-chosen"
    job: JobNumber
    vehicle: Id
    work: Text
    operations: list[str]
    family: str
    options: dict[str, str]
    version: int | None = None
    complaint: str | None = None


class ArrivalBooked(Event):
    """The vehicle is to come on a day."""

    kind = "arrival-booked"
    job: JobNumber
    day: Day
    note: Text | None = None
    deposit: Money | None = None


class Arrived(Event):
    """The vehicle is here."""

    kind = "arrived"
    job: JobNumber
    lamps: Text | None = None
    """Warning lamps and faults stored at arrival."""
    photographs: Text | None = None
    """Where the photographs round the car are kept."""


class CheckJudged(Event):
    """What the qualifying check came to; None: it is not judged after all."""

    kind = "check-judged"
    job: JobNumber
    result: Literal["pass", "pass with conditions", "fail"] | None
    text: Text | None = None
    """The conditions, or why it failed."""


class Quoted(Piece):
    """One way the work may go, with its hours and money."""

    text: Text
    operations: list[str]
    options: dict[str, str]
    hours: Figures
    labour: Money | None = None
    """Money of the middle hours at the shop's rate."""
    kits: Money | None = None
    parts: Money | None = None
    outwork: Money | None = None


class QuoteGiven(Event):
    """What the customer was told that it would take; `rough`: by voice, at the first call."""

    kind = "quote-given"
    job: JobNumber
    quote: Annotated[int, Field(ge=1)]
    rough: bool = False
    ways: Annotated[list[Quoted], Field(min_length=1)]
    """Both prices of a fork stand side by side; the first is what is planned."""
    basis: Basis | None = None
    ceiling: Money | None = None
    promise: Moment | None = None
    means: Text | None = None
    until: Day | None = None
    """The last day on which it holds."""
    extras: list[Text] = []
    """Neighbouring work that was offered with it."""


class QuoteAnswered(Event):
    """What became of a quote that was not agreed to; `open`: nothing, after all."""

    kind = "quote-answered"
    job: JobNumber
    quote: Annotated[int, Field(ge=1)]
    answer: Literal["declined", "thinking", "withdrawn", "open"]
    why: Text | None = None
    by: Text | None = None
    means: Text | None = None


class ComebackLinked(Event):
    """The vehicle returned with the same trouble."""

    kind = "comeback-linked"
    job: JobNumber
    of: Text
    """Number of the job it comes back from."""
    phase: PhaseNumber | None = None
    cause: Text
    fault: Literal["ours", "not ours", "not known yet"]
    pays: Literal["shop", "customer", "supplier"]


class CallTried(Event):
    """Somebody tried to reach the customer."""

    kind = "call-tried"
    job: JobNumber
    means: Text
    reached: bool
    text: Text | None = None
    again: Moment | None = None
    """When to try again."""


class CeilingSet(Event):
    """A new ceiling, with whose word it was."""

    kind = "ceiling-set"
    job: JobNumber
    ceiling: Money
    by: Text
    means: Text


class DeskTakenBack(Event):
    """An act at the desk that never was: a call, an answer, a booking."""

    kind = "desk-taken-back"
    job: JobNumber
    entry: Seq
