"""The phases of a job, and what runs beside them: plain values."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from store.learn.records import PhaseClass

StepKind = Literal["labour", "standing", "outwork"]


@dataclass(frozen=True, slots=True)
class Step:
    """One phase of a job's route, with or without labour.

    Attributes:
        operation: it belongs to; what it teaches is pooled there.
        phase: its code, the same in every job of that operation.
        book_h: labour hours, or wall hours where the job stands; 0 where nobody said.
        firm: to which the outwork goes; empty where that is not known yet.
    """

    seq: int
    kind: StepKind
    operation: str
    phase: str
    phase_class: PhaseClass | None = None
    book_h: float = 0.0
    firm: str = ""


@dataclass(frozen=True, slots=True)
class Running:
    """A hold, a standing or an outwork that is not over.

    Attributes:
        seq: the phase that cannot go on before it ends.
        reason: of the hold; the firm of an outwork.
        began: POSIX seconds.
        said: the end that was said last, POSIX seconds; None where nobody said.
        said_at: when it was said; it counts from then.
    """

    seq: int
    kind: Literal["held", "standing", "outwork"]
    reason: str
    began: float
    said: float | None = None
    said_at: float | None = None
