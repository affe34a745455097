"""Forecasts put together: one of several ways, one after another, the k-th of several to end.

Each forecast is 19 quantiles. They are drawn from at the points of a lattice, which fills a cube of
as many sides as there are forecasts far more evenly than chance, and always in the same way
(Korobov 1959; Sloan and Joe, Lattice Methods for Multiple Integration, 1994).
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Sequence
from itertools import accumulate

from store.sums.moving import LEVELS, quantile

POINTS = 1021
"""A prime number."""
STEP = 331
"""Of the lattice: powers of it modulo `POINTS` are the steps along its sides."""

Quantiles = tuple[float, ...]


def mixed(ways: Sequence[tuple[float, Sequence[float]]]) -> Quantiles:
    """Return the quantiles of a forecast that is one of several with some odds.

    Args:
        ways: odds, which sum to 1, and quantiles.

    Raises:
        ValueError: there is no way.
    """
    if not ways:
        raise ValueError("a mixture is made of something")
    if len(ways) == 1:
        return tuple(ways[0][1])
    points = [
        (hours, odds / POINTS)
        for odds, quantiles in ways
        for hours in (quantile(quantiles, (n + 0.5) / POINTS) for n in range(POINTS))
    ]
    points.sort()
    weights = list(accumulate(weight for _, weight in points))
    return tuple(_at(points, weights, level * weights[-1]) for level in LEVELS)


def _at(points: Sequence[tuple[float, float]], weights: Sequence[float], wanted: float) -> float:
    return points[min(bisect_left(weights, wanted), len(points) - 1)][0]


def one_after_another(first: Sequence[float], then: Sequence[float]) -> Quantiles:
    """Return the quantiles of the sum of two that do not depend on each other."""
    return _drawn([first, then], sum)


def nth_to_end(running: Sequence[Sequence[float]], place: int) -> Quantiles:
    """Return the quantiles of when so many of several have ended.

    Args:
        place: 0 is the first to end; beyond the last one, each further one takes as long again as
            all of them do on the average to end one after another.

    Raises:
        ValueError: nothing runs.
    """
    if not running:
        raise ValueError("nothing runs that could end")
    rounds, nth = divmod(place, len(running))

    def when(hours: Sequence[float]) -> float:
        ends = sorted(hours)
        return ends[nth] + rounds * ends[-1]

    return _drawn(running, when)


def _drawn(
    forecasts: Sequence[Sequence[float]], value: Callable[[Sequence[float]], float]
) -> Quantiles:
    steps = [pow(STEP, side, POINTS) for side in range(len(forecasts))]
    tables = [[quantile(each, (n + 0.5) / POINTS) for n in range(POINTS)] for each in forecasts]
    found = sorted(
        value([table[point * step % POINTS] for table, step in zip(tables, steps, strict=True)])
        for point in range(POINTS)
    )
    return tuple(found[min(POINTS - 1, int(level * POINTS))] for level in LEVELS)
