"""What a careful foreman would do with a spreadsheet: the mean of what it took so far.

Ratios to the book, in logs, of the same phase on the same family; where there are too few, of the
same phase; then of all phases. The spread is that of the ratios found.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator

import numpy as np

from store.learn.records import Record
from tests.bench.hours.baselines import by_the_book
from tests.bench.hours.baselines.lognormal import sum_row
from tests.bench.hours.baselines.replay import replay
from tests.bench.hours.rows import Row, Slot

ENOUGH = 3
ENOUGH_TO_SEE_A_SPREAD = 6
Key = tuple[str, ...]


class _Running:
    """Count, mean and squares about the mean (Welford 1962)."""

    def __init__(self) -> None:
        self.n, self.mean, self._squares = 0, 0.0, 0.0

    def add(self, x: float) -> None:
        self.n += 1
        apart = x - self.mean
        self.mean += apart / self.n
        self._squares += apart * (x - self.mean)

    def sd(self) -> float:
        return math.sqrt(self._squares / max(1, self.n - 1))


class RunningMeans:
    """Means by phase and family, by phase, of all."""

    def __init__(self) -> None:
        self._by: defaultdict[Key, _Running] = defaultdict(_Running)

    def learn(self, record: Record) -> None:
        ratio = math.log(record.actual_h / record.book_h)
        for key in _keys(record):
            self._by[key].add(ratio)

    def forecast(self, slot: Slot) -> Row:
        found = [self._of(one) for one in slot.covers]
        m = np.array([math.log(one.book_h) for one in slot.covers]) + [mean for mean, _ in found]
        return sum_row(slot, m, np.array([s for _, s in found]), by_the_book.TOGETHER)

    def _of(self, record: Record) -> tuple[float, float]:
        """Mean and spread of ln(hours / book) that would be believed for such a phase."""
        known = [self._by[key] for key in _keys(record)]
        mean = next((one.mean for one in known if one.n >= ENOUGH), 0.0)
        few = (one.sd() for one in known if one.n >= ENOUGH_TO_SEE_A_SPREAD)
        return mean, max(0.1, next(few, by_the_book.SPREAD))


def _keys(record: Record) -> list[Key]:
    """From the narrowest to all."""
    phase = (record.template, record.phase)
    return [(*phase, record.variant), phase, ()]


def hours(records: Iterable[Record]) -> Iterator[Row]:
    """Every row of a history, from running means."""
    return replay(records, RunningMeans())
