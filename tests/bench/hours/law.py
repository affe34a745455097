"""What a simulator must be able to say of its own jobs."""

from __future__ import annotations

from typing import Protocol

import numpy as np

from store.learn.scores import Floats
from tests.bench.hours.dice import Indices
from tests.bench.hours.jobs import Job
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
