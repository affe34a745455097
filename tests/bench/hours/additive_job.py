"""The true distribution of one job's hours in the second simulator."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from store.learn.scores import Floats
from tests.bench.hours.dice import Indices, log_mean, picked, uniforms

DRAWS = 200
"""Of all but the main task, to average its density over."""
SURPRISE_SHAPE = 16.0
SURPRISED = np.array([0.6, 1.0, 2.0, 2.0])
"""Odds of a surprise by grade: common practice, no source."""


@dataclass(frozen=True, slots=True, eq=False)
class PhaseNow:
    """One phase of one job: `additive.Work` on this family, this day.

    Attributes:
        skill: (people,) factor on tasks that need skill.
        search: (people,) hours of searching, the first times.
        rust: hours that a rust of 1 adds.
    """

    fixed: float
    main: float
    main_shape: float
    bags: Floats
    skill: Floats
    search: Floats
    delay_chance: float
    delay: float
    surprises: Floats
    rust: float

    def rest(self, people: Indices, grade: Indices, dice: np.random.Generator) -> Floats:
        """(draws,) hours of all but the main task and the rust."""
        n = len(people)
        easy, skilled = self._from_bag(1, n, dice), self._from_bag(2, n, dice)
        hours = self.fixed + self.search[people] + easy + skilled * self.skill[people]
        late = np.flatnonzero(uniforms(dice, n) < self.delay_chance)
        hours[late] += dice.exponential(self.delay, len(late))
        for chance, size in self.surprises.tolist():
            found = np.flatnonzero(uniforms(dice, n) < chance * SURPRISED[grade])
            hours[found] += dice.gamma(SURPRISE_SHAPE, size / SURPRISE_SHAPE, len(found))
        return hours

    def _from_bag(self, which: int, draws: int, dice: np.random.Generator) -> Floats:
        """(draws,) from one of the bags, which are in no order: a run that begins anywhere."""
        bag = self.bags[which]
        run: Floats = bag[(int(dice.integers(len(bag))) + np.arange(draws)) % len(bag)]
        return run

    def main_task(self, draws: int, dice: np.random.Generator) -> Floats:
        """(draws,) hours of the main task."""
        return self.main * self._from_bag(0, draws, dice)

    def log_density(self, hours: Floats) -> Floats:
        """Log density of the main task, up to a constant; -inf at 0 and below."""
        safe = np.maximum(hours, 1e-12)
        logs = (self.main_shape - 1) * np.log(safe) - safe * self.main_shape / self.main
        density: Floats = np.where(hours > 0, logs, -np.inf)
        return density


class AdditiveJob:
    """Conditions are (rust, grade); the grid holds every rust there is."""

    def __init__(self, phases: Sequence[PhaseNow], grid: Floats, weights: Floats) -> None:
        self._phases, self._grid = phases, grid
        self.weights = weights

    def conditions(self, weights: Floats, draws: int, dice: np.random.Generator) -> Floats:
        """(draws, 2) rust and grade."""
        drawn: Floats = self._grid[picked(weights, draws, dice)]
        return drawn

    def hours(
        self, i: int, people: Indices, conditions: Floats, dice: np.random.Generator
    ) -> Floats:
        """(draws,) hours of phase i."""
        phase = self._phases[i]
        rest = phase.rest(people, conditions[:, 1].astype(int), dice)
        hours: Floats = rest + phase.main_task(len(people), dice) + phase.rust * conditions[:, 0]
        return hours

    def log_density(self, i: int, person: int, hours: float) -> Floats:
        """(L,) of one phase."""
        return self._averaged(i, hours, np.zeros(DRAWS), person, self._phases[i].rust)

    def log_density_of_two(self, i: int, j: int, person: int, hours: float) -> Floats:
        """(L,) of two phases of which only the sum is known."""
        other = self._phases[i]
        dice = np.random.default_rng(1)
        grade = self._grades(dice)
        first = other.rest(np.full(DRAWS, person), grade, dice) + other.main_task(DRAWS, dice)
        return self._averaged(j, hours, first, person, self._phases[j].rust + other.rust)

    def _averaged(self, i: int, hours: float, other: Floats, person: int, rust: float) -> Floats:
        """(L,) the main task's density at what is left, averaged over the rest."""
        phase = self._phases[i]
        dice = np.random.default_rng(0)
        rest = phase.rest(np.full(DRAWS, person), self._grades(dice), dice) + other
        left = hours - rust * self._grid[:, :1] - rest
        found = log_mean(phase.log_density(left), axis=1)
        return found if np.isfinite(found).any() else np.zeros(len(self._grid))

    def _grades(self, dice: np.random.Generator) -> Indices:
        """(DRAWS,) grades as likely as they are before anything is known of the vehicle."""
        grades: Indices = self._grid[picked(self.weights, DRAWS, dice), 1].astype(int)
        return grades
