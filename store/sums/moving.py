"""A stored forecast at a later moment: 19 quantiles of hours to go, moved by the hours passed.

Simply subtracting what passed would make a late job look nearly done for ever. What is left is
the distribution given that it is longer than what passed: with F the stored distribution, the
k-quantile after u hours is F^-1(p + (1 - p) k) - u, p = F(u). F is linear between the quantiles.
Before the first it falls as a power of the hours, past the last it goes on as an exponential, both
fitted to the quantiles next to them; so far out what is left stays as long as it was (Cox 1962,
Renewal theory: residual life).
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence

COUNT = 19
LEVELS = tuple(n / 20 for n in range(1, COUNT + 1))
"""Of the quantiles: .05, .10 … .95."""
FOUR_FOLD = math.log(4)
"""From the .05 to the .20 level, and from the .80 to the .95 one seen from above."""
NARROWEST = 0.01
"""Share of the last quantile below which the tail's mean is not taken."""


def left(quantiles: Sequence[float], passed: float) -> tuple[float, ...]:
    """Return the quantiles of what is left after some hours.

    Args:
        quantiles: hours to go when it was forecast, at `LEVELS`, 0 or more, never falling.
        passed: hours since then, 0 or more.

    Returns:
        Hours at `LEVELS`, 0 or more, never falling.

    Raises:
        ValueError: not 19 quantiles, or less than no time passed.
    """
    _check(quantiles)
    if not 0 <= passed < math.inf:
        raise ValueError(f"hours passed are 0 or more, not {passed}")
    if passed == 0:
        return tuple(quantiles)
    if passed >= quantiles[-1]:
        tail = _tail(quantiles)
        return tuple(-tail * math.log1p(-level) for level in LEVELS)
    p = _below(quantiles, passed)
    return tuple(max(0.0, quantile(quantiles, p + (1 - p) * level) - passed) for level in LEVELS)


def quantile(quantiles: Sequence[float], level: float) -> float:
    """Return the hours that are enough with some chance.

    Args:
        level: above 0, below 1.

    Raises:
        ValueError: not 19 quantiles, or a level outside its range.
    """
    _check(quantiles)
    if not 0 < level < 1:
        raise ValueError(f"a level lies between 0 and 1, not at {level}")
    if level >= LEVELS[-1]:
        return quantiles[-1] + _tail(quantiles) * math.log(0.05 / (1 - level))
    if level < LEVELS[0]:
        return quantiles[0] * math.pow(level / LEVELS[0], _power(quantiles))
    at = level * (COUNT + 1)
    n = int(at)
    low = quantiles[n - 1]
    return low + (at - n) * (quantiles[n] - low)


def chance(quantiles: Sequence[float], hours: float) -> float:
    """Return the chance that some hours are enough, .05 to .95: beyond them nothing is known.

    Raises:
        ValueError: not 19 quantiles.
    """
    _check(quantiles)
    if hours >= quantiles[-1]:
        return LEVELS[-1]
    return max(LEVELS[0], _below(quantiles, hours))


def _below(quantiles: Sequence[float], hours: float) -> float:
    """F at some hours below the last quantile."""
    if hours <= 0:
        return 0.0
    if hours < quantiles[0]:
        power = _power(quantiles)
        return LEVELS[0] * math.pow(hours / quantiles[0], 1 / power) if power > 0 else 0.0
    n = bisect_right(quantiles, hours)
    low = quantiles[n - 1]
    return (n + (hours - low) / (quantiles[n] - low)) / (COUNT + 1)


def _power(quantiles: Sequence[float]) -> float:
    """By which power of the level hours fall before the first quantile."""
    return math.log(quantiles[3] / quantiles[0]) / FOUR_FOLD if quantiles[0] > 0 else 0.0


def _tail(quantiles: Sequence[float]) -> float:
    """Mean of the exponential past the last quantile."""
    fitted = (quantiles[-1] - quantiles[-4]) / FOUR_FOLD
    return max(fitted, NARROWEST * quantiles[-1])


def _check(quantiles: Sequence[float]) -> None:
    if len(quantiles) != COUNT:
        raise ValueError(f"{COUNT} quantiles are needed, not {len(quantiles)}")
