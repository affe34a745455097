"""The work book's hours and nothing else."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np

from store.learn.records import Record
from tests.bench.hours.baselines.lognormal import sum_row
from tests.bench.hours.rows import Row, slots

SPREAD = 0.4
"""Two phases of three lie between two thirds of the book and one and a half times the book."""
TOGETHER = 0.4
"""Phases of one job are slow or quick together."""


def hours(records: Iterable[Record]) -> Iterator[Row]:
    """Log-normal about the book's hours; nothing is learned."""
    for slot in slots(records):
        m = np.log([one.book_h for one in slot.covers])
        yield sum_row(slot, m, np.full(len(m), SPREAD), TOGETHER)
