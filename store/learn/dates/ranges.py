"""The shop's own record of its ranges: they widen where they held too seldom."""

from __future__ import annotations

import math
from dataclasses import dataclass

SHARE = 0.8
ROW = 0.3
"""What one forecast counts: those of one job mostly agree."""
STEP = 0.9375
"""By how much one that missed widens; four that held narrow as much."""
WORTH = 60.0


@dataclass(slots=True)
class Ranges:
    """Sum of steps and of rows."""

    steps: float = 0.0
    rows: float = 0.0

    def learn(self, low: float, high: float, came: float) -> None:
        """Judge the 80 % range of one forecast by what came."""
        held = low <= came <= high
        self.steps += ROW * STEP * (SHARE - 1 if held else SHARE)
        self.rows += ROW

    def stretch(self) -> float:
        """Power to which each draw's ratio to the median is to be raised, about 1."""
        return math.exp(self.steps / (self.rows + WORTH))
