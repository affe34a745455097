"""The dice both simulators throw: plain for one draw, stratified for many."""

from __future__ import annotations

from functools import cache
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

from store.learn.scores import Floats

Indices = NDArray[np.intp]


@cache
def _normal_strata(draws: int) -> Floats:
    normal = NormalDist()
    return np.array([normal.inv_cdf((n + 0.5) / draws) for n in range(draws)])


def normals(dice: np.random.Generator, draws: int) -> Floats:
    """(draws,) standard normal: one from each of as many equally likely strata, shuffled.

    A single draw is a plain one.
    """
    if draws == 1:
        return dice.standard_normal(1)
    return dice.permutation(_normal_strata(draws))


def uniforms(dice: np.random.Generator, draws: int) -> Floats:
    """(draws,) uniform on 0 to 1: one from each stratum, shuffled; a single draw is a plain one."""
    if draws == 1:
        return dice.random(1)
    level: Floats = (dice.permutation(draws) + 0.5) / draws
    return level


def picked(weights: Floats, draws: int, dice: np.random.Generator) -> Indices:
    """(draws,) indices, as often as chances say, shuffled; a single draw is a plain one."""
    edges = np.cumsum(weights)
    return np.searchsorted(edges[:-1] / edges[-1], uniforms(dice, draws), side="right")


def log_mean(values: Floats, axis: int) -> Floats:
    """Logarithm of the mean of exp(values) along an axis; -inf where all are -inf."""
    top = values.max(axis=axis, keepdims=True)
    safe = np.where(np.isfinite(top), top, 0.0)
    with np.errstate(divide="ignore"):
        inner: Floats = np.log(np.exp(values - safe).mean(axis=axis)) + safe.squeeze(axis)
    return inner
