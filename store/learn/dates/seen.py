"""What one event of a job teaches: plain values between a stay and the sums."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from store.learn.dates.route import Step

WaitKind = Literal["inside", "between", "after", "leaving"]
"""Within a phase; before the next; after a hold, a standing or an outwork; before one of the last
two."""
Where = Literal["before", "inside", "later"]


@dataclass(frozen=True, slots=True)
class Begun:
    """A phase other than the job's first began: it could have been held before."""

    step: Step


@dataclass(frozen=True, slots=True)
class Worked:
    """Open hours with at least one clock on the job, from one reading to another."""

    step: Step
    since: float
    until: float


@dataclass(frozen=True, slots=True)
class Waited:
    """The job could go on and nobody was on it, from one reading to another; equal: no wait.

    `step` is the phase for which hands were wanted.
    """

    step: Step
    kind: WaitKind
    since: float
    until: float


@dataclass(frozen=True, slots=True)
class HoldBegan:
    """A hold of one kind; `rank`: how many phases ahead it lies, 1 the next, for a later one.

    `step` is the held phase, or for a later one the phase under way.
    """

    where: Where
    step: Step
    held: Step
    reason: str
    rank: int = 0


@dataclass(frozen=True, slots=True)
class HoldLasted:
    """Open hours, and those that were said at its start."""

    reason: str
    hours: float
    said_h: float | None


@dataclass(frozen=True, slots=True)
class AwayLasted:
    """A standing in wall hours, an outwork in open hours at a firm.

    `beside`: a phase further on was begun while it went on.
    """

    step: Step
    hours: float
    firm: str = ""
    beside: bool = False


@dataclass(frozen=True, slots=True)
class PhaseDone:
    """Open hours with a clock on a finished phase, and its labour."""

    step: Step
    hours: float
    labour_h: float


Seen = Begun | Worked | Waited | HoldBegan | HoldLasted | AwayLasted | PhaseDone
