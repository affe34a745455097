"""Kinds of event of work done before this file, read in from tables."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from store.edges.events.base import Event, Moment, PastHours, PastName, Piece, Seq, Text


class PastPhase(Piece):
    """One finished phase of a job that was not done in this file; hours of labour."""

    job: PastName
    seq: Seq
    template: PastName
    variant: PastName
    phase: PastName
    technician: PastName
    started: Moment
    closed: Moment
    book_h: PastHours
    actual_h: PastHours
    grade: Annotated[int, Field(ge=1, le=4)] | None = None
    phase_class: Literal["strip", "work", "refit"] | None = None
    people: Seq | None = None
    lumped_with: Seq | None = None
    cut_off: bool = False
    serves: list[PastName] = []
    surprise_h: Annotated[float, Field(ge=0, le=1e6, allow_inf_nan=False)] | None = None


class HistoryImported(Event):
    """Finished phases from outside, which teach; one file may take several events."""

    kind = "history-imported"
    source: Text
    """Name of the file."""
    part: Annotated[int, Field(ge=1)]
    parts: Annotated[int, Field(ge=1)]
    phases: Annotated[int, Field(ge=1)]
    """In all parts together."""
    rows: Annotated[list[PastPhase], Field(min_length=1, max_length=500)]


class HistoryTakenBack(Event):
    """What an import brought is gone again."""

    kind = "history-taken-back"
    imported: Seq
