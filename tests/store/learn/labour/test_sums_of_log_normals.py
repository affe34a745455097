"""Hours of several phases together, against exact quantiles of sums of log-normals.

What is said to people comes from 4,096 points of a lattice, what is only scored from every fourth
of them. Over ten shifts of the lattice the root mean square of the former's misses was .21 %, the
largest .9 %; of the latter .6 and 2.5 % (with as many stratified draws 1.3 and 6 %).
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from store.learn.arrays import Floats
from store.learn.labour.ahead import Ready, draw, total_hours
from store.learn.labour.draws import DRAWS, LATTICE
from store.learn.labour.mixtures import LEVELS
from tests.store.learn.labour.made_ready import alike, made_ready

MANY = 10 * LATTICE
TWO = ([6.0, 3.0], [0.4, 0.6])
FIVE = ([1.5, 4.0, 6.0, 2.0, 1.0], [0.3, 0.5, 0.4, 0.6, 0.3])
TWO_SHOWN, FIVE_SHOWN = [0.05, 0.10, 0.50, 0.80, 0.90, 0.95], [0.10, 0.50, 0.80, 0.90, 0.95]
# Two phases: one-dimensional quadrature and root finding, confirmed by 4 million draws. Five: 10
# million draws, standard error up to .003 and .007; their mean and SD by formula.
# (medians, spreads, correlation of logs, levels, quantiles, mean, SD)
CASES: list[tuple[list[float], list[float], float, list[float], list[float], float, float]] = [
    (
        *TWO, 0.0, TWO_SHOWN,
        [5.433757, 6.143816, 9.494876, 12.672952, 14.760050, 16.760348], 10.0913745, 3.594460,
    ),
    (
        *TWO, 0.5, TWO_SHOWN,
        [4.753694, 5.503921, 9.257408, 13.072177, 15.681305, 18.243754], 10.0913745, 4.344296,
    ),
    (*FIVE, 0.0, FIVE_SHOWN, [11.480, 15.489, 19.041, 21.281, 23.367], 16.0418206, 3.9980804),
    (*FIVE, 0.3, FIVE_SHOWN, [10.246, 15.214, 19.850, 22.858, 25.702], 16.0418206, 5.2074890),
]  # fmt: skip
NAMES = ["two", "two alike", "five", "five alike"]


def ways(medians: list[float], sds: list[float], correlation: float) -> list[Ready]:
    """The same hours with the spread in levels, and with what phases do not share in the noise."""
    own = (1 - correlation) * np.array(sds) ** 2
    return [
        made_ready(medians, alike(sds, correlation)),
        made_ready(medians, correlation * np.outer(sds, sds), noise=own),
    ]


def quantiles(job: Ready, shown: list[float], draws: int) -> Floats:
    """Quantiles of all phases together from so many draws."""
    said = total_hours(job, draw(job, draws))
    return np.array([said.quantiles[int(np.argmin(abs(LEVELS - one)))] for one in shown])


@pytest.mark.parametrize("case", CASES, ids=NAMES)
def test_the_law_of_a_total_is_the_exact_one(
    case: tuple[list[float], list[float], float, list[float], list[float], float, float],
) -> None:
    medians, sds, correlation, shown, exact, mean, sd = case
    for job in ways(medians, sds, correlation):
        assert np.allclose(quantiles(job, shown, MANY), exact, rtol=0.0075)
        whole = draw(job, MANY).sum(axis=1)
        assert whole.mean() == pytest.approx(mean, rel=0.002)
        assert whole.std() == pytest.approx(sd, rel=0.01)


@pytest.mark.parametrize(
    ("draws", "single", "together"), [(LATTICE, 0.01, 0.005), (DRAWS, 0.03, 0.01)]
)
def test_the_draws_of_the_program_are_near_the_exact_quantiles(
    draws: int, single: float, together: float
) -> None:
    misses: list[Floats] = []
    for medians, sds, correlation, shown, exact, mean, _ in CASES:
        for job in ways(medians, sds, correlation):
            misses.append(quantiles(job, shown, draws) / exact - 1)
            assert total_hours(job).mean == pytest.approx(mean, rel=0.003)
    every = np.concatenate(misses)
    assert np.abs(every).max() < single
    assert math.sqrt(float((every**2).mean())) < together


def test_equal_parts_have_the_matched_moments_of_the_first_paper() -> None:
    """Fenton (1960), IRE Trans. Commun. Systems 8, 57-67: m_z and s_z of n equal parts LN(0, s)."""
    for n, s, m_z, s_z in (
        (2, 0.5, 0.751751, 0.364407),
        (4, 0.5, 1.476995, 0.261914),
        (10, 0.5, 2.413582, 0.167352),
        (4, 1.0, 1.707607, 0.597808),
    ):
        whole = draw(made_ready([1.0] * n, alike([s] * n, 0)), MANY).sum(axis=1)
        square = math.log1p(float(whole.var()) / float(whole.mean()) ** 2)
        # Sampling error of a variance with tails: 1 % at s = .5, 2 % at s = 1.
        assert math.sqrt(square) == pytest.approx(s_z, rel=0.01 if s < 1 else 0.02)
        assert math.log(float(whole.mean())) - square / 2 == pytest.approx(m_z, abs=0.01)


def test_a_published_sum_of_two() -> None:
    """Vignette `lognormalSum` of the R package lognorm 0.1.10, after Lo (2013): LN(ln 110, .25) and
    LN(ln 100, .15) make about LN(5.3576474, .1499077); exactly, the median is 211.6598 and the 95 %
    quantile 272.6780."""
    job = made_ready([110.0, 100.0], alike([0.25, 0.15], 0))
    assert np.allclose(quantiles(job, [0.5, 0.95], MANY), [211.6598, 272.6780], rtol=0.003)
    assert np.allclose(quantiles(job, [0.5, 0.95], DRAWS), [211.6598, 272.6780], rtol=0.01)
    approximate = [math.exp(5.3576474), math.exp(5.3576474 + 1.644854 * 0.1499077)]
    assert np.allclose(quantiles(job, [0.5, 0.95], MANY), approximate, rtol=0.01)


@pytest.mark.parametrize("correlation", [-0.9, -0.3, 0.3, 0.9])
def test_hours_are_less_alike_than_their_logs(correlation: float) -> None:
    """Embrechts, McNeil, Straumann (2002), Correlation and dependence in risk management: between
    LN(0, s1) and LN(0, s2) it is (e^(r s1 s2) - 1) / sqrt((e^(s1^2) - 1)(e^(s2^2) - 1))."""
    one, other = 0.4, 0.6
    expected = math.expm1(correlation * one * other) / math.sqrt(
        math.expm1(one**2) * math.expm1(other**2)
    )
    drawn = draw(made_ready([6.0, 3.0], alike([one, other], correlation)), MANY)
    found = float(np.corrcoef(drawn[:, 0], drawn[:, 1])[0, 1])
    # Three standard errors of a correlation of as many random draws.
    assert found == pytest.approx(expected, abs=0.015)
    assert abs(found) < abs(correlation)


def test_ranges_of_phases_cannot_be_added_up() -> None:
    """Less than all phases at their 90 % together, more than one would think if none were alike."""
    medians, sds = FIVE
    added = sum(m * math.exp(1.281552 * s) for m, s in zip(medians, sds, strict=True))
    apart, shared = (float(quantiles(ways(medians, sds, r)[0], [0.9], MANY)[0]) for r in (0.0, 0.3))
    assert apart < shared < added
