"""A simulated shop's history: its finished phases as they were recorded, and what is true."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from store.learn.records import People, Record
from store.learn.scores import Floats
from tests.bench.hours.additive import Additive
from tests.bench.hours.calendar import FIRST_DAY, arrivals, instant, stays
from tests.bench.hours.faults import Fault, Faults
from tests.bench.hours.flavours import FLAVOURS, Flavour
from tests.bench.hours.jobs import Experience, Job
from tests.bench.hours.law import Law
from tests.bench.hours.levels import MONTH, YEARS
from tests.bench.hours.multiplicative import GRADES, Multiplicative
from tests.bench.hours.routes import Catalogue, Phase, catalogue
from tests.bench.hours.staff import Staff, staff

Make = Callable[[np.random.Generator, Flavour, Catalogue, Staff, float], Law]
MAKES: dict[str, Make] = {"a": Multiplicative, "b": Additive}
"""The two simulators."""


@dataclass(frozen=True, slots=True, eq=False)
class Done:
    """A finished job: what was true, what was recorded, who did it, and which records are false."""

    job: Job
    hours: Floats
    records: tuple[Record, ...]
    people: tuple[int, ...]
    faults: tuple[Fault, ...]


@dataclass(frozen=True, slots=True, eq=False)
class History:
    """All jobs of a shop in order of their start, the law they followed, who was employed."""

    law: Law
    done: tuple[Done, ...]
    people: People

    @property
    def records(self) -> list[Record]:
        return [one for job in self.done for one in job.records]


def simulate(make: str, flavour: str, jobs: int, seed: Sequence[int]) -> History:
    """Draw a shop and its first jobs. A longer history begins with the shorter one, job by job."""
    return Simulated(MAKES[make], FLAVOURS[flavour], seed).history(jobs)


class Simulated:
    """A shop that takes one job after another."""

    def __init__(self, make: Make, flavour: Flavour, seed: Sequence[int]) -> None:
        dice, self._arriving, self._jobs = np.random.default_rng(list(seed)).spawn(3)
        self._flavour = flavour
        self._catalogue = catalogue(dice, flavour)
        self._operations = tuple(one.code for one in self._catalogue.operations)
        end = FIRST_DAY + YEARS * 12 * MONTH
        self._staff = staff(dice, flavour, self._operations, FIRST_DAY, end)
        self._faults = Faults.drawn(dice, flavour)
        self._grade_known = flavour.rust and not (flavour.drift and dice.random() < 0.5)
        self.law = make(dice, flavour, self._catalogue, self._staff, FIRST_DAY)
        self._experience = Experience(len(self._staff.people), self._operations)
        self._length = {one: len(self._catalogue.route((one,))) for one in self._operations}

    def history(self, jobs: int) -> History:
        begins = arrivals(self._arriving, jobs)
        dice = self._jobs.spawn(jobs)
        done = tuple(self._done(dice[n], f"{1001 + n}", float(begins[n])) for n in range(jobs))
        return History(self.law, done, self._staff.roster())

    def _job(self, dice: np.random.Generator, number: str, start: float) -> Job:
        known = self._catalogue
        count = 2 if dice.random() < known.joined_share else 1
        chosen = dice.choice(len(self._operations), count, replace=False, p=known.popularity)
        operations = tuple(self._operations[int(n)] for n in np.sort(chosen))
        family = known.families[int(dice.choice(len(known.families), p=known.frequency))]
        grade = 1 + int(dice.choice(4, p=GRADES)) if self._flavour.rust else 2
        route = known.route(operations)
        return Job(
            number=number,
            operations=operations,
            family=family,
            grade=grade,
            grade_known=self._grade_known,
            start=start,
            route=route,
            book=self.law.book(route, family, start),
            odds=self._staff.odds(operations, start),
            stay=self._staff.stay,
            experience=self._experience.before(start, route),
        )

    def _done(self, dice: np.random.Generator, number: str, begin: float) -> Done:
        job = self._job(dice, number, instant(begin))
        people = job.hands(dice, 1, 0)[:, 0]
        law = self.law.of_job(job)
        condition = law.conditions(law.weights, 1, dice)
        hours = np.array(
            [float(law.hours(i, people[i : i + 1], condition, dice)[0]) for i in range(len(people))]
        )
        recorded, faults = self._faults.recorded(dice, hours, people)
        times = [(instant(a), instant(b)) for a, b in stays(dice, hours, begin).tolist()]
        seqs = _numbers(dice, len(people))
        records = tuple(
            self._record(job, i, seqs, int(people[i]), float(recorded[i]), times[i], faults[i])
            for i in range(len(people))
        )
        for one, person, phase in zip(records, people.tolist(), job.route, strict=True):
            self._count(one.closed, person, phase)
        return Done(job, hours, records, tuple(people.tolist()), tuple(faults))

    def _count(self, at: float, person: int, phase: Phase) -> None:
        fractions = {one: 1 / self._length[one] for one in phase.serves}
        self._experience.closes(at, person, phase, fractions)

    def _record(
        self,
        job: Job,
        i: int,
        seqs: list[int],
        person: int,
        hours: float,
        times: tuple[float, float],
        fault: Fault,
    ) -> Record:
        shown = self._flavour.rust and self._grade_known
        neighbour = {"lumped with the next": i + 1, "lumped with the last": i - 1}.get(fault)
        told = self._flavour.told and neighbour is not None
        return Record(
            job=job.number,
            template=job.template,
            variant=job.family,
            phase=job.route[i].code,
            seq=seqs[i],
            technician=self._staff.people[person].badge,
            started=times[0],
            closed=max(times[1], times[0] + 60),
            book_h=float(job.book[i]),
            actual_h=hours,
            grade=job.grade if shown else None,
            phase_class=job.route[i].phase_class if shown else None,
            lumped_with=seqs[neighbour] if told and neighbour is not None else None,
        )


def _numbers(dice: np.random.Generator, phases: int) -> list[int]:
    """1, 2, 3 …, now and then with one left out for a phase without labour."""
    steps = 1 + (dice.random(phases) < 0.06)
    steps[0] = 1
    return [int(one) for one in np.cumsum(steps)]
