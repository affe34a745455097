"""One shop's forecasts against the oracle's."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np

from store.learn.arrays import Floats
from store.learn.dates.spans import Span
from store.learn.records import People, Record
from store.learn.scores import LEVELS, inside, mean_pinball
from tests.bench.floors.baselines import nearest
from tests.bench.floors.cases import Case, Key, cases
from tests.bench.floors.oracle import Seen
from tests.bench.floors.past import Past

PROMISE = 15
"""Index of the 80th per cent."""


class Row(Protocol):
    """What a learner says of one moment."""

    @property
    def job(self) -> str: ...
    @property
    def seq(self) -> int: ...
    @property
    def moment(self) -> str: ...
    @property
    def open_hours(self) -> float: ...
    @property
    def quantiles(self) -> Sequence[float]: ...
    @property
    def naive(self) -> float: ...


Learner = Callable[
    [Sequence[Record], Sequence[Span], Sequence[tuple[float, float]], People], Iterable[Row]
]


class BrokenJudge(Exception):
    """Learner and floor do not speak of the same rows or hours."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """Mean pinball loss (open hours) of the oracle's rows, and what held in all rows (booleans).

    Attributes:
        booked: which of all rows were made at `booked`.
        in_range: whether the finish lay from the 10th to the 90th per cent; `kept`: by the 80th.
        oracle_in_range: the same of the oracle's own ranges, in its rows.
    """

    learner: float
    naive: float
    nearest: float
    oracle: float
    booked: Floats
    in_range: Floats
    kept: Floats
    oracle_in_range: Floats
    seconds: float


def judged(past: Past, seen: Sequence[Seen], learner: Learner) -> Verdict:
    """Ask a learner for all dates of a past, and compare on the oracle's rows."""
    begun = time.perf_counter()
    rows = list(learner(past.records, past.spans, past.open_spans, past.people))
    seconds = time.perf_counter() - begun
    asked = cases(past)
    said = _matched(asked, rows)
    place = {one.key: i for i, one in enumerate(asked)}
    picked = [place[(one.job, one.seq, one.moment)] for one in seen]
    y = np.array([one.open_h for one in asked])
    q = np.array([one.quantiles for one in said], float)
    naive = np.repeat(np.array([[one.naive] for one in said], float), len(LEVELS), axis=1)
    true, clones = _true(seen), len(seen[0].draws)
    loss: Callable[[Floats], float] = lambda of: float(  # noqa: E731
        mean_pinball(y[picked], of).mean()
    )
    return Verdict(
        loss(q[picked]), loss(naive[picked]), loss(nearest(asked)[picked]),
        loss(true) / (1 + 1 / clones),
        np.array([one.key[2] == "booked" for one in asked], float),
        inside(y, q, 0.8).astype(float), (y <= q[:, PROMISE]).astype(float),
        inside(y[picked], true, 0.8).astype(float), seconds,
    )  # fmt: skip


def _true(seen: Sequence[Seen]) -> Floats:
    """The oracle's quantiles.

    So many draws lose 1 + 1/n times what their law loses (Ferro, Q. J. R. Meteorol. Soc. 140
    (2014), of draws' CRPS; within .001 for 19 quantiles of 50 log-normal draws or more).
    """
    return np.array([np.quantile(one.draws, LEVELS, method="hazen") for one in seen])


def _matched(asked: Sequence[Case], rows: Iterable[Row]) -> list[Row]:
    by: dict[Key, Row] = {(one.job, one.seq, one.moment): one for one in rows}
    if set(by) != {one.key for one in asked}:
        odd = sorted(set(by) ^ {one.key for one in asked})
        raise BrokenJudge(f"rows on one side only: {len(odd)}, the first {odd[0]}")
    for one in asked:
        if abs(by[one.key].open_hours - one.open_h) > 1e-3:
            says = by[one.key].open_hours
            raise BrokenJudge(
                f"{one.key}: {one.open_h:.3f} open hours, the learner says {says:.3f}"
            )
    return [by[one.key] for one in asked]
