"""Log-normal forecasts, and sums of them, for the methods a learner is compared with."""

from __future__ import annotations

import math
from statistics import NormalDist

import numpy as np

from store.learn.scores import LEVELS, Floats
from tests.bench.hours.rows import Row, Slot

Z = np.array([NormalDist().inv_cdf(float(one)) for one in LEVELS])


def row(slot: Slot, m: float, s: float) -> Row:
    """The row of ln T ~ N(m, s^2)."""
    return slot.row(math.exp(m + s * s / 2), np.exp(m + s * Z).tolist())


def sum_row(slot: Slot, m: Floats, s: Floats, together: float) -> Row:
    """The row of a sum of log-normals, by its first two moments.

    Args:
        slot: what is asked.
        m: (k,) means of the logs.
        s: (k,) standard deviations of the logs.
        together: correlation of the logs of any two, 0 to 1.

    Source:
        Fenton (1960), with correlation.
    """
    linked = np.full((len(m), len(m)), together)
    np.fill_diagonal(linked, 1.0)
    return covaried_row(slot, m, linked * np.outer(s, s))


def covaried_row(slot: Slot, m: Floats, covariance: Floats) -> Row:
    """The same, for any covariance (k, k) of the logs."""
    means = np.exp(m + np.diag(covariance) / 2)
    variance = float(means @ np.expm1(covariance) @ means)
    total = float(means.sum())
    s2 = math.log1p(variance / total**2)
    return row(slot, math.log(total) - s2 / 2, math.sqrt(s2))
