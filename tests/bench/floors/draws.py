"""Draws of which shops are made: ranges, shares that add up, lumps of one."""

from __future__ import annotations

import math
import random
from collections.abc import Sequence
from dataclasses import dataclass

Range = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Dice:
    """A source of draws for parameters."""

    rng: random.Random

    def of(self, span: Range) -> float:
        """Even between two values."""
        return self.rng.uniform(*span)

    def whole(self, span: Range) -> int:
        """A whole number, ends included."""
        return self.rng.randint(int(span[0]), int(span[1]))

    def about(self, sd: float) -> float:
        """A factor around 1, log-normal with mean 1."""
        return self.rng.lognormvariate(-sd * sd / 2, sd)

    def shares(self, usual: Sequence[float], worth: float) -> list[float]:
        """Shares around the usual ones (Dirichlet), none at 0; the more worth, the nearer."""
        total = sum(usual)
        drawn = [self.rng.gammavariate(worth * one / total, 1) + 1e-3 for one in usual]
        return [one / sum(drawn) for one in drawn]

    def count(self, mean: float) -> int:
        """A Poisson count, for small means."""
        left, n = math.exp(-mean), 0
        product = self.rng.random()
        while product > left:
            product *= self.rng.random()
            n += 1
        return n
