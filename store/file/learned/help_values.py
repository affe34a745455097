"""What one act would change, and what helps most: plain values, read without any array or model."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime

from store.file.learned.kept import Position, Spread

LEAST_GAIN, LEAST_LIFT_H = 0.10, 2.0
"""What is worth less is not worth a line: a tenth of a promise, lift hours."""


@dataclass(frozen=True, slots=True)
class Chance:
    """The chance that a promise is kept, before and after an act."""

    job: str
    before: float
    after: float


@dataclass(frozen=True, slots=True)
class Out:
    """Middle open hours until a job leaves its lift, before and after an act."""

    job: str
    before_h: float
    after_h: float


@dataclass(frozen=True, slots=True)
class Helped:
    """What one act would change.

    Attributes:
        gain: promises kept more, in expectation.
        lift_h: open hours of a lift that it saves, likely.
        chances: of promised jobs whose chance is other after it.
        outs: of jobs on lifts that would leave them at another time; what is cleared left out.
        refused_gain: the same as `gain` where the customer says no to extra work.
        after: finishes that would be other, by job: open hours from the moment it was asked.
            Only of the best acts, and only where they were read.
        told: they are kept.
    """

    act: str
    gain: float
    lift_h: float
    chances: tuple[Chance, ...] = ()
    outs: tuple[Out, ...] = ()
    refused_gain: float | None = None
    refused_chances: tuple[Chance, ...] = ()
    after: Mapping[str, Spread] = field(default_factory=dict[str, Spread])
    told: bool = False

    @property
    def worth(self) -> bool:
        """It is worth a line."""
        return self.gain >= LEAST_GAIN or self.lift_h >= LEAST_LIFT_H


@dataclass(frozen=True, slots=True)
class Help:
    """What helps most at one entry of the ledger.

    Attributes:
        made_at: open hours are counted from there.
        before: finishes as they are, of jobs that any of the acts would change.
        helped: acts, those that help most first.
    """

    at: Position
    made_at: datetime
    before: Mapping[str, Spread]
    helped: tuple[Helped, ...]
