"""The few effects that one job's phases hang on, as one small joint normal distribution."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from store.learn.arrays import Floats, Ints
from store.learn.labour.columns import MEAN
from store.learn.labour.learner import Learner
from store.learn.labour.rows import Entry, Key
from store.learn.labour.terms import MONTH_S, Term

JOB: Key = (-1,)
SINCE: Key = (-2,)
"""The shop's drift since the last fit."""


@dataclass(slots=True)
class Local:
    """Effects by name with their mean (u,) and covariance (u, u)."""

    at: dict[Key, int]
    mean: Floats
    cov: Floats

    def matrix(self, rows: Sequence[Mapping[Key, float]]) -> Floats:
        """Return (m, u) the weights of rows."""
        x = np.zeros((len(rows), len(self.mean)))
        for i, row in enumerate(rows):
            for key, weight in row.items():
                x[i, self.at[key]] = weight
        return x

    def observe(self, x: Floats, tau: float, nu: float) -> None:
        """Take in a site on the linear predictor x: precision tau (below 0 takes it out), nu."""
        with_x = self.cov @ x
        variance = float(x @ with_x)
        gain = tau / (1 + tau * variance)
        self.mean = self.mean + with_x * (nu - tau * float(x @ self.mean)) / (1 + tau * variance)
        self.cov = self.cov - gain * np.outer(with_x, with_x)


def gather(learner: Learner, keys: Iterable[Key], job: str, at: float) -> Local:
    """Return the joint distribution of effects: what was learned, or believed where nothing was."""
    names: dict[Key, int] = {}
    columns: list[int] = []
    unknown: list[tuple[Key, float, float]] = []
    for key in keys:
        column = column_of(learner, key)
        if column >= 0:
            names[key] = len(columns)
            columns.append(column)
        else:
            unknown.append((key, *_believed(learner, key, at)))
    for key, _, _ in unknown:
        names[key] = len(names)
    names[JOB] = len(names)
    known, size = len(columns), len(names)
    mean, cov = np.zeros(size), np.zeros((size, size))
    take = np.array(columns, np.int64)
    solved = learner.solved
    mean[:known] = solved.beta[take]
    cov[:known, :known] = solved.cov[take[:, None], take]
    mean[known:-1] = [each[1] for each in unknown]
    spread = np.arange(known, size - 1)
    cov[spread, spread] = [each[2] for each in unknown]
    _place_job(learner, job, mean, cov, take)
    return Local(names, mean, cov)


def _place_job(learner: Learner, job: str, mean: Floats, cov: Floats, take: Ints) -> None:
    number = learner.past.jobs.get(job, len(learner.solved.u))
    solved = learner.solved
    if number >= len(solved.u):
        cov[-1, -1] = learner.spreads.job
        return
    start, stop = solved.b.indptr[number], solved.b.indptr[number + 1]
    index, weight = solved.b.indices[start:stop], solved.b.data[start:stop]
    d = solved.d[number]
    mean[-1] = solved.u[number]
    across = -(weight @ solved.cov[index[:, None], take]) / d if len(index) else 0.0
    cov[-1, : len(take)] = cov[: len(take), -1] = across
    inner = float(weight @ solved.cov[index[:, None], index] @ weight)
    cov[-1, -1] = 1 / d + inner / d**2


def column_of(learner: Learner, key: Key) -> int:
    """Return the column of a level in the last fit, -1 where it has none."""
    columns = learner.columns
    if key[0] == Term.PER:
        return columns.per_first if columns.per else -1
    if key[0] == Term.TPW:
        number = learner.past.keys.get((Term.TP, *key[1:]), -1)
        return int(columns.walk[number]) if 0 <= number < len(columns.walk) else -1
    number = learner.past.keys.get(key, -1)
    return int(columns.of_key[number]) if 0 <= number < len(columns.of_key) else -1


def _believed(learner: Learner, key: Key, at: float) -> tuple[float, float]:
    """Return mean and variance of a level that was not solved for."""
    if key == SINCE:
        months = max(0.0, at - learner.columns.at) / MONTH_S if learner.fitted_rows else 0.0
        return 0.0, float(learner.spreads.term[Term.PER]) * months
    term = Term(key[0])
    if term in (Term.PER, Term.TPW, Term.ACC):
        return 0.0, 0.0
    return float(MEAN[term]), float(learner.spreads.term[term])


def together(entries: Iterable[Entry]) -> dict[Key, float]:
    """Return entries added up by level."""
    found: dict[Key, float] = {}
    for key, weight in entries:
        found[key] = found.get(key, 0.0) + weight
    return found
