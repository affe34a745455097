"""A small shop with plain rules, for tests: hours are what the rules say, times a seeded noise."""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from store.learn.records import PhaseClass, Record

DAY = 86_400.0
BEGIN = 1_700_000_000.0
PHASES: tuple[tuple[str, float, PhaseClass], ...] = (
    ("off", 2.0, "strip"),
    ("mend", 3.0, "work"),
    ("on", 2.5, "refit"),
)
Ratio = Callable[[str, str, str, str], float]
"""Hours per book hour by phase, family, technician and job."""


def as_booked(phase: str, family: str, technician: str, job: str) -> float:
    """Everything takes what the book says."""
    del phase, family, technician, job
    return 1.0


@dataclass
class SmallShop:
    """Jobs one after the other, three phases each, one technician a job."""

    ratio: Ratio = as_booked
    noise: float = 0.15
    condition: float = 0.1
    technicians: Sequence[str] = ("B12", "B17")
    families: Sequence[str] = ("B4-M-F", "D4-M-R")
    seed: int = 5
    marks: Mapping[tuple[int, int], Mapping[str, object]] = field(
        default_factory=dict[tuple[int, int], Mapping[str, object]]
    )
    """Fields of single records, by job and phase, that are set otherwise."""

    def records(
        self, jobs: int, phases: Sequence[tuple[str, float, PhaseClass]] = PHASES
    ) -> list[Record]:
        """Return the finished phases of so many jobs."""
        dice = random.Random(self.seed)
        found: list[Record] = []
        for number in range(jobs):
            who = self.technicians[dice.randrange(len(self.technicians))]
            family = self.families[dice.randrange(len(self.families))]
            job, at = f"J{number}", BEGIN + number * DAY
            felt = dice.gauss(0, self.condition)
            for seq, (phase, book, of_class) in enumerate(phases, 1):
                log = math.log(self.ratio(phase, family, who, job)) + felt
                hours = book * math.exp(log + dice.gauss(0, self.noise))
                one = {
                    "job": job, "template": "CL", "variant": family, "phase": phase, "seq": seq,
                    "technician": who, "started": at, "closed": at + hours * 3600, "book_h": book,
                    "actual_h": hours, "phase_class": of_class,
                } | dict(self.marks.get((number, seq), {}))  # fmt: skip
                found.append(Record(**one))  # type: ignore[arg-type]  # fields by name
                at += hours * 3600 + 600
        return found


def last_moment(records: Sequence[Record]) -> float:
    """Return when the last phase was closed."""
    return max(one.closed for one in records)
