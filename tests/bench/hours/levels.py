"""Parameters of a simulated shop that are drawn when they are first asked for, and then stay."""

from __future__ import annotations

import math

import numpy as np

from store.learn.scores import Floats

MONTH = 30.44 * 86_400
YEARS = 16
"""No simulated shop has a longer history."""


def around(dice: np.random.Generator, middle: float, spread: float = 0.35) -> float:
    """A positive parameter: half of all shops have less than `middle`, few below a half of it."""
    return middle * math.exp(spread * float(dice.standard_normal()))


class Levels:
    """One normal number of mean 0 for each key."""

    def __init__(self, dice: np.random.Generator, sd: float) -> None:
        self._dice = dice.spawn(1)[0]
        self._sd = sd
        self._known: dict[tuple[str | int, ...], float] = {}

    def __call__(self, *key: str | int) -> float:
        if key not in self._known:
            self._known[key] = self._sd * float(self._dice.standard_normal())
        return self._known[key]


class Walks:
    """A random walk for each key: one step each `months`, of standard deviation `sd`."""

    def __init__(self, dice: np.random.Generator, sd: float, months: int, begin: float) -> None:
        self._dice = dice.spawn(1)[0]
        self._sd, self._months, self._begin = sd, months, begin
        self._known: dict[str, Floats] = {}

    def __call__(self, key: str, at: float) -> float:
        if self._sd == 0:
            return 0.0
        if key not in self._known:
            steps = self._sd * self._dice.standard_normal(12 * YEARS // self._months)
            self._known[key] = np.cumsum(steps)
        return float(self._known[key][int((at - self._begin) / (self._months * MONTH))])


class Jumps:
    """Steps at random dates, `per_year` on average, each of its own size; they stay."""

    def __init__(self, dice: np.random.Generator, sd: float, per_year: float, begin: float) -> None:
        count = int(dice.poisson(per_year * YEARS))
        self._dates = begin + np.sort(dice.uniform(0, YEARS, count)) * 12 * MONTH
        self._sizes = sd * dice.standard_normal(count)

    def __call__(self, at: float) -> float:
        """The sum of all steps so far."""
        return float(self._sizes[self._dates <= at].sum())
