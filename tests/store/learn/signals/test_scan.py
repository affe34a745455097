"""One subject's effects beside the same sums done with whole matrices; the chance of luck."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from store.learn.arrays import Floats, Ints
from store.learn.signals.fit import Fit, first, fitted
from store.learn.signals.laid import Laid, laid
from store.learn.signals.scan import Tried, below, chance_beyond, chance_of, cuts_of, dated, steps
from tests.bench.signals.shop import Shop


@pytest.fixture(scope="module")
def fit() -> Fit:
    work = laid(Shop(3).worked(0.4))
    assert work is not None
    return first(work)


def whole(fit: Fit) -> tuple[Floats, Floats]:
    """P and P y by the textbook: P = V^-1 with every level's variance in V (Henderson 1975)."""
    work, spreads = fit.laid, fit.spreads
    same = work.job[:, None] == work.job[None, :]
    covariance: Floats = np.diag(spreads.noise) + spreads.job * same * np.outer(
        work.loads, work.loads
    )
    covariance += (work.columns * work.sds() ** 2) @ work.columns.T
    precision: Floats = np.linalg.inv(covariance).astype(np.float64, copy=False)
    return precision, precision @ fit.seen


def test_what_is_left_is_what_whole_matrices_leave(fit: Fit) -> None:
    _, left = whole(fit)
    assert fit.left == pytest.approx(left, rel=1e-6, abs=1e-6)


def test_steps_are_those_of_whole_matrices(fit: Fit) -> None:
    precision, left = whole(fit)
    subject = next(one for one in fit.laid.subjects if one.what == "person")
    tried = steps(fit, subject)
    assert tried is not None
    columns: list[Floats] = []
    for number, cut in enumerate(tried.cuts):
        z = np.zeros(len(fit.laid.y))
        z[subject.rows[cut:]] = 1.0
        known = z @ precision @ z
        assert tried.size[number] == pytest.approx(z @ left / known, rel=1e-6)
        assert tried.sd[number] == pytest.approx(1 / math.sqrt(known), rel=1e-6)
        columns.append(z / math.sqrt(known))
    alike = [a @ precision @ b for a, b in pairwise(columns)]
    assert np.cos(tried.turns) == pytest.approx(alike, rel=1e-6)


def test_luck_alone_is_as_loud_no_more_often_than_said() -> None:
    """A walk of 30 steps, 20,000 times: the bound holds, and is not far above what happens."""
    dice = np.random.default_rng(5)
    many, cuts = 30, np.arange(5, 26)
    sums = np.cumsum(dice.standard_normal((20_000, many)), axis=1)
    sd = np.sqrt(cuts * (many - cuts) / many)
    t = (sums[:, cuts - 1] - cuts / many * sums[:, -1:]) / sd
    for c in (2.5, 3.0, 3.5):
        happened = float((np.abs(t).max(axis=1) > c).mean())
        told = chance_of(walked(c, cuts, many))
        assert happened <= told + 4 * math.sqrt(happened / 20_000)
        assert told <= 1.5 * happened + 4 * math.sqrt(happened / 20_000)


def walked(c: float, cuts: Ints, many: int) -> Tried:
    """Neighbours of a walk's standardised sums: correlation sqrt(j (n - k) / (k (n - j)))."""
    early, late = cuts[:-1], cuts[1:]
    alike = np.sqrt(early * (many - late) / (late * (many - early)))
    t = np.zeros(len(cuts))
    t[3] = -c
    return Tried(cuts, t, t, np.ones(len(cuts)), np.arccos(alike))


def test_the_normal_tail_is_that_of_the_tables() -> None:
    # Abramowitz and Stegun, Handbook of Mathematical Functions, table 26.1.
    assert below(1.96) == pytest.approx(0.0249979, abs=1e-7)
    assert below(3.0) == pytest.approx(0.00134990, abs=1e-8)
    assert chance_beyond(0.3, 0.1, 0.0) == pytest.approx(2 * 0.00134990, abs=1e-7)


def test_a_change_needs_five_jobs_on_each_side() -> None:
    job = np.array([0, 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 9])
    assert cuts_of(job).tolist() == [6]
    assert not len(cuts_of(job[:-3]))


def test_a_sharp_change_is_dated_to_the_day_and_a_vague_one_is_not() -> None:
    at: Floats = np.linspace(0.0, 5 * 86_400.0, 6)
    sharp = np.array([0.0, 1.0, 9.0, 1.0, 0.0, 0.0])
    vague = np.array([3.0, 3.1, 3.2, 3.1, 3.0, 2.9])
    made = Tried(np.arange(6), sharp, sharp, np.ones(6), np.zeros(5))
    assert dated(made, at) == (2, 2)
    assert dated(replace(made, t=vague), at) == (0, 5)


def test_a_forgotten_clock_moves_little_of_what_it_would(fit: Fit) -> None:
    """Beside the same fit that takes every hour as it stands."""
    work: Laid = fit.laid
    y = work.y.copy()
    y[7] += math.log(20)
    spoilt = replace(fit, laid=replace(work, y=y))
    moved = levels(spoilt, 6) - levels(fit, 6)
    plain = levels(replace(spoilt, seen=y), 0) - levels(replace(fit, seen=work.y), 0)
    assert np.abs(moved).max() < 0.25 * np.abs(plain).max()


def levels(fit: Fit, rounds: int) -> Floats:
    return fitted(fit, fit.laid.columns, fit.laid.sds(), rounds).levels
