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
    """Losses on the oracle's rows (open hours), and what held in all rows (1 or 0).

    Attributes:
        learner, naive, nearest, oracle: mean pinball loss that the oracle's laws expect of each.
        learner_came, oracle_came: the same by what came, which chance moves much more.
        law: share of each law, in the oracle's rows, that the learner's 80 % range holds.
        booked: which of all rows were made at `booked`.
        in_range: whether the finish lay from the 10th to the 90th per cent; `kept`: by the 80th.
        oracle_in_range: the same of the oracle's own ranges, in its rows.
    """

    learner: float
    naive: float
    nearest: float
    oracle: float
    learner_came: float
    oracle_came: float
    law: float
    booked: Floats
    in_range: Floats
    kept: Floats
    oracle_in_range: Floats
    seconds: float


def judged(past: Past, seen: Sequence[Seen], learner: Learner) -> Verdict:
    """Ask a learner for all dates of a past, and compare on the oracle's rows.

    So many draws of a law, asked about themselves, lose 1 - 1/n times what the law loses, and
    asked about what came 1 + 1/n times (Ferro, Q. J. R. Meteorol. Soc. 140 (2014), of draws'
    CRPS; for 19 quantiles of 30 log-normal draws or more within .003).
    """
    begun = time.perf_counter()
    rows = list(learner(past.records, past.spans, past.open_spans, past.people))
    seconds = time.perf_counter() - begun
    asked = cases(past)
    said = _matched(asked, rows)
    place = {one.key: i for i, one in enumerate(asked)}
    picked = [place[one.job, one.seq, one.moment] for one in seen]
    y = np.array([one.open_h for one in asked])
    q = np.array([one.quantiles for one in said], float)
    naive = np.repeat(np.array([[one.naive] for one in said], float), len(LEVELS), axis=1)
    draws = np.array([one.draws for one in seen])
    true, n = np.quantile(draws, LEVELS, axis=1, method="hazen").T, draws.shape[1]
    return Verdict(
        _expected(draws, q[picked]), _expected(draws, naive[picked]),
        _expected(draws, nearest(asked)[picked]), _expected(draws, true) / (1 - 1 / n),
        _came(y[picked], q[picked]), _came(y[picked], true) / (1 + 1 / n),
        float(np.mean([inside(draw, q[picked], 0.8) for draw in draws.T])),
        np.array([one.key[2] == "booked" for one in asked], float),
        inside(y, q, 0.8).astype(float), (y <= q[:, PROMISE]).astype(float),
        inside(y[picked], true, 0.8).astype(float), seconds,
    )  # fmt: skip


def _expected(draws: Floats, q: Floats) -> float:
    """Mean loss of quantiles (rows, 19) over draws (rows, n) of each row's law."""
    return float(np.mean([_came(draw, q) for draw in draws.T]))


def _came(y: Floats, q: Floats) -> float:
    return float(mean_pinball(y, q).mean())


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
