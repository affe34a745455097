"""A reference mixed-model library: crossed random intercepts on the log ratios to the book.

The library (statsmodels, REML) says the variances, on the latest phases and whenever there are half
as many again; the levels are solved anew every five jobs or so (Henderson's equations), and the job
at hand conditions on its own phases. Forecasts are normal in logs, with the whole variance.
"""

from __future__ import annotations

import warnings
from collections.abc import Iterable, Iterator, Sequence
from importlib import import_module

import numpy as np

from store.learn.records import Record
from store.learn.scores import Floats
from tests.bench.hours.baselines import by_the_book
from tests.bench.hours.baselines.lognormal import covaried_row, sum_row
from tests.bench.hours.baselines.replay import replay
from tests.bench.hours.rows import Row, Slot

LIBRARY = "statsmodels.regression.mixed_linear_model"
COMPONENTS = ("operation", "phase", "family", "phase of a family", "technician", "job")
LATEST = 500
"""Phases the variances are taken from, at most."""
FEWEST = 40
ANEW = 35
Key = tuple[str, ...]


def _keys(one: Record, technician: str) -> tuple[Key, ...]:
    """The level of each component that a phase belongs to."""
    return (
        (one.template,),
        (one.template, one.phase),
        (one.variant,),
        (one.phase, one.variant),
        (technician,),
        (one.job,),
    )


def _ratio(one: Record) -> float:
    return float(np.log(one.actual_h / one.book_h))


class Fit:
    """Mean and covariance of the levels, solved from phases with known variances."""

    def __init__(self, records: Sequence[Record], variances: Floats, noise: float) -> None:
        self.jobs = {(one.job, one.seq) for one in records}
        self.variances, self.noise = variances, noise
        self._at: dict[tuple[int, Key], int] = {}
        rows = [self._row(one) for one in records]
        levels = len(self._at) + 1
        x = np.zeros((len(rows), levels))
        x[:, 0] = 1
        for n, row in enumerate(rows):
            x[n, row] = 1
        prior = [0.0] + [noise / variances[component] for component, _ in self._at]
        inverse: Floats = np.asarray(np.linalg.inv(x.T @ x + np.diag(prior)), float)
        self._covariance = noise * inverse
        y = np.array([_ratio(one) for one in records])
        self._mean: Floats = self._covariance @ (x.T @ y) / noise

    def _row(self, one: Record) -> list[int]:
        """Columns of a phase, new ones where a level was never seen; column 0 is the mean."""
        keys = enumerate(_keys(one, one.technician))
        return [self._at.setdefault(key, len(self._at) + 1) for key in keys]

    def joint(self, rows: Sequence[tuple[Key, ...]]) -> tuple[Floats, Floats]:
        """(m,), (m, m) mean and covariance of what such phases take without noise, in logs."""
        levels = sorted({key for row in rows for key in enumerate(row)})
        columns = {key: n + 1 for n, key in enumerate(levels)}
        x = np.zeros((len(rows), len(levels) + 1))
        x[:, 0] = 1
        for n, row in enumerate(rows):
            x[n, [columns[key] for key in enumerate(row)]] = 1
        at = np.array([0, *(self._at.get(key, -1) for key in levels)])
        seen = at >= 0
        mean = np.where(seen, self._mean[at], 0.0)
        covariance = np.diag([0.0, *(float(self.variances[key[0]]) for key in levels)])
        covariance[np.ix_(seen, seen)] = self._covariance[np.ix_(at[seen], at[seen])]
        return x @ mean, x @ covariance @ x.T


class MixedModel:
    """Learns in steps; by the book until there is a first fit."""

    def __init__(self) -> None:
        self._records: list[Record] = []
        self._fit: Fit | None = None
        self._solved, self._estimated = 0, 0
        self._variances: tuple[Floats, float] | None = None

    def learn(self, record: Record) -> None:
        self._records.append(record)

    def forecast(self, slot: Slot) -> Row:
        self._renew()
        m = np.log([one.book_h for one in slot.covers])
        if self._fit is None:
            return sum_row(slot, m, np.full(len(m), by_the_book.SPREAD), by_the_book.TOGETHER)
        mean, covariance = _given_own(self._fit, slot)
        return covaried_row(slot, m + mean, covariance)

    def _renew(self) -> None:
        known = len(self._records)
        if known >= max(FEWEST, 1.5 * self._estimated):
            self._estimated = known
            self._variances = _variances(self._records[-LATEST:]) or self._variances
        if self._variances and known >= self._solved + ANEW:
            self._solved = known
            self._fit = Fit(self._records, *self._variances)


def _given_own(fit: Fit, slot: Slot) -> tuple[Floats, Floats]:
    """Mean and covariance of the phases asked for, given the job's own that are not in the fit."""
    own = [one for one in slot.own if (one.job, one.seq) not in fit.jobs]
    # nobody's name: a level that was never seen
    asked = [_keys(one, slot.technician or "") for one in slot.covers]
    mean, covariance = fit.joint([_keys(one, one.technician) for one in own] + asked)
    covariance = covariance + fit.noise * np.eye(len(mean))
    k = len(own)
    if k == 0:
        return mean, covariance
    apart = np.array([_ratio(one) for one in own]) - mean[:k]
    gain = np.linalg.solve(covariance[:k, :k], covariance[:k, k:]).T
    return mean[k:] + gain @ apart, covariance[k:, k:] - gain @ covariance[:k, k:]


def _variances(records: Sequence[Record]) -> tuple[Floats, float] | None:
    """REML variances of the components and of the noise; None where the library finds none."""
    library = import_module(LIBRARY)
    levels = [[_keys(one, one.technician)[c] for one in records] for c in range(len(COMPONENTS))]
    names = [sorted(set(column)) for column in levels]
    designs = [
        np.array([[key == name for name in of] for key in column], float)
        for column, of in zip(levels, names, strict=True)
    ]
    spec = library.VCSpec(
        list(COMPONENTS), [[[str(one) for one in of]] for of in names], [[one] for one in designs]
    )
    y = np.array([_ratio(one) for one in records])
    one = np.ones((len(y), 1))
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # a variance of 0 is no trouble here
        try:
            fit = library.MixedLM(y, one, np.zeros(len(y)), exog_vc=spec).fit(
                method=["lbfgs"], maxiter=30
            )
        except np.linalg.LinAlgError:
            return None
    return np.maximum(np.asarray(fit.vcomp, float), 1e-5), float(fit.scale)


def hours(records: Iterable[Record]) -> Iterator[Row]:
    """Every row of a history, from the mixed model."""
    return replay(records, MixedModel())
