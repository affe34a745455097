"""Jobs at hand made by hand: phases whose hours follow laws that are known exactly."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from store.learn.arrays import Floats
from store.learn.labour.ahead import Ready, Target
from store.learn.labour.rows import Row
from store.learn.records import Planned

NEXT_TO_NOTHING = 1e-16
"""Variance of noise where all of the spread is in the covariance."""
SURE = 1e8
"""Degrees of freedom at which Student's t is the normal law."""


def made_ready(
    medians: Sequence[float],
    cov: Floats,
    *,
    noise: Floats | None = None,
    odds: float = 0.0,
    size: tuple[float, float] = (0.65, 0.3),
    elapsed: Sequence[float] | None = None,
) -> Ready:
    """Return phases done by one technician, log-normal apart from surprises.

    Args:
        medians: (m,) hours, used as book hours.
        cov: (m, m) of the logs.
        noise: (m,) variances of what is each phase's own; None for next to nothing.
        odds: of a surprise, which adds `size`, mean and spread, to the log.
        elapsed: (m,) labour so far.
    """
    m = len(medians)
    own = np.full(m, NEXT_TO_NOTHING) if noise is None else noise
    passed = [0.0] * m if elapsed is None else elapsed
    targets = tuple(
        Target(
            Planned(f"P{n}", n, medians[n], elapsed_h=passed[n]), ("op",), Row((), (), 0.0, 0.0),
            float(own[n]), SURE, odds,
        )
        for n in range(m)
    )  # fmt: skip
    return Ready(
        targets, np.ones(1), np.zeros((1, m)), cov[None], (False,) * m, 0.8, size[0], size[1]
    )


def alike(sds: Sequence[float], correlation: float) -> Floats:
    """Return (m, m) the covariance of logs that are all equally correlated."""
    sd = np.array(sds)
    found: Floats = np.outer(sd, sd) * (correlation + (1 - correlation) * np.eye(len(sd)))
    return found
