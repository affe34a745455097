"""Figures of a few jobs with the range that luck leaves open, 19 in 20 sure; and when they say
more than themselves: never a verdict from three jobs."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from statistics import NormalDist, median

ENOUGH = 8
"""Jobs from which more than the figures is said. Common practice, no source; of five no range of a
median exists at all, and of eight it is still from the least of them to the most."""
SURE = 0.95
"""Share of ranges that hold the truth."""
LEAST = 1 / 3600
"""Hours, or whatever is divided by: of less than a second no ratio says anything."""
_Z = NormalDist().inv_cdf((1 + SURE) / 2)


@dataclass(frozen=True, slots=True)
class Ranged:
    """A figure of some jobs.

    Attributes:
        low, high: its range; None where there are too few to say.
    """

    value: float
    low: float | None
    high: float | None
    count: int


@dataclass(frozen=True, slots=True)
class Share:
    """How many of how many, 0 or more of 1 or more, with the range of the share, 0 to 1."""

    held: int
    count: int
    low: float
    high: float

    @property
    def share(self) -> float:
        """0 to 1."""
        return self.held / self.count


def enough(count: int) -> bool:
    """Whether so many jobs say more than what they took: the one rule for every verdict."""
    return count >= ENOUGH


def of_count(held: int, count: int) -> Share | None:
    """Return a share with its range; None of none.

    (k + z^2/2 -+ z sqrt(k (n-k)/n + z^2/4)) / (n + z^2), z = 1.96.

    Args:
        held: k, 0 to `count`.
        count: n, 0 or more.

    Source:
        Wilson, JASA 22 (1927), as in `store.learn.scores`, which knows nothing of sums.
    """
    if not 0 <= held <= count:
        raise ValueError(f"{held} of {count}")
    if count == 0:
        return None
    middle = held + _Z * _Z / 2
    half = _Z * math.sqrt(held * (count - held) / count + _Z * _Z / 4)
    of = count + _Z * _Z
    return Share(held, count, max(0.0, (middle - half) / of), min(1.0, (middle + half) / of))


def of_ratio(tops: Sequence[float], bottoms: Sequence[float]) -> Ranged | None:
    """Return sum(tops) / sum(bottoms) with its range; None where less than `LEAST` is divided by.

    A job counts with its hours. R e^(-+ t s): s^2 = (n - 1) / n sum (ln R_i - mean ln R_i)^2, R_i
    the ratio without job i, t Student's with n - 1 degrees. The plain formula (Cochran, Sampling
    Techniques, 1977, section 6.4) says too narrow a range where there are ten jobs and one is big.

    Args:
        tops, bottoms: of the same jobs, 0 or more.

    Source:
        Miller, The jackknife: a review, Biometrika 61 (1974) 1-15.
    """
    above, below = math.fsum(tops), math.fsum(bottoms)
    if below < LEAST:
        return None
    ratio, count = above / below, len(tops)
    pairs = list(zip(tops, bottoms, strict=True))
    if not enough(count) or any(above - y <= 0 or below - x < LEAST for y, x in pairs):
        return Ranged(ratio, None, None, count)
    without = [math.log((above - y) / (below - x)) for y, x in pairs]
    mean = math.fsum(without) / count
    spread = math.sqrt((count - 1) / count * math.fsum((one - mean) ** 2 for one in without))
    factor = math.exp(student(count - 1) * spread)
    return Ranged(ratio, ratio / factor, ratio * factor, count)


def of_median(values: Sequence[float]) -> Ranged | None:
    """Return the middle one with its range; None of none.

    From the k-th of the sorted values to the k-th from the end: the largest k of which chance
    leaves the true median outside in at most 1 case of 20, whatever the law of the values.

    Source:
        Conover, Practical Nonparametric Statistics, 3rd ed. (1999), section 3.2.
    """
    if not values:
        return None
    ordered, count = sorted(values), len(values)
    middle = median(ordered)
    if not enough(count):
        return Ranged(middle, None, None, count)
    place = _place(count)
    return Ranged(middle, ordered[place - 1], ordered[count - place], count)


def of_mean(values: Sequence[float]) -> Ranged | None:
    """Return the mean with its range, mean -+ t s / sqrt n; None of none.

    Source:
        Student, Biometrika 6 (1908).
    """
    if not values:
        return None
    count = len(values)
    mean = math.fsum(values) / count
    if not enough(count):
        return Ranged(mean, None, None, count)
    left = math.fsum((one - mean) ** 2 for one in values)
    half = student(count - 1) * math.sqrt(left / (count * (count - 1)))
    return Ranged(mean, mean - half, mean + half, count)


def apart(one: Ranged | None, other: Ranged | None) -> bool:
    """Whether two figures of different jobs differ by more than luck explains.

    The range of one - other, from both of theirs, does not hold 0.

    Source:
        Zou, Donner, Statistics in Medicine 27 (2008) 1693, equation 8 (differences).
    """
    if one is None or other is None or one.low is None or one.high is None:
        return False
    if other.low is None or other.high is None:
        return False
    gap = one.value - other.value
    low = gap - math.hypot(one.value - one.low, other.high - other.value)
    high = gap + math.hypot(one.high - one.value, other.value - other.low)
    return low > 0 or high < 0


def student(degrees: int) -> float:
    """Return what Student's t with so many degrees, 5 or more, passes in 1 case of 40.

    Within .001 of the true one.

    Source:
        Abramowitz, Stegun, Handbook of Mathematical Functions (1964), 26.7.5.
    """
    z, square = _Z, _Z * _Z
    terms = (
        z * (square + 1) / 4,
        z * (5 * square**2 + 16 * square + 3) / 96,
        z * (3 * square**3 + 19 * square**2 + 17 * square - 15) / 384,
        z * (79 * square**4 + 776 * square**3 + 1482 * square**2 - 1920 * square - 945) / 92160,
    )
    return z + sum(one / float(degrees) ** (at + 1) for at, one in enumerate(terms))


@lru_cache(maxsize=1024)
def _place(count: int) -> int:
    """The largest k, 1 or more, of which P(Binomial(n, 1/2) < k) is at most 1 in 40."""
    place, ways, below = 0, 1, 0
    while 40 * (below + ways) <= 1 << count:
        below += ways
        ways = ways * (count - place) // (place + 1)
        place += 1
    return place
