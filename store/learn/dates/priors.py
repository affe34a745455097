"""What a shop without a past is taken to be: common practice, no source, as the trade tells it.

A deep job's time on its lift is worked, held or waiting for a pair of hands. Holds by reason: their
share of the held hours, the middle length, and the length that one in ten exceeds, in open hours.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import NamedTuple

WORKED, HELD, WAITING = 0.38, 0.33, 0.29
"""Shares of the open hours that a job spends on its lift."""
TENTH = 1.2815515655446004
"""Standard deviations above the middle that one normal value in ten exceeds."""


class Held(NamedTuple):
    """Holds of one reason, as the trade tells of them."""

    share: float
    middle_h: float
    tenth_h: float

    @property
    def log_sd(self) -> float:
        """Of the log-normal length."""
        return math.log(self.tenth_h / self.middle_h) / TENTH

    @property
    def mean_h(self) -> float:
        """Of the log-normal length, open hours."""
        return self.middle_h * math.exp(self.log_sd**2 / 2)


HOLDS: Mapping[str, Held] = {
    "parts": Held(0.35, 7.0, 32.0),
    "approval": Held(0.22, 3.0, 16.0),
    "outwork": Held(0.16, 30.0, 70.0),
    "person": Held(0.12, 2.0, 10.0),
    "tool": Held(0.08, 8.0, 24.0),
    "reading": Held(0.04, 2.0, 8.0),
    "place": Held(0.03, 4.0, 16.0),
}
OTHER = "place"
"""A reason nobody foresaw is taken to last like this one, until its own lengths are seen."""

BEFORE, INSIDE, LATER = 0.9, 0.4, 0.08
"""Where holds fall: before a phase (each), inside one, on a later one (per labour hour), all as a
share of the holds of a labour hour."""


def held_per_labour_h(reason: str) -> float:
    """Open hours a job is held for a reason, per hour of labour."""
    return HELD / WORKED * HOLDS[reason].share


def holds_per_labour_h(reason: str) -> float:
    """Holds of a reason per hour of labour: the hours held, by the mean length."""
    return held_per_labour_h(reason) / HOLDS[reason].mean_h


ALL_HOLDS = sum(holds_per_labour_h(reason) for reason in HOLDS)
"""Per hour of labour."""
BEFORE_PHASE = BEFORE * ALL_HOLDS
INSIDE_H = INSIDE * ALL_HOLDS
LATER_H = LATER * ALL_HOLDS
MIX: Mapping[str, float] = {reason: holds_per_labour_h(reason) / ALL_HOLDS for reason in HOLDS}
"""Which reason a hold has."""

WAITING_H = WAITING / WORKED
"""Open hours a job waits for a pair of hands, per hour of labour."""
