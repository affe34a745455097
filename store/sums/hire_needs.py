"""Stretches of jobs that need a kit, in joint draws: draw k of every one is the same dice."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

NOT = math.inf
"""Start and end of a stretch in a draw in which the job does not need the kit."""


@dataclass(frozen=True, slots=True)
class Need:
    """A stretch of phases of one job that needs a kit.

    Attributes:
        job: its number.
        start, end: (draws,) epoch seconds, end not before start; `NOT` in both where the route
            goes another way in that draw.
        begun: the kit is in use there now.
        captive: fixed on the open unit from the first phase to the last.
        on_lift: a lift waits where the job waits.

    Raises:
        ValueError: the draws do not fit each other.
    """

    job: str
    start: Sequence[float]
    end: Sequence[float]
    begun: bool = False
    captive: bool = False
    on_lift: bool = True

    def __post_init__(self) -> None:
        if not self.start or len(self.start) != len(self.end):
            raise ValueError(f"{len(self.start)} starts and {len(self.end)} ends are no draws")
        if any(not start <= end for start, end in zip(self.start, self.end, strict=True)):
            raise ValueError(f"the need of {self.job} ends before it starts in a draw")

    @property
    def fixed(self) -> bool:
        """It is on an open unit now: no swap, no sending back."""
        return self.begun and self.captive
