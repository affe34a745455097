"""Neighbouring phases whose split cannot be believed, though their sum can.

Nobody changes the clock at the boundary of two phases: one of them gets nearly nothing, the other
what both took. The sum is true and teaches; the split would teach two falsehoods.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from scipy.special import logsumexp

from store.learn.arrays import Floats
from store.learn.labour.sites import Kinds

ODDS = 0.02
"""Of a neighbour clocked on the same clock, beforehand. Common practice says 1 clock in 10 runs on
over a boundary; most of those move a few minutes only, which nobody could tell. No source."""
LEAST_LOG = 0.9
"""A split is doubted only where one phase is short, the other long, by so much between them."""
SPLIT_WIDTH = 5.0
"""Range of the log of a lump's split, taken as equally likely throughout."""


@dataclass(frozen=True, slots=True)
class Pair:
    """Two neighbouring phases of one job by the same hands, as rows of the past."""

    one: int
    other: int


def log_odds(
    y: Floats, mean: Floats, variance: Floats, kinds: Kinds, share: Floats, sum_y: float
) -> float:
    """Return ln of the odds that two phases were clocked as one.

    Args:
        y, mean, variance: (2,) logs of hours per book hour, and what others say of them, each left
            out of its own prediction.
        kinds: of the two records.
        share: (2,) of both phases' book hours.
        sum_y: ln of the sum's hours per book hour.
    """
    d = y[:, None] - mean[:, None] - kinds.shift
    total = variance[:, None] + kinds.variance
    with np.errstate(divide="ignore"):
        each = np.log(kinds.odds) - 0.5 * np.log(2 * math.pi * total) - 0.5 * d**2 / total
    apart = float(logsumexp(each, axis=1).sum())
    together_mean = float(np.log((share * np.exp(mean)).sum()))
    weight = share * np.exp(mean - together_mean)
    spread = float(weight @ (variance + kinds.variance[:, 0] * weight))
    sum_d = sum_y - together_mean
    lumped = -0.5 * math.log(2 * math.pi * spread) - 0.5 * sum_d**2 / spread
    lumped -= math.log(SPLIT_WIDTH)
    return math.log(ODDS / (1 - ODDS)) + lumped - apart


def is_doubtful(y: Floats, mean: Floats) -> bool:
    """Tell whether one of two phases is short and the other long, by enough to ask."""
    d = y - mean
    return bool(d.min() < -LEAST_LOG / 2 and d.max() > 0 and d.max() - d.min() > LEAST_LOG)


def neighbours(rows: Iterable[tuple[int, str, int, str]]) -> list[Pair]:
    """Return pairs of rows that follow each other in one job and were done by the same hands.

    Args:
        rows: row, job, seq, technician.
    """
    found: list[Pair] = []
    before: tuple[int, str, int, str] | None = None
    for one in sorted(rows, key=lambda each: (each[1], each[2])):
        if before is not None and before[1] == one[1] and before[3] == one[3]:
            found.append(Pair(before[0], one[0]))
        before = one
    return found
