"""The second simulator: hours are a sum of tasks, and little of it is a multiple of the book.

A phase is a fixed part, some tasks of gamma-distributed length, minutes for each rusty fastener,
searching the first times, sometimes a delay, sometimes one of a few surprises. A technician's skill
shortens some tasks only. The shape of the model that the learner fits is nowhere in it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from store.learn.scores import Floats
from tests.bench.hours.additive_job import AdditiveJob, PhaseNow
from tests.bench.hours.book import Book
from tests.bench.hours.flavours import Flavour
from tests.bench.hours.jobs import Job
from tests.bench.hours.law import JobLaw
from tests.bench.hours.levels import Jumps, Levels, Walks, around
from tests.bench.hours.multiplicative import GRADES
from tests.bench.hours.routes import Catalogue, Phase
from tests.bench.hours.staff import Staff

NO_RUST = (0.8, 0.5, 0.1, 0.5)
"""Chance of grades 1 to 4 that nothing is rusted; the invention of this simulator."""
RUST = (0.5, 1.0, 2.0, 1.0)
"""Mean rust of the others."""
STRATA = 60
BAG = 20_000
"""Draws of each phase's tasks. Hours are taken from these, so they *are* the distribution."""


@dataclass(frozen=True, slots=True, eq=False)
class Work:
    """What one phase code consists of, in hours, on no family in particular.

    Attributes:
        fixed: walking, lifting, whatever does not vary.
        main: mean of the longest task, which needs no skill; `main_shape` of its gamma law.
        tasks: mean of the others together.
        bags: (3, BAG) draws: the main task by its mean, others without skill, others with.
        surprises: (m, 2) chance and hours of each.
    """

    fixed: float
    main: float
    main_shape: float
    tasks: float
    bags: Floats
    fasteners: int
    delay_chance: float
    delay: float
    surprises: Floats
    search: float

    @property
    def mean(self) -> float:
        """By a skilled person who has done it often, nothing in the way."""
        return self.fixed + self.main + self.tasks


class Additive:
    """The true parameters of one shop."""

    def __init__(
        self,
        dice: np.random.Generator,
        flavour: Flavour,
        catalogue: Catalogue,
        staff: Staff,
        begin: float,
    ) -> None:
        self._staff, self._graded = staff, flavour.rust
        self._minutes = float(dice.uniform(1.5, 4) if flavour.rust else dice.uniform(0.3, 1.5))
        delays = float(dice.uniform(0.05, 0.3)), around(dice, 0.35)
        self._work = {code: _work(dice, code, delays) for code in catalogue.codes()}
        self._part = Levels(dice, around(dice, 0.15 if flavour.sparse else 0.09))
        self._family = Levels(dice, around(dice, 0.06))
        self._here = Levels(dice, around(dice, 0.08))
        self._draw_people(dice, flavour)
        self._draw_change(dice, flavour, begin)
        self._draw_book(dice, begin, rewritten=flavour.rewritten)

    def _draw_people(self, dice: np.random.Generator, flavour: Flavour) -> None:
        self._skill = Levels(dice, around(dice, 0.45 if flavour.strong else 0.18))
        self._skill_in = Levels(dice, around(dice, 0.15 if flavour.strong else 0.06))
        self._slow = Levels(dice, 0.5)
        self._learned_after = float(dice.uniform(2, 8))
        self._green = float(dice.uniform(0.6, 1.3))

    def _draw_change(self, dice: np.random.Generator, flavour: Flavour, begin: float) -> None:
        on = float(flavour.drift)
        self._phase_walk = Walks(dice, on * around(dice, 0.06), 3, begin)
        self._delay_walk = Walks(dice, on * 0.15, 1, begin)
        self._shop_jumps = Jumps(dice, 0.2, on, begin)
        self._tools = {code: Jumps(dice, 0.35, 0.25 * on, begin) for code in self._work}

    def _draw_book(self, dice: np.random.Generator, begin: float, *, rewritten: bool) -> None:
        wrong = Levels(dice, around(dice, 0.25))
        bias = float(dice.normal(0.0, 0.15))
        hours = {code: one.mean * math.exp(bias + wrong(code)) for code, one in self._work.items()}
        knows = float(dice.choice([0.0, 0.5, 1.0]))

        def family(code: str, family: str) -> float:
            return knows * self._of_family(code, family)

        self._book = Book(dice, hours, begin, family, rewritten=rewritten)

    def book(self, route: tuple[Phase, ...], family: str, at: float) -> Floats:
        """(n,) what the work book says on that day, hours. The hours never follow it."""
        return self._book.of(route, family, at)

    def of_job(self, job: Job) -> JobLaw:
        """The true distribution of a job's hours."""
        known = job.grade if job.grade_known or not self._graded else None
        share = GRADES if known is None else np.eye(4)[known - 1]
        grades = [int(n) for n in np.flatnonzero(share)]
        chances = [float(share[n]) * _rust_chances(n) for n in grades]
        grid = [np.column_stack([_rust(n), np.full(STRATA + 1, n)]) for n in grades]
        phases = [self._now(job, i) for i in range(len(job.route))]
        return AdditiveJob(phases, np.concatenate(grid), np.concatenate(chances))

    def _of_family(self, code: str, family: str) -> float:
        """What the family adds, as a share of the phase."""
        parts = family.split("-")
        of_parts = sum(self._part(code, n, one) for n, one in enumerate(parts))
        return max(-0.4, of_parts + self._family(code, family))

    def _now(self, job: Job, i: int) -> PhaseNow:
        phase, work = job.route[i], self._work[job.route[i].code]
        here = sum(self._here(one, phase.code) for one in phase.serves) / len(phase.serves)
        changed = self._phase_walk(phase.code, job.start)
        added = (self._of_family(phase.code, job.family) + here + changed) * work.mean
        tools = self._tools[phase.code](job.start) + self._shop_jumps(job.start)
        forgetting = np.exp(-job.experience[:, i] / self._learned_after)
        skill = [self._skill_of(k, phase, job.start) if odds else 1.0 for k, odds in job.shares()]
        return PhaseNow(
            fixed=work.fixed,
            main=max(0.08, work.main * math.exp(tools) + added),
            main_shape=work.main_shape,
            bags=work.bags,
            skill=np.array(skill),
            search=work.search * np.exp([self._slow(k) for k in range(len(skill))]) * forgetting,
            delay_chance=min(0.7, work.delay_chance * math.exp(self._delay_walk("", job.start))),
            delay=work.delay,
            surprises=work.surprises,
            rust=work.fasteners * self._minutes / 60,
        )

    def _skill_of(self, k: int, phase: Phase, at: float) -> float:
        """Factor on the tasks that need skill."""
        years = self._staff.people[k].apprentice_years(at)
        green = 0.0 if years is None else self._green * max(0.0, 1 - max(0.0, years - 0.5) / 2)
        here = sum(self._skill_in(k, one) for one in phase.serves) / len(phase.serves)
        return math.exp(self._skill(k) + green + here)


