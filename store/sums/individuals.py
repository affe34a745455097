"""Charts of individual values: what luck alone keeps within, and what it hardly does.

Sources: Shewhart, Economic Control of Quality of Manufactured Product (1931); ASTM E2587 and the
NIST/SEMATECH e-Handbook of Statistical Methods 6.3.2 for the moving range of two; Western Electric,
Statistical Quality Control Handbook (1956) for the rules of runs. d2 and d3 of two values follow
from the half-normal law: E|x - y| = 2 s / sqrt(pi), sd of it s sqrt(2 - 4 / pi).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from statistics import fmean
from typing import Literal

D2 = 2 / math.sqrt(math.pi)
D3 = math.sqrt(2 - 4 / math.pi)
SIGMAS = 3.0
ENOUGH_FOR_LIMITS = 8
"""Points from which limits are drawn: of fewer the moving range says too little of the spread."""
ENOUGH_FOR_RUNS = 20
"""Points from which the rules of runs are asked: each lets a false one through in some 1 of 100
points, which is too often for a chart of a few months."""

Rule = Literal["beyond", "two of three", "four of five", "eight on a side"]


@dataclass(frozen=True, slots=True)
class Limits:
    """Of a chart of individual values.

    Attributes:
        middle: mean of the values.
        low, high: three standard deviations below and above it.
        range_mean, range_high: of the chart of moving ranges.
    """

    middle: float
    low: float
    high: float
    range_mean: float
    range_high: float

    @property
    def sigma(self) -> float:
        """Standard deviation of one value, from the moving ranges."""
        return self.range_mean / D2


def moving_ranges(values: Sequence[float]) -> tuple[float, ...]:
    """Return |x2 - x1|, |x3 - x2| ..., one fewer than values."""
    return tuple(abs(later - before) for before, later in pairwise(values))


def limits(values: Sequence[float], d2: float = D2) -> Limits:
    """Return mean +- 3 MR / d2, and 0 to (1 + 3 d3 / d2) MR for the ranges (3.2665 MR).

    Args:
        values: two at least, in order.
        d2: printed tables round it to 1.128.

    Raises:
        ValueError: fewer than two values.
    """
    if len(values) < 2:
        raise ValueError("limits want two values at least")
    middle, spread = fmean(values), fmean(moving_ranges(values))
    reach = SIGMAS * spread / d2
    return Limits(middle, middle - reach, middle + reach, spread, spread * (1 + SIGMAS * D3 / D2))


def loud(values: Sequence[float], known: Limits) -> dict[int, Rule]:
    """Return which points luck hardly makes, each with the first rule that says so.

    Beyond three sigma always; two of three beyond two sigma, four of five beyond one, eight on one
    side of the middle, each on one side, from `ENOUGH_FOR_RUNS` points on. A run is told at the
    point that completes it.
    """
    scores = [_score(one, known) for one in values]
    found: dict[int, Rule] = {}
    for place in range(len(scores)):
        rule = _rule(scores[: place + 1], len(scores))
        if rule is not None:
            found[place] = rule
    return found


def _score(value: float, known: Limits) -> float:
    """Sigmas above the middle; nothing varies: any other value is beyond all."""
    apart = value - known.middle
    if known.sigma > 0:
        return apart / known.sigma
    return math.copysign(math.inf, apart) if apart else 0.0


def _rule(scores: Sequence[float], points: int) -> Rule | None:
    newest = scores[-1]
    if abs(newest) > SIGMAS:
        return "beyond"
    if points < ENOUGH_FOR_RUNS:
        return None
    side = math.copysign(1.0, newest)
    turned = [side * each for each in scores]
    runs: tuple[tuple[Rule, int, int, float], ...] = (
        ("two of three", 2, 3, 2.0), ("four of five", 4, 5, 1.0), ("eight on a side", 8, 8, 0.0),
    )  # fmt: skip
    for name, many, of, beyond in runs:
        if turned[-1] > beyond and sum(each > beyond for each in turned[-of:]) >= many:
            return name
    return None


@dataclass(frozen=True, slots=True)
class Cusum:
    """Sums of what is above and below a target, after each value.

    Attributes:
        up_since, down_since: for each value how many in a row its sum has been above 0: a change
            that is found at value i began after value i - since.
    """

    up: tuple[float, ...]
    down: tuple[float, ...]
    up_since: tuple[int, ...]
    down_since: tuple[int, ...]


def cusum(values: Sequence[float], target: float, slack: float) -> Cusum:
    """Return the tabular CUSUM: up = max(0, x - (target + slack) + up), down likewise.

    Source: Page, Biometrika 41 (1954) 100-115; Montgomery, Introduction to Statistical Quality
    Control, chapter 9.

    Args:
        slack: K, half of the shift that matters, in the unit of the values.
    """
    up, up_since = _summed([one - target - slack for one in values])
    down, down_since = _summed([target - slack - one for one in values])
    return Cusum(up, down, up_since, down_since)


def _summed(steps: Sequence[float]) -> tuple[tuple[float, ...], tuple[int, ...]]:
    sums: list[float] = []
    since: list[int] = []
    for step in steps:
        total = max(0.0, step + (sums[-1] if sums else 0.0))
        since.append((since[-1] if since else 0) + 1 if total > 0 else 0)
        sums.append(total)
    return tuple(sums), tuple(since)


@dataclass(frozen=True, slots=True)
class Smoothed:
    """One value of an EWMA chart, and how far luck takes it from the start either way."""

    value: float
    reach: float


def ewma(
    values: Sequence[float], start: float, sigma: float, weight: float, wide: float
) -> tuple[Smoothed, ...]:
    """Return z = weight x + (1 - weight) z before, with limits that widen as values come.

    reach = wide sigma sqrt(weight / (2 - weight) (1 - (1 - weight)^2t)). Source: Roberts,
    Technometrics 1 (1959) 239-250; NIST/SEMATECH e-Handbook 6.3.2.4.

    Raises:
        ValueError: the weight is not above 0 and at most 1.
    """
    if not 0 < weight <= 1:
        raise ValueError(f"{weight} is no weight")
    found: list[Smoothed] = []
    smooth = start
    for place, value in enumerate(values, 1):
        smooth += weight * (value - smooth)
        grown = 1 - (1 - weight) ** (2 * place)
        found.append(Smoothed(smooth, wide * sigma * math.sqrt(weight / (2 - weight) * grown)))
    return tuple(found)
