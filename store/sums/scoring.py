"""How good forecasts of hours were, in hours: scores that only fall where the forecast is truer.

They need statistics to read: they stand in JSON and CSV and never on a page.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from store.sums.book_range import LEVELS

STEP = 0.05
"""Between levels, and from the outer ones to 0 and 1."""
LOW, HIGH = 1, 17
"""Places of .1 and .9 in the levels: the ends of the range that holds `SHARE`."""
SHARE = 0.8
"""Of jobs that are to lie in the range."""


@dataclass(frozen=True, slots=True)
class Scores:
    """Means over some jobs, hours, 0 or more; the smaller the better.

    Attributes:
        jobs: how many had a forecast with its range, 1 or more.
        pinball_h: of the 19 levels. `crps_h`: of the whole forecast. `interval_h`: of its range.
    """

    jobs: int
    pinball_h: float
    crps_h: float
    interval_h: float


def scores(told: Sequence[tuple[float, Sequence[float]]]) -> Scores | None:
    """Return the means over jobs; None of none.

    Args:
        told: of each job its labour and its quantiles at `LEVELS`, hours.
    """
    if not told:
        return None
    count = len(told)
    return Scores(
        count,
        math.fsum(mean_pinball(labour, q) for labour, q in told) / count,
        math.fsum(crps(labour, q) for labour, q in told) / count,
        math.fsum(interval_score(labour, q[LOW], q[HIGH], SHARE) for labour, q in told) / count,
    )


def pinball(y: float, q: float, p: float) -> float:
    """Return the loss of a quantile; least on average for the true one.

    p (y - q) where y >= q, else (1 - p)(q - y).

    Args:
        y: what happened.
        q: what was told at the level p, above 0, below 1.

    Source:
        Koenker, Bassett, Regression quantiles, Econometrica 46 (1978).
    """
    return max(p * (y - q), (p - 1) * (y - q))


def mean_pinball(y: float, quantiles: Sequence[float]) -> float:
    """Return the mean loss of the quantiles at `LEVELS`."""
    return math.fsum(_losses(y, quantiles)) / len(LEVELS)


def crps(y: float, quantiles: Sequence[float]) -> float:
    """Return the continuous ranked probability score: twice the integral of the loss over p.

    By trapezoids of .05 from 0 to 1. The loss is 0 at both ends, whatever was told there: its
    weight is. So it is 1.9 times the mean loss; twice the mean would be 4 to 5 % too much, as if
    the tails were like the middle. For log-normal hours it lies .3 to 2.2 % below the true score,
    most where nearly nothing was missed, and .8 % at most on average.

    Source:
        Gneiting, Raftery, JASA 102 (2007), section 4.2; Laio, Tamea, Hydrology and Earth System
        Sciences 11 (2007) 1267, for twice the integral.
    """
    return 2 * STEP * math.fsum(_losses(y, quantiles))


def interval_score(y: float, low: float, high: float, share: float) -> float:
    """Return the width of a central range, plus a penalty for a miss.

    (high - low) + 2/a (low - y)+ + 2/a (y - high)+, a = 1 - share.

    Args:
        share: what the range is to hold, such as .8.

    Source:
        Winkler (1972); Gneiting, Raftery, JASA 102 (2007), equation 43.
    """
    return high - low + 2 / (1 - share) * (max(low - y, 0.0) + max(y - high, 0.0))


def _losses(y: float, quantiles: Sequence[float]) -> list[float]:
    return [pinball(y, q, p) for q, p in zip(quantiles, LEVELS, strict=True)]
