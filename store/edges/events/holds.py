"""Kinds of event of what holds a job up: holds, findings, the customer's word on extra work."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from store.edges.events.base import (
    Event,
    Hours,
    Id,
    JobNumber,
    Moment,
    PhaseNumber,
    Piece,
    Seq,
    Text,
)
from store.edges.events.route import Figures


class Held(Event):
    """A job, or one phase, cannot go on."""

    kind = "held"
    job: JobNumber
    phase: PhaseNumber | None
    reason: Literal["parts", "approval", "person", "tool", "reading", "place", "other"]
    expected: Moment | None = None
    next_move: str | None = None
    text: str | None = None


class HoldChanged(Event):
    """A new expected end or next move."""

    kind = "hold-changed"
    hold: Seq
    expected: Moment | None
    next_move: str | None


class Released(Event):
    """It can go on."""

    kind = "released"
    hold: Seq


class HoldTakenBack(Event):
    """A hold put on by mistake."""

    kind = "hold-taken-back"
    hold: Seq


class ReleaseTakenBack(Event):
    """A hold released by mistake runs on."""

    kind = "release-taken-back"
    hold: Seq


class Asked(Piece):
    """Extra work that waits for the customer's word."""

    line: Annotated[int, Field(ge=1)]
    text: Text
    hours: Hours
    money: Annotated[float, Field(ge=0, allow_inf_nan=False)] | None = None


class Found(Event):
    """What was discovered."""

    kind = "found"
    job: JobNumber
    phase: PhaseNumber
    person: Id
    finding: Literal["surprise", "route ends", "advice"]
    text: Text
    hours: Hours | None = None
    code: str | None = None
    asked: Asked | None = None


class FindingTakenBack(Event):
    """A finding reported by mistake, and its supplement line."""

    kind = "finding-taken-back"
    finding: Seq


class Raised(Piece):
    """A phase's estimate from now on."""

    phase: PhaseNumber
    estimate: Figures


class SupplementAnswered(Event):
    """The customer's word on extra work."""

    kind = "supplement-answered"
    job: JobNumber
    lines: Annotated[list[int], Field(min_length=1)]
    answer: Literal["approved", "refused"]
    by: str | None = None
    means: str | None = None
    raises: list[Raised] = []


class AnswerNoted(Event):
    """Who gave the word on extra work and how it came, said afterwards."""

    kind = "answer-noted"
    job: JobNumber
    lines: Annotated[list[int], Field(min_length=1)]
    by: str | None = None
    means: str | None = None


class AnswerTakenBack(Event):
    """The customer's word was written down wrongly: the lines wait for it again."""

    kind = "answer-taken-back"
    job: JobNumber
    lines: Annotated[list[int], Field(min_length=1)]
    raises: list[Raised] = []
    """Estimates of phases as they were before."""


class Undone(Event):
    """Somebody's own last entry, taken back by the events that follow."""

    kind = "undone"
    entry: Seq
    says: Text