def _work(dice: np.random.Generator, code: str, delays: tuple[float, float]) -> Work:
    total = float(np.clip(around(dice, 1.5, 0.6), 0.25, 8))
    count = int(dice.integers(2, 6))
    means = np.sort(total * dice.dirichlet(np.full(count, 3.0)))[::-1]
    shapes = dice.uniform(3, 16, count)
    skilled = dice.random(count) < 0.5
    many = {"off": 12.0, "on": 2.0}.get(code.rpartition("-")[2], 4.0)
    surprises = int(dice.integers(0, 3))
    return Work(
        fixed=float(dice.uniform(0.05, 0.25)),
        main=float(means[0]),
        main_shape=float(shapes[0]),
        tasks=float(means[1:].sum()),
        bags=_bags(dice, means, shapes, skilled),
        fasteners=int(dice.poisson(many)),
        delay_chance=min(0.6, around(dice, delays[0], 0.4)),
        delay=around(dice, delays[1], 0.3),
        surprises=dice.uniform([0.02, 0.3], [0.1, 1.8], (surprises, 2)),
        search=total * float(dice.uniform(0, 0.25)),
    )


def _bags(
    dice: np.random.Generator, means: Floats, shapes: Floats, skilled: NDArray[np.bool_]
) -> Floats:
    """Draws of gamma-distributed tasks; the first is the main one."""
    unit = dice.gamma(shapes, 1 / shapes, (BAG, len(shapes)))
    others, needs = (unit * means)[:, 1:], skilled[1:]
    return np.stack([unit[:, 0], others[:, ~needs].sum(axis=1), others[:, needs].sum(axis=1)])


@cache
def _rust(grade: int) -> Floats:
    """(1 + STRATA,) values of rust: none, then equally likely ones of a gamma distribution."""
    drawn = np.random.default_rng(grade).gamma(1.2, RUST[grade] / 1.2, 200 * STRATA)
    strata: Floats = np.sort(drawn).reshape(STRATA, 200).mean(axis=1)
    return np.concatenate([[0.0], strata])


def _rust_chances(grade: int) -> Floats:
    none = NO_RUST[grade]
    return np.concatenate([[none], np.full(STRATA, (1 - none) / STRATA)])
