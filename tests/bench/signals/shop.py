"""An invented shop's finished phases, with or without a story. Hours are the book's times factors;
all spreads are drawn for each seed, the book is right within some hundredths."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from store.learn.labour.terms import LOADING
from store.learn.records import CLASSES, PhaseClass, Record

DAY = 86_400.0
YEAR = 365.25 * DAY
BEGIN = 1_700_000_000.0
JOBS_A_YEAR = 230
OPERATIONS, FAMILIES, PEOPLE = 10, 8, 5

Story = Callable[["Doing"], float]
"""What a story adds to ln of the hours."""


@dataclass(frozen=True, slots=True)
class Doing:
    """One phase as it is done. `years`: since the shop began, when it is finished."""

    operation: str
    phase: str
    phase_class: PhaseClass
    family: str
    person: str
    years: float


def nothing(doing: Doing) -> float:
    """No story."""
    del doing
    return 0.0


@dataclass(frozen=True, slots=True)
class Way:
    """Phases of an operation: code, class, book hours."""

    operation: str
    phases: tuple[tuple[str, PhaseClass, float], ...]


class Shop:
    """One seed's shop."""

    def __init__(self, seed: int) -> None:
        self._dice = np.random.default_rng(seed)
        access = [self._phase(f"A{n}", "strip" if n % 2 else "refit") for n in range(8)]
        self.ways = [self._way(number, access) for number in range(OPERATIONS)]
        common = self._dice.dirichlet(np.full(OPERATIONS, 3.0))
        self._common = common
        self._families = self._dice.dirichlet(np.full(FAMILIES, 3.0))
        self._levels: dict[tuple[str, str], float] = {}
        self._job_sd = self._dice.uniform(0.12, 0.2)
        self._noise: dict[str, float] = {}
        self._surprises = self._dice.uniform(0.03, 0.12)

    def _phase(self, code: str, phase_class: PhaseClass) -> tuple[str, PhaseClass, float]:
        return code, phase_class, round(float(np.exp(self._dice.normal(0.3, 0.6))), 1) + 0.2

    def _way(self, number: int, access: list[tuple[str, PhaseClass, float]]) -> Way:
        places = self._dice.choice(4, int(self._dice.integers(1, 3)), replace=False)
        out = [access[2 * int(place) + 1] for place in places]
        back = [access[2 * int(place)] for place in places[::-1]]
        own = [
            self._phase(f"P{number}{n}", CLASSES[int(self._dice.integers(3))])
            for n in range(int(self._dice.integers(3, 7)))
        ]
        return Way(f"O{number}", (*out, *own, *back))

    def _level(self, kind: str, code: str, sd: float) -> float:
        if (kind, code) not in self._levels:
            self._levels[kind, code] = float(self._dice.normal(0, sd))
        return self._levels[kind, code]

    def worked(self, years: float, story: Story = nothing) -> list[Record]:
        """Return all phases of some years. The same seed's shop is the same in every story."""
        records: list[Record] = []
        done: dict[tuple[str, str], int] = {}
        begun = np.sort(self._dice.uniform(0, years, int(years * JOBS_A_YEAR)))
        for number, when in enumerate(begun):
            records += self._job(str(number), float(when), done, story)
        return records

    def _job(
        self, job: str, years: float, done: dict[tuple[str, str], int], story: Story
    ) -> list[Record]:
        dice = self._dice
        way = self.ways[int(dice.choice(OPERATIONS, p=self._common))]
        family = f"F{int(dice.choice(FAMILIES, p=self._families))}"
        grade, condition = int(dice.choice(4, p=[0.2, 0.5, 0.2, 0.1])) + 1, dice.normal()
        first = int(dice.integers(PEOPLE))
        records: list[Record] = []
        for seq, (code, phase_class, book_h) in enumerate(way.phases, 1):
            hand = first if dice.random() < 0.7 else int(dice.integers(PEOPLE))
            doing = Doing(way.operation, code, phase_class, family, f"B{hand}", years + seq / 700)
            log_h = self._log_h(doing, grade, condition) + story(doing)
            log_h += 0.15 * math.exp(-done.get((doing.person, way.operation), 0) / 5)
            closed = BEGIN + doing.years * YEAR
            records.append(
                Record(job, way.operation, family, code, seq, doing.person, closed - 3_600, closed,
                       book_h, book_h * math.exp(log_h), grade, phase_class, 1)
            )  # fmt: skip
        hands = {one.technician for one in records}
        for hand_of in hands:
            done[hand_of, way.operation] = done.get((hand_of, way.operation), 0) + 1
        return records

    def _log_h(self, doing: Doing, grade: int, condition: float) -> float:
        dice = self._dice
        felt = LOADING[doing.phase_class]
        total = self._level("operation", doing.operation, 0.04)
        total += self._level("phase", doing.phase, 0.04) + self._level("family", doing.family, 0.04)
        total += self._level("person", doing.person, 0.12) + self._level("shop", "", 0.1)
        total += 0.1 * felt * (grade - 2) + self._job_sd * felt * condition
        if doing.phase not in self._noise:
            self._noise[doing.phase] = float(np.exp(dice.normal(math.log(0.2), 0.3)))
        total += self._noise[doing.phase] * dice.normal()
        if dice.random() < self._surprises:
            total += dice.normal(0.65, 0.3)
        fault = dice.random()
        if fault < 0.004:
            total += dice.normal(1.75, 0.4)
        return total + (dice.normal(-3.3, 1.0) if fault > 0.996 else 0.0)
