"""What a simulator must be able to say of its own jobs, and the dice both simulators throw."""

from __future__ import annotations

from functools import cache
from statistics import NormalDist
from typing import Protocol

import numpy as np

from store.learn.scores import Floats
from tests.bench.hours.jobs import Indices, Job
from tests.bench.hours.routes import Phase


class JobLaw(Protocol):
    """The true distribution of one job's hours, all parameters known, the vehicle itself not.

    The vehicle's condition is what its phases share. It takes one of L values of a grid; `weights`
    (L,) are their chances before anything of the job is known.
    """

    weights: Floats

    def conditions(self, weights: Floats, draws: int, dice: np.random.Generator) -> Floats:
        """(draws, c) conditions drawn with chances (L,)."""
        ...

    def hours(
        self, i: int, people: Indices, conditions: Floats, dice: np.random.Generator
    ) -> Floats:
        """(draws,) hours of phase i, done by `people` (draws,) under `conditions` (draws, c)."""
        ...

    def log_density(self, i: int, person: int, hours: float) -> Floats:
        """(L,) log chance, up to a constant, that phase i took so long, by condition."""
        ...

    def log_density_of_two(self, i: int, j: int, person: int, hours: float) -> Floats:
        """(L,) the same of two phases by one person, of which only the sum is known."""
        ...


class Law(Protocol):
    """The true parameters of a shop."""

    def book(self, route: tuple[Phase, ...], family: str, at: float) -> Floats:
        """(n,) what the work book says on that day, hours."""
        ...

    def of_job(self, job: Job) -> JobLaw:
        """The true distribution of a job's hours."""
        ...


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
    """(draws,) indices, each as often as its chance says, shuffled."""
    edges = np.cumsum(weights)
    return np.searchsorted(edges[:-1] / edges[-1], uniforms(dice, draws), side="right")


def log_mean(values: Floats, axis: int) -> Floats:
    """Logarithm of the mean of exp(values) along an axis; -inf where all are -inf."""
    top = values.max(axis=axis, keepdims=True)
    safe = np.where(np.isfinite(top), top, 0.0)
    with np.errstate(divide="ignore"):
        inner: Floats = np.log(np.exp(values - safe).mean(axis=axis)) + safe.squeeze(axis)
    return inner
