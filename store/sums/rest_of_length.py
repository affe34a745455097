"""How long something that has lasted so far is still likely to last, on the average."""

from __future__ import annotations

import math

FARTHEST = 6.0
"""Standard deviations beyond which a law of lengths knows nothing of what still lasts."""


def mean_rest(m: float, s: float, so_far: float) -> float:
    """Return the expected further length of what is not over yet.

    ln T ~ N(m, s^2). Given T > t, with z = (ln t - m) / s:
    E[T - t | T > t] = exp(m + s^2 / 2) Phi(s - z) / Phi(-z) - t.

    Args:
        m, s: of the log of the whole length; s above 0.
        so_far: t, 0 or more.

    Returns:
        0 or more, in the unit of t; t / 2 where it has lasted far longer than anything like it.

    Raises:
        ValueError: an argument is outside its range.

    Source:
        Johnson, Kotz, Balakrishnan, Continuous Univariate Distributions, vol. 1 (1994), chapter 14.
    """
    if not s > 0 or not 0 <= so_far < math.inf:
        raise ValueError(f"s is above 0 and t 0 or more, not {s}, {so_far}")
    whole = math.exp(m + s * s / 2)
    if so_far == 0:
        return whole
    z = (math.log(so_far) - m) / s
    if z > FARTHEST:
        return so_far / 2
    return max(0.0, whole * _above(z - s) / _above(z) - so_far)


def _above(z: float) -> float:
    """The chance that a standard normal value is greater."""
    return 0.5 * math.erfc(z / math.sqrt(2))
