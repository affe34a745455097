"""How near forecasts come to the truth's, on one shop."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from time import perf_counter

import numpy as np

from store.learn.records import Record
from store.learn.scores import Floats, inside, mean_pinball
from tests.bench.hours.rows import AnyRow, Slot, slots

Method = Callable[..., Iterable[AnyRow]]
"""Called with a list of records."""


@dataclass(frozen=True, slots=True, eq=False)
class Score:
    """Of one method on one shop.

    Attributes:
        loss: (rows,) mean pinball loss by hours of book.
        held80, held90: shares inside the central ranges.
    """

    loss: Floats
    held80: float
    held90: float
    seconds: float


def measured(method: Method, records: list[Record]) -> Score:
    """Run a method over a history and score every row."""
    start = perf_counter()
    rows = list(method(records))
    return scored(list(slots(records)), rows, perf_counter() - start)


def scored(asked: Sequence[Slot], rows: Sequence[AnyRow], seconds: float) -> Score:
    """Score rows that must be those asked for.

    Raises:
        ValueError: a row is missing, out of order, or falls.
    """
    _same(asked, rows)
    y = np.array([one.actual_h for one in asked])
    book = np.array([one.book_h for one in asked])
    q = np.array([row.quantiles for row in rows])
    bad = np.flatnonzero((np.diff(q, axis=1) < 0).any(axis=1) | ~(q > 0).all(axis=1))
    if len(bad):
        raise ValueError(f"row {bad[0] + 1}, {asked[bad[0]]}: quantiles fall or are not above 0")
    held80, held90 = (float(inside(y, q, share).mean()) for share in (0.8, 0.9))
    return Score(mean_pinball(y, q) / book, held80, held90, seconds)


def _same(asked: Sequence[Slot], rows: Sequence[AnyRow]) -> None:
    if len(asked) != len(rows):
        raise ValueError(f"{len(rows)} rows where {len(asked)} are asked for")
    for n, (slot, row) in enumerate(zip(asked, rows, strict=True)):
        if _key(slot) != _key(row):
            raise ValueError(f"row {n + 1} is {_key(row)}, asked for {_key(slot)}")


def _key(of: Slot | AnyRow) -> tuple[str, str, int, str, float]:
    return of.job, of.phase, of.seq, of.moment, of.as_of
