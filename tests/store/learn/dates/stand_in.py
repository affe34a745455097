"""A small learner of labour hours, for tests of dates: running log-means by phase, pooled."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence
from zlib import crc32

import numpy as np

from store.learn.arrays import Floats
from store.learn.dates.replay import Moment
from store.learn.records import Record

DRAWS = 500
PHASE_WORTH, GRADE_WORTH, JOB_WORTH, SPREAD_WORTH = 4.0, 15.0, 3.0, 20.0
JOB_SHARE = 0.3
"""Of the variance of a phase's log ratio to the book, what all phases of a job have in common."""


class Mean:
    """A running mean, shrunk to another one."""

    def __init__(self) -> None:
        self.n, self.total = 0, 0.0

    def add(self, value: float) -> None:
        self.n += 1
        self.total += value

    def at(self, usual: float, worth: float) -> float:
        return (worth * usual + self.total) / (worth + self.n)


class StandIn:
    """Log ratio of labour to book: the shop's mean, the phase's, the grade's, the job's."""

    def __init__(self, records: Sequence[Record]) -> None:
        self._closing = sorted(records, key=lambda one: (one.closed, one.job, one.seq))
        self._next = 0
        self._facts = {(one.job, one.seq): one for one in records}
        self._shop = Mean()
        self._phases: dict[tuple[str, str], Mean] = defaultdict(Mean)
        self._grades: dict[int | None, Mean] = defaultdict(Mean)
        self._jobs: dict[str, Mean] = defaultdict(Mean)
        self._squares = 0.0

    def draws(self, moment: Moment) -> Floats:
        """Draw what is left, from what was closed before the moment."""
        while self._next < len(self._closing) and self._closing[self._next].closed < moment.as_of:
            self._learn(self._closing[self._next])
            self._next += 1
        left = [self._facts[moment.job, seq] for seq in moment.left]
        own = self._jobs[moment.job] if moment.moment == "started" else Mean()
        logs = np.array([self._usual(one) + math.log(one.book_h) for one in left])
        variance = self._variance()
        common = JOB_SHARE * variance / (1 + own.n / JOB_WORTH)
        rng = np.random.default_rng(crc32(f"{moment.job} {moment.seq}".encode()))
        shape = (DRAWS, len(left))
        z = math.sqrt(common) * rng.standard_normal((DRAWS, 1))
        z = z + math.sqrt((1 - JOB_SHARE) * variance) * rng.standard_normal(shape)
        found: Floats = np.exp(logs + own.at(0.0, JOB_WORTH) + z)
        return found

    def _usual(self, one: Record) -> float:
        shop = self._shop.at(0.0, 4.0)
        grade = self._grades[one.grade].at(0.0, GRADE_WORTH)
        return self._phases[one.template, one.phase].at(shop, PHASE_WORTH) + grade

    def _variance(self) -> float:
        return (SPREAD_WORTH * 0.3**2 + self._squares) / (SPREAD_WORTH + self._shop.n)

    def _learn(self, one: Record) -> None:
        value = math.log(one.actual_h / one.book_h)
        miss = min(1.5, max(-1.5, value - self._usual(one)))
        self._squares += miss * miss
        self._jobs[one.job].add(miss)
        self._grades[one.grade].add(miss)
        self._phases[one.template, one.phase].add(value)
        self._shop.add(value)
