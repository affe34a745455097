"""The first simulator: hours are the book's times many factors, log-normal, with surprises.

It has the shape of the model that the learner fits. Its spreads, rates and sizes are drawn anew
for each shop.
"""

from __future__ import annotations

import math
from typing import get_args

import numpy as np

from store.learn.records import PhaseClass
from store.learn.scores import Floats
from tests.bench.hours.book import Book
from tests.bench.hours.dice import Indices, log_mean, normals, picked, uniforms
from tests.bench.hours.flavours import Flavour
from tests.bench.hours.jobs import Job
from tests.bench.hours.law import JobLaw
from tests.bench.hours.levels import Jumps, Levels, Walks, around
from tests.bench.hours.routes import Catalogue, Phase
from tests.bench.hours.staff import Staff

GRID = np.linspace(-3.6, 3.6, 81)
"""Conditions of a vehicle, in standard deviations."""
GRADES = np.array([0.2, 0.5, 0.2, 0.1])
"""How often grades 1 to 4 arrive."""
STEPS = 200
"""In which two lumped phases are convolved."""
EVEN: dict[PhaseClass, float] = dict.fromkeys(get_args(PhaseClass), 1.0)


class Multiplicative:
    """The true parameters of one shop, and ln hours as their sum."""

    def __init__(
        self,
        dice: np.random.Generator,
        flavour: Flavour,
        catalogue: Catalogue,
        staff: Staff,
        begin: float,
    ) -> None:
        self._staff = staff
        hours = {code: float(np.clip(around(dice, 1.6, 0.6), 0.3, 8)) for code in catalogue.codes()}
        # half of all books know one figure a phase, half one for each family
        family = Levels(dice, float(dice.uniform(0.05, 0.2)) * (dice.random() < 0.5))
        self._book = Book(dice, hours, begin, family, rewritten=flavour.rewritten)
        self._draw_work(dice, flavour)
        self._draw_people(dice, flavour)
        self._draw_noise(dice, flavour)
        self._draw_change(dice, flavour, begin)

    def _draw_work(self, dice: np.random.Generator, flavour: Flavour) -> None:
        self._mu = float(dice.normal(0.05, 0.2))
        self._operation = Levels(dice, around(dice, 0.12))
        self._access = Levels(dice, around(dice, 0.2))
        self._access_here = Levels(dice, around(dice, 0.1))
        self._work = Levels(dice, around(dice, 0.25))
        parts, whole = (0.11, 0.05) if flavour.sparse else (0.06, 0.09)
        self._part = Levels(dice, around(dice, parts))
        self._family = Levels(dice, around(dice, whole))
        self._part_phase = Levels(dice, around(dice, 0.05))
        self._family_operation = Levels(dice, around(dice, 0.06))
        self._family_phase = Levels(dice, around(dice, 0.06))

    def _draw_people(self, dice: np.random.Generator, flavour: Flavour) -> None:
        strong = flavour.strong
        self._person = Levels(dice, around(dice, 0.32 if strong else 0.11))
        self._person_operation = Levels(dice, around(dice, 0.13 if strong else 0.05))
        self._learning = max(0.0, float(dice.normal(0.12 if strong else 0.08, 0.06)))
        self._learning_of = Levels(dice, around(dice, 0.15 if strong else 0.08))
        self._learned_after = float(dice.uniform(3, 10))
        self._first_year = float(dice.uniform(math.log(1.6), math.log(2.2)))

    def _draw_noise(self, dice: np.random.Generator, flavour: Flavour) -> None:
        self._vehicle_sd = around(dice, 0.25 if flavour.rust else 0.17)
        self._loads: dict[PhaseClass, float] = dict(EVEN)
        self._graded = flavour.rust
        if flavour.rust:
            self._loads = {
                "strip": float(dice.uniform(1.2, 1.8)),
                "work": float(dice.uniform(0.7, 1.1)),
                "refit": float(dice.uniform(0.2, 0.8)),
            }
        self._rusty = float(dice.uniform(0.6, 1.4))
        self._noise_sd = around(dice, 0.21, 0.2)
        self._noise = Levels(dice, float(dice.uniform(0.15, 0.4)))
        self._small_noisier = float(dice.uniform(0, 0.3))
        self._surprise_rate = min(0.3, around(dice, 0.08, 0.4))
        self._surprises: dict[tuple[str, str], float] = {}
        self._surprise_size = float(dice.normal(0.65, 0.12))
        self._surprise_sd = around(dice, 0.3, 0.2)
        self._dice = dice.spawn(1)[0]

    def _draw_change(self, dice: np.random.Generator, flavour: Flavour, begin: float) -> None:
        shop = around(dice, 0.05) if flavour.drift else 0.0
        phase = around(dice, 0.08) if flavour.drift else 0.0
        self._shop_walk = Walks(dice, shop, 1, begin)
        self._phase_walk = Walks(dice, phase, 3, begin)
        self._shop_jumps = Jumps(dice, 0.2, 1.0 * flavour.drift, begin)
        self._phase_jumps: dict[str, Jumps] = {}
        self._phase_jump = (0.4, 0.25 * flavour.drift, begin)
        self._follows = float(dice.uniform(-1.0, -0.2))
        self._follows_of = Levels(dice, 0.2)

    def book(self, route: tuple[Phase, ...], family: str, at: float) -> Floats:
        """(n,) what the work book says on that day, hours."""
        return self._book.of(route, family, at)

    def of_job(self, job: Job) -> JobLaw:
        """The true distribution of a job's hours."""
        work = np.array([self._of_work(job, i) for i in range(len(job.route))])
        return MultiplicativeJob(
            centre=self._of_people(job) + work,
            load=np.array([self._loads[one.phase_class] for one in job.route]) * self._vehicle_sd,
            sd=np.array([self._sd_of(job, i) for i in range(len(job.route))]),
            chance=np.array([self._chance_of(one) for one in job.route]),
            surprise=(self._surprise_size, self._surprise_sd),
            graded=np.array([self._of_grades(one) for one in job.route]),
            grade=job.grade if job.grade_known or not self._graded else None,
        )

    def _of_work(self, job: Job, i: int) -> float:
        """ln hours of phase i by nobody in particular."""
        phase = job.route[i]
        first = self._book.first(phase.code, job.family)
        rewritten = math.log(job.book[i] / first)
        return (
            math.log(job.book[i])
            + self._mu
            + self._mean(self._operation, phase)
            + self._of_phase(phase)
            + self._of_family(phase, job.family)
            + self._drift(phase, job.start)
            + (self._follows + self._follows_of(phase.code)) * rewritten
        )

    def _of_phase(self, phase: Phase) -> float:
        if "-off" in phase.code or "-on" in phase.code or phase.code == "ZR":
            return self._access(phase.code) + self._mean(self._access_here, phase, phase.code)
        return self._work(phase.code)

    def _of_family(self, phase: Phase, family: str) -> float:
        parts = family.split("-")
        of_parts = sum(self._part(n, one) for n, one in enumerate(parts)) if len(parts) > 1 else 0
        of_part_phase = self._part_phase(
            phase.code, parts[0 if phase.phase_class == "work" else -1]
        )
        return (
            self._family(family)
            + of_parts
            + of_part_phase
            + self._mean(self._family_operation, phase, family)
            + self._family_phase(phase.code, family)
        )

    def _drift(self, phase: Phase, at: float) -> float:
        sd, per_year, begin = self._phase_jump
        if phase.code not in self._phase_jumps:
            self._phase_jumps[phase.code] = Jumps(self._dice, sd, per_year, begin)
        return (
            self._shop_walk("shop", at)
            + self._phase_walk(phase.code, at)
            + self._shop_jumps(at)
            + self._phase_jumps[phase.code](at)
        )

    def _of_people(self, job: Job) -> Floats:
        """(people, n) what each adds: pace, first times, apprenticeship."""
        forgetting = np.exp(-job.experience / self._learned_after)
        none = [0.0] * len(job.route)
        rows = [self._of_person(k, job) if odds else none for k, odds in job.shares()]
        first = [self._learning + self._learning_of(k) for k in range(len(rows))]
        found: Floats = np.array(rows) + np.maximum(np.array(first), -0.1)[:, None] * forgetting
        return found

    def _of_person(self, k: int, job: Job) -> list[float]:
        years = self._staff.people[k].apprentice_years(job.start)
        green = 0.0 if years is None else self._first_year * max(0.0, 1 - max(0.0, years - 0.5) / 2)
        return [
            self._person(k) + green + self._mean(self._person_operation, one, k)
            for one in job.route
        ]

    def _sd_of(self, job: Job, i: int) -> float:
        code = job.route[i].code
        small = (self._book.first(code, job.family) / 1.6) ** -self._small_noisier
        return self._noise_sd * math.exp(self._noise(code)) * min(1.4, max(0.75, float(small)))

    def _chance_of(self, phase: Phase) -> float:
        key = (phase.code, phase.serves[0])
        if key not in self._surprises:
            rate = self._surprise_rate
            self._surprises[key] = float(self._dice.beta(20 * rate, 20 * (1 - rate)))
        return self._surprises[key]

    def _of_grades(self, phase: Phase) -> list[float]:
        """What grades 1 to 4 add in logs; condition grades are common practice, no source."""
        if not self._graded:
            return [0.0] * 4
        strip = {"strip": (-0.16, 0.37, 0.14), "refit": (-0.05, 0.10, 0.14)}
        one, three, four = strip.get(phase.phase_class, (-0.03, 0.08, 0.1))
        return [self._rusty * x for x in (one, 0.0, three, four)]

    @staticmethod
    def _mean(levels: Levels, phase: Phase, *key: str | int) -> float:
        """The level of the operation a phase serves, or the mean of several."""
        return sum(levels(one, *key) for one in phase.serves) / len(phase.serves)


