"""How near estimates came: bias, typical miss, share within a quarter, each with its range.

Definitions: Conte, Dunsmore, Shen, Software Engineering Metrics and Models (1986). A mean of
relative misses flatters estimates that are too low (Foss et al., IEEE Transactions on Software
Engineering 29, 2003), so the bias stands beside it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from store.sums.ranged import Ranged, Share, enough, of_count, of_mean, of_median, of_ratio

WITHIN = 0.25
"""A miss of at most this share of the labour is near."""
_ROUNDING = 1e-9
"""Hours are sums of clocks: what is a quarter by hand is one here too."""


@dataclass(frozen=True, slots=True)
class Case:
    """A job or a phase, hours. `labour_h` above 0: nothing can be missed of no labour."""

    labour_h: float
    estimate_h: float
    cautious_h: float

    @property
    def miss(self) -> float:
        """|labour - estimate| / labour."""
        return abs(self.labour_h - self.estimate_h) / self.labour_h


@dataclass(frozen=True, slots=True)
class Accuracy:
    """Estimates beside labour. A figure is None where there is nothing to judge.

    Attributes:
        jobs: how many cases were judged: with an estimate and labour.
        left_out: those without one of them.
        lost_h: labour - estimates, summed.
        bias: (labour - estimates) / estimates, of the sums; above 0: estimates ran short.
        miss: median of |labour - estimate| / labour.
        mean_miss: mean of the same.
        within: share with a miss of at most a quarter.
        cautious: share with labour at most the cautious figure.
        enough: enough to say more than the figures.
    """

    jobs: int
    left_out: int
    labour_h: float
    estimate_h: float
    lost_h: float
    bias: Ranged | None
    miss: Ranged | None
    mean_miss: Ranged | None
    within: Share | None
    cautious: Share | None
    enough: bool


def accuracy(cases: Sequence[Case], left_out: int = 0) -> Accuracy:
    """Judge estimates by what was worked."""
    labour = [one.labour_h for one in cases]
    estimates = [one.estimate_h for one in cases]
    misses = [one.miss for one in cases]
    near = sum(one <= WITHIN + _ROUNDING for one in misses)
    held = sum(one.labour_h <= one.cautious_h + _ROUNDING for one in cases)
    worked, told, count = math.fsum(labour), math.fsum(estimates), len(cases)
    return Accuracy(
        count, left_out, worked, told, worked - told, _bias(of_ratio(labour, estimates)),
        of_median(misses), of_mean(misses), of_count(near, count), of_count(held, count),
        enough(count),
    )  # fmt: skip


def _bias(ratio: Ranged | None) -> Ranged | None:
    if ratio is None or ratio.low is None or ratio.high is None:
        return None if ratio is None else replace(ratio, value=ratio.value - 1)
    return Ranged(ratio.value - 1, ratio.low - 1, ratio.high - 1, ratio.count)
