"""Kinds of event of a job's route and of what it was estimated at."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from store.edges.events.base import (
    Event,
    Finite,
    Hours,
    JobNumber,
    PhaseNumber,
    Piece,
    Seq,
    StepNumber,
    Text,
)


class GradeSet(Event):
    """Condition at arrival, seen anew."""

    kind = "grade-set"
    job: JobNumber
    grade: Annotated[int, Field(ge=1, le=4)]


class RouteStep(Piece):
    """A step of a phase; its text stands in the work book's version."""

    step: StepNumber
    position: Finite
    code: str
    step_kind: Literal["step", "hold point", "decision"]
    signs: Annotated[int, Field(ge=1, le=2)]
    void_on_lift: bool = False
    blocks: list[str] = []
    """Phase codes and deeds, as they are called in this route."""


class Figures(Piece):
    """Hours of an estimate."""

    middle: Hours
    cautious: Hours
    mean: Hours


class RoutePhase(Piece):
    """A phase of a job."""

    phase: PhaseNumber
    position: Finite
    code: Text
    name: Text
    phase_kind: Literal["labour", "standing", "outwork"]
    phase_class: Literal["strip", "work", "refit"]
    after: Literal["drives", "rolls", "fixed", "as before"]
    book: tuple[Hours, Hours, Hours]
    estimate: Figures
    serves: list[str] = []
    kits: list[str] = []
    steps: list[RouteStep] = []


class Dropped(Piece):
    """A phase that falls away. `cut_off`: it had begun."""

    phase: PhaseNumber
    note: Text
    cut_off: bool = False


class Rated(Piece):
    """A phase whose book hours or kits are others beside the changed route."""

    phase: PhaseNumber
    book: tuple[Hours, Hours, Hours]
    estimate: Figures
    kits: list[str] = []


class AddedSteps(Piece):
    """Steps that join a phase already in the route."""

    phase: PhaseNumber
    steps: list[RouteStep]


class RouteChanged(Event):
    """Phases and steps that a job has from now on, and why."""

    kind = "route-changed"
    job: JobNumber
    cause: Text
    because: Seq | None = None
    """The event that brought it about."""
    options: dict[str, str]
    version: int | None = None
    added: list[RoutePhase] = []
    dropped: list[Dropped] = []
    restored: list[PhaseNumber] = []
    removed: list[PhaseNumber] = []
    """Phases added by mistake and never begun: taken back by their author."""
    rated: list[Rated] = []
    steps: list[AddedSteps] = []
    steps_removed: list[tuple[PhaseNumber, StepNumber]] = []
    """Steps that an answer now taken back had added, and nobody signed."""
    steps_gone: list[tuple[PhaseNumber, StepNumber]] = []
    """Steps that do not apply any more; their numbers are never used again."""
    steps_restored: list[tuple[PhaseNumber, StepNumber]] = []


class Forecast(Piece):
    """19 quantiles (.05 to .95) and the mean, hours."""

    mean: Hours
    quantiles: Annotated[list[Hours], Field(min_length=19, max_length=19)]


class AnsweredAhead(Piece):
    """The customer's word on what may turn up, given before it does."""

    about: Text
    answer: Text
    money: Annotated[float, Field(ge=0, allow_inf_nan=False)] | None = None


class EstimateAgreed(Event):
    """The customer's word: the estimate as it was then, kept for ever."""

    kind = "estimate-agreed"
    job: JobNumber
    basis: Literal["fixed price", "ceiling", "time"]
    ceiling: Annotated[float, Field(ge=0, allow_inf_nan=False)] | None = None
    money: Annotated[float, Field(ge=0, allow_inf_nan=False)] | None = None
    source: Text
    """What it came from: `book`, or the ledger position up to which had been learned."""
    phases: dict[str, Forecast]
    total: Forecast
    by: str | None = None
    """Who gave it: the customer, or a word kept outside the ledger (`PrivateWord`)."""
    means: str | None = None
    sources: dict[PhaseNumber, Text] = {}
    """Where each phase's hours come from, in plain words; empty: all of them from the book."""
    says: str | None = None
    """The same of the total."""
    quote: Annotated[int, Field(ge=1)] | None = None
    """Number of the quote that was agreed to."""
    left_out: list[Text] = []
    """What had been quoted and was not agreed."""
    ahead: list[AnsweredAhead] = []
    free_hand: Annotated[float, Field(ge=0, allow_inf_nan=False)] | None = None
    """Money up to which extra work needs no call."""
    check: bool = False
    """Only the qualifying check is sold by it, at its own price; the work is agreed later."""


class EstimateChanged(Event):
    """Hours of the whole job from now on, beside what was agreed."""

    kind = "estimate-changed"
    job: JobNumber
    middle: Hours
    cautious: Hours
    cause: Text


class StepRef(Piece):
    """A step of the same job."""

    phase: PhaseNumber
    step: StepNumber