class MultiplicativeJob:
    """ln hours of phase i = centre[person, i] + load[i] z + graded[i, grade] + noise."""

    def __init__(
        self,
        *,
        centre: Floats,
        load: Floats,
        sd: Floats,
        chance: Floats,
        surprise: tuple[float, float],
        graded: Floats,
        grade: int | None,
    ) -> None:
        self._centre, self._load, self._sd, self._graded = centre, load, sd, graded
        self._surprise = surprise
        # rust and earlier bodging make surprises likelier; ungraded shops have grade 2 throughout
        self._chance = np.minimum(0.6, chance[:, None] * np.array([0.6, 1.0, 2.0, 2.0]))
        share = GRADES if grade is None else np.eye(4)[grade - 1]
        grades = np.flatnonzero(share)
        self._grid = np.array([(z, float(g)) for g in grades.tolist() for z in GRID.tolist()])
        bell = np.exp(-GRID * GRID / 2)
        self.weights: Floats = np.concatenate([share[g] * bell / bell.sum() for g in grades])

    def conditions(self, weights: Floats, draws: int, dice: np.random.Generator) -> Floats:
        chosen = self._grid[picked(weights, draws, dice)]
        chosen[:, 0] += (uniforms(dice, draws) - 0.5) * (GRID[1] - GRID[0])
        return chosen

    def hours(
        self, i: int, people: Indices, conditions: Floats, dice: np.random.Generator
    ) -> Floats:
        n = len(people)
        grade = conditions[:, 1].astype(int)
        y = self._middle(i, people, conditions) + self._sd[i] * normals(dice, n)
        size, sd = self._surprise
        found = uniforms(dice, n) < self._chance[i, grade]
        hours: Floats = np.exp(y + found * (size + sd * normals(dice, n)))
        return hours

    def log_density(self, i: int, person: int, hours: float) -> Floats:
        return self._density(i, person, np.full((len(self._grid), 1), math.log(hours)))[:, 0]

    def log_density_of_two(self, i: int, j: int, person: int, hours: float) -> Floats:
        y = np.log((np.arange(STEPS) + 0.5) / STEPS * hours)[None, :]
        rest = y[:, ::-1]  # what is left for the other phase
        both = self._density(i, person, y) - y + self._density(j, person, rest) - rest
        return log_mean(both, axis=1)

    def _middle(self, i: int, people: Indices | int, conditions: Floats) -> Floats:
        grade = conditions[:, 1].astype(int)
        middle: Floats = (
            self._centre[people, i] + self._load[i] * conditions[:, 0] + self._graded[i, grade]
        )
        return middle

    def _density(self, i: int, person: int, y: Floats) -> Floats:
        """(L, m) log density of ln hours y (L, m): clean or surprised."""
        apart = y - self._middle(i, person, self._grid)[:, None]
        chance = self._chance[i, self._grid[:, 1].astype(int)][:, None]
        size, sd = self._surprise
        wide = math.hypot(self._sd[i], sd)
        clean = np.log1p(-chance) - 0.5 * (apart / self._sd[i]) ** 2 - math.log(self._sd[i])
        found = np.log(chance) - 0.5 * ((apart - size) / wide) ** 2 - math.log(wide)
        density: Floats = np.logaddexp(clean, found)
        return density
