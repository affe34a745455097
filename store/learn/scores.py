"""How good a forecast was: proper scores, and how often a range held."""

from __future__ import annotations

import math
from collections.abc import Sequence
from statistics import NormalDist

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]

NORMAL = NormalDist()
LEVELS: Floats = np.arange(1, 20) / 20
"""The 19 levels of a forecast: .05, .10 … .95."""


def pinball(y: ArrayLike, q: ArrayLike, levels: ArrayLike = LEVELS) -> Floats:
    """The loss of each quantile of a forecast; least on average for the true quantile.

    L = p (y - q) where y >= q, else (1 - p)(q - y).

    Args:
        y: (n,) what happened.
        q: (n, levels) what was forecast at each level.
        levels: (levels,) p, above 0, below 1.

    Returns:
        (n, levels), 0 or more, in the unit of y.

    Source:
        Koenker, Bassett, Regression quantiles, Econometrica 46 (1978).
    """
    over = np.asarray(y, float)[..., None] - np.asarray(q, float)
    p = np.asarray(levels, float)
    loss: Floats = np.maximum(p * over, (p - 1) * over)
    return loss


def mean_pinball(y: ArrayLike, q: ArrayLike, levels: ArrayLike = LEVELS) -> Floats:
    """The loss of each row: the mean of `pinball` over its levels.

    Args:
        y: (n,) what happened.
        q: (n, levels) what was forecast.
        levels: (levels,).

    Returns:
        (n,), 0 or more, in the unit of y.
    """
    of_row: Floats = pinball(y, q, levels).mean(axis=-1)
    return of_row


def interval_score(y: ArrayLike, low: ArrayLike, high: ArrayLike, share: float) -> Floats:
    """The width of a central range, plus a penalty for each miss.

    (high - low) + 2/a (low - y)+ + 2/a (y - high)+, a = 1 - share.

    Args:
        y: (n,) what happened.
        low: (n,) the range's lower end.
        high: (n,) its upper end, at least low.
        share: what the range is to hold, such as .8.

    Returns:
        (n,), in the unit of y, smaller is better.

    Source:
        Winkler (1972); Gneiting, Raftery, JASA 102 (2007), equation 43.
    """
    seen, lower, upper = (np.asarray(one, float) for one in (y, low, high))
    miss = np.maximum(lower - seen, 0) + np.maximum(seen - upper, 0)
    score: Floats = (upper - lower) + 2 / (1 - share) * miss
    return score


def inside(y: ArrayLike, q: ArrayLike, share: float) -> NDArray[np.bool_]:
    """Which rows lie in the central range of their forecast, ends included.

    Args:
        y: (n,) what happened.
        q: (n, 19) quantiles at `LEVELS`.
        share: .1, .2 … .9.

    Returns:
        (n,).

    Raises:
        ValueError: the quantiles have no range of that share.
    """
    steps = (1 - share) * 10
    first = round(steps) - 1
    if not 0 <= first <= 8 or abs(steps - round(steps)) > 1e-9:
        raise ValueError(f"share is {share}: it must be one of .1, .2 … .9")
    seen, forecast = np.asarray(y, float), np.asarray(q, float)
    return (forecast[:, first] <= seen) & (seen <= forecast[:, 18 - first])


def worth(held: ArrayLike, group: Sequence[str]) -> float:
    """How many cases of their own a share is worth that was counted in rows of a few groups.

    n_eff = p (1 - p) / v, v = m / (m - 1) sum over the m groups (sum of (x - p) in it)^2 / n^2;
    so n / (1 + (k - 1) r) where m groups of k rows agree as far as a correlation r says. Never
    below m, never above n; m where nothing can be told: all held, or none, or one group.

    Args:
        held: (n,) whether each row did.
        group: (n,) to which it belongs, such as its job.

    Source:
        Kish, Survey Sampling (1965), sections 5.4 and 8.2.
    """
    x = np.asarray(held, float)
    names, place = np.unique(np.asarray(group), return_inverse=True)
    n, m, p = len(x), len(names), float(x.mean())
    of_group = np.bincount(place, x - p)
    if m < 2 or not 0 < p < 1:
        return float(m)
    v = m / (m - 1) * float((of_group**2).sum()) / n**2
    return min(n, max(m, p * (1 - p) / v)) if v > 0 else float(n)


def wilson(held: float, of: float, share: float = 0.95) -> tuple[float, float]:
    """The interval of a share that was counted.

    (k + z^2/2 -+ z sqrt(k (n-k)/n + z^2/4)) / (n + z^2).

    Args:
        held: k, 0 to `of`; a count, or what it is `worth`.
        of: n, at least 1.
        share: of the interval.

    Returns:
        Its ends, 0 to 1.

    Raises:
        ValueError: the counts are outside their range.

    Source:
        Wilson, JASA 22 (1927).
    """
    if not 0 <= held <= of or of < 1:
        raise ValueError(f"{held} of {of}: it must be 0 to all of at least 1")
    z = NORMAL.inv_cdf((1 + share) / 2)
    middle = held + z * z / 2
    half = z * math.sqrt(held * (of - held) / of + z * z / 4)
    return (middle - half) / (of + z * z), (middle + half) / (of + z * z)


def crps_normal(y: float, mean: float, sd: float) -> float:
    """The continuous ranked probability score of a normal forecast.

    sd [z (2 Phi(z) - 1) + 2 phi(z) - 1/sqrt(pi)], z = (y - mean) / sd.

    Args:
        y: what happened.
        mean: of the forecast.
        sd: of the forecast, above 0.

    Returns:
        In the unit of y, 0 or more, smaller is better: twice the integral of the pinball loss.

    Source:
        Gneiting, Raftery, JASA 102 (2007), section 4.2.
    """
    z = (y - mean) / sd
    return sd * (z * (2 * NORMAL.cdf(z) - 1) + 2 * NORMAL.pdf(z) - 1 / math.sqrt(math.pi))


def crps_lognormal(y: float, m: float, s: float) -> float:
    """The continuous ranked probability score of a log-normal forecast, ln T ~ N(m, s^2).

    y [2 Phi(w) - 1] - 2 exp(m + s^2/2) [Phi(w - s) + Phi(s/sqrt 2) - 1], w = (ln y - m) / s.

    Args:
        y: what happened, above 0.
        m: mean of the logs.
        s: standard deviation of the logs, above 0.

    Returns:
        In the unit of y, 0 or more.

    Source:
        Baran, Lerch, Q. J. R. Meteorol. Soc. 141 (2015).
    """
    w = (math.log(y) - m) / s
    far = NORMAL.cdf(w - s) + NORMAL.cdf(s / math.sqrt(2)) - 1
    return y * (2 * NORMAL.cdf(w) - 1) - 2 * math.exp(m + s * s / 2) * far


def crps_ensemble(y: float, members: ArrayLike, *, fair: bool = False) -> float:
    """The continuous ranked probability score of draws.

    mean |x - y| - sum |x - x'| / (2 m^2); fair: / (2 m (m - 1)), unbiased for the law drawn from.

    Args:
        y: what happened.
        members: (m,) draws, two at least where fair.
        fair: divide for the law and not for the draws as they are.

    Returns:
        In the unit of y.

    Source:
        Gneiting, Raftery, JASA 102 (2007), section 4.2; Ferro, Q. J. R. Meteorol. Soc. 140 (2014).
    """
    x = np.sort(np.asarray(members, float))
    m = len(x)
    apart = 2 * float(((2 * np.arange(1, m + 1) - m - 1) * x).sum())
    return float(np.abs(x - y).mean()) - apart / (2 * m * (m - 1 if fair else m))
