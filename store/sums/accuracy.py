"""How near estimates came: bias, typical miss, share within a quarter, each with its range.

Definitions: Conte, Dunsmore, Shen, Software Engineering Metrics and Models (1986). A mean of
relative misses flatters estimates that are too low (Foss et al., IEEE Transactions on Software
Engineering 29, 2003), so the bias stands beside it. Scores of the whole range told: `scoring`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from store.sums.ranged import Ranged, Share, enough, of_count, of_mean, of_median, of_ratio
from store.sums.scoring import HIGH, LOW, Scores, scores

WITHIN = 0.25
"""A miss of at most this share of the labour is near."""
_ROUNDING = 1e-9
"""Hours are sums of clocks: what is a quarter by hand is one here too."""


@dataclass(frozen=True, slots=True)
class Case:
    """A job or a phase, hours. `labour_h` above 0: nothing can be missed of no labour.

    Attributes:
        quantiles: at 19 levels, as they were told; None where no range was.
    """

    labour_h: float
    estimate_h: float
    cautious_h: float
    quantiles: tuple[float, ...] | None = None

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
        inside: of those with a range, share with labour in it, ends included: one in ten is to be
            quicker, one in ten slower.
        scores: of the same ones.
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
    inside: Share | None
    scores: Scores | None
    enough: bool


def accuracy(cases: Sequence[Case], left_out: int = 0) -> Accuracy:
    """Judge estimates by what was worked."""
    labour = [one.labour_h for one in cases]
    estimates = [one.estimate_h for one in cases]
    misses = [one.miss for one in cases]
    near = sum(one <= WITHIN + _ROUNDING for one in misses)
    held = sum(one.labour_h <= one.cautious_h + _ROUNDING for one in cases)
    told_so = [(one.labour_h, one.quantiles) for one in cases if one.quantiles is not None]
    inside = sum(in_range(labour, quantiles) for labour, quantiles in told_so)
    worked, told, count = math.fsum(labour), math.fsum(estimates), len(cases)
    return Accuracy(
        count, left_out, worked, told, worked - told, _bias(of_ratio(labour, estimates)),
        of_median(misses), of_mean(misses), of_count(near, count), of_count(held, count),
        of_count(inside, len(told_so)), scores(told_so), enough(count),
    )  # fmt: skip


def in_range(labour_h: float, quantiles: Sequence[float]) -> bool:
    """Whether labour lies in the range that holds eight of ten jobs, ends included."""
    return quantiles[LOW] - _ROUNDING <= labour_h <= quantiles[HIGH] + _ROUNDING


def _bias(ratio: Ranged | None) -> Ranged | None:
    if ratio is None or ratio.low is None or ratio.high is None:
        return None if ratio is None else replace(ratio, value=ratio.value - 1)
    return Ranged(ratio.value - 1, ratio.low - 1, ratio.high - 1, ratio.count)
