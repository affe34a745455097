"""Kinds of event at the end of a job and in the months after."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from store.edges.events.base import Day, Event, JobNumber, Piece, Seq, Text


class AdviceAnswered(Event):
    """The customer's word on work that was advised."""

    kind = "advice-answered"
    job: JobNumber
    finding: Seq
    answer: Literal["declined", "later", "agreed"]
    risk_told: bool = False
    by: Text | None = None
    means: Text | None = None


class HandedOver(Event):
    """The vehicle went back to its owner."""

    kind = "handed-over"
    job: JobNumber
    to: Text | None = None
    """Who took it: the customer, or a word kept outside the ledger."""
    old_parts: Text | None = None
    """Returned to the customer, kept, or sent in for their surcharge."""
    fluids: list[Text] = []
    """By kind and litres."""
    faults_before: Text | None = None
    faults_after: Text | None = None
    run_in: Text | None = None
    """How the vehicle is to be driven at first."""
    warranty_months: Annotated[int, Field(ge=0, le=120)] | None = None
    warranty_distance: Annotated[float, Field(ge=0, le=1e7, allow_inf_nan=False)] | None = None
    """In the unit of the odometer."""
    kits: dict[str, Annotated[int, Field(ge=0)]] = {}
    """Pieces counted, by code of the kit."""
    missing: Text | None = None
    """Why fewer were counted than the work book lists."""
    photographs: Text | None = None


class FollowUpLine(Piece):
    """Something to be done in the months after, by a day, a distance, or whichever is first."""

    line: Annotated[int, Field(ge=1)]
    what: Text
    who: Text
    day: Day | None = None
    distance: Annotated[float, Field(ge=0, le=1e7, allow_inf_nan=False)] | None = None
    """On the odometer, in its unit."""
    since: Day
    """The local day from which it is counted."""
    counted_from: Literal["hand-over", "work", "receipt", "entry"] = "hand-over"


class FollowUpsSet(Event):
    """What follows a job."""

    kind = "follow-ups-set"
    job: JobNumber
    lines: Annotated[list[FollowUpLine], Field(min_length=1)]


class FollowUpMoved(Event):
    """A follow-up is for another day or distance."""

    kind = "follow-up-moved"
    job: JobNumber
    line: Annotated[int, Field(ge=1)]
    day: Day | None = None
    distance: Annotated[float, Field(ge=0, le=1e7, allow_inf_nan=False)] | None = None
    why: Text | None = None


class FollowUpDone(Event):
    """A follow-up was done, or is not to be done."""

    kind = "follow-up-done"
    job: JobNumber
    line: Annotated[int, Field(ge=1)]
    outcome: Text
    dropped: bool = False


class FollowUpTakenBack(Event):
    """What was said of a follow-up never was: it stands as it did before, or was never set."""

    kind = "follow-up-taken-back"
    job: JobNumber
    line: Annotated[int, Field(ge=1)]
    never_set: bool = False
