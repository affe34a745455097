"""Quantiles of mixtures: t tables, truncated log-normals, and the definition of a quantile."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import ndtri

from store.learn.arrays import Floats
from store.learn.labour.ahead import draw, phase_hours
from store.learn.labour.mixtures import LEVELS, NORMAL_FROM, Mixture, student
from tests.store.learn.labour.made_ready import SURE, made_ready

# Percentage points of Student's t: Fisher and Yates (1963), Statistical Tables, table III;
# Abramowitz and Stegun (1964), table 26.10.
T_LEVELS = np.array([0.90, 0.95, 0.975, 0.99, 0.995])
T_TABLE: dict[int, list[float]] = {
    4: [1.533, 2.132, 2.776, 3.747, 4.604],
    5: [1.476, 2.015, 2.571, 3.365, 4.032],
    10: [1.372, 1.812, 2.228, 2.764, 3.169],
    20: [1.325, 1.725, 2.086, 2.528, 2.845],
    30: [1.310, 1.697, 2.042, 2.457, 2.750],
    60: [1.296, 1.671, 2.000, 2.390, 2.660],
    120: [1.289, 1.658, 1.980, 2.358, 2.617],
}


def alone(mean: float, scale: float, df: float, copies: int = 1) -> Mixture:
    """A mixture of one part."""
    one = np.ones((copies, 1))
    return Mixture(one, mean * one, scale * one, df * one)


@pytest.mark.parametrize("df", T_TABLE)
def test_quantiles_of_one_part_are_those_of_the_t_table(df: int) -> None:
    found = alone(0, 1, df).quantiles(np.concatenate([1 - T_LEVELS[::-1], [0.5], T_LEVELS]))[0]
    assert np.allclose(found[6:], T_TABLE[df], rtol=0, atol=5.1e-4)
    assert np.allclose(found[:5], -np.array(T_TABLE[df][::-1]), rtol=0, atol=5.1e-4)
    assert abs(found[5]) < 1e-9


@pytest.mark.parametrize("df", T_TABLE)
def test_the_short_way_to_t_is_good_enough_for_draws(df: int) -> None:
    """The expansion that the draws use: within 1 % from five degrees of freedom on, 2 % at four."""
    found = student(ndtri(T_LEVELS), np.full(5, float(df)))
    assert np.allclose(found, T_TABLE[df], rtol=0.01 if df >= 5 else 0.02, atol=5e-4)
    assert np.allclose(student(-ndtri(T_LEVELS), np.full(5, float(df))), -found)


def test_a_mean_scale_and_weight_do_what_they_say() -> None:
    # t with 10 degrees of freedom moved and stretched, once as two halves.
    one = alone(3, 0.5, 10).quantiles(T_LEVELS)[0]
    assert np.allclose(one, 3 + 0.5 * np.array(T_TABLE[10]), rtol=0, atol=3e-4)
    halves = Mixture(
        np.array([[0.3, 0.7]]), np.full((1, 2), 3.0), np.full((1, 2), 0.5), np.full((1, 2), 10.0)
    )
    assert np.allclose(halves.quantiles(T_LEVELS)[0], one, rtol=0, atol=1e-7)


@st.composite
def mixtures(make: st.DrawFn) -> Mixture:
    """Some phases, each done by one of up to four people, clean or with a surprise."""
    m, k = make(st.integers(1, 8)), make(st.integers(1, 4))
    dice = np.random.default_rng(make(st.integers(0, 10**6)))
    people, odds = dice.dirichlet(np.ones(k), m), dice.uniform(0, 0.3, (m, 1))
    mean, variance = dice.normal(0, 0.3, (m, k)), dice.uniform(0.01, 0.6, (m, k))
    df = dice.uniform(5, 400, (m, k))
    return Mixture(
        np.concatenate([people * (1 - odds), people * odds], axis=1),
        np.concatenate([mean, mean + 0.65], axis=1),
        np.sqrt(np.concatenate([variance, variance + 0.09], axis=1)),
        np.minimum(np.concatenate([df, np.full((m, k), NORMAL_FROM)], axis=1), NORMAL_FROM),
    )


@given(mixtures())
def test_as_much_lies_below_a_quantile_as_it_says(mixture: Mixture) -> None:
    found = mixture.quantiles(LEVELS)
    assert np.allclose(
        mixture.below(found), np.broadcast_to(LEVELS, found.shape), rtol=0, atol=1e-6
    )
    assert (np.diff(found, axis=1) >= 0).all()


@given(mixtures(), st.floats(-1, 3))
def test_what_lies_beyond_a_floor_is_shared_out_as_the_levels_say(
    mixture: Mixture, floor: float
) -> None:
    found = mixture.beyond(np.full(len(mixture.mean), floor), LEVELS)
    whole = mixture.above(np.full((len(mixture.mean), 1), floor))
    assert np.allclose(mixture.above(found) / whole, 1 - LEVELS, rtol=1e-6, atol=0)
    assert (np.diff(found, axis=1) >= 0).all()
    assert (found >= floor).all()


@given(mixtures())
def test_above_and_below_make_one_and_the_density_is_the_slope(mixture: Mixture) -> None:
    x = np.broadcast_to(np.linspace(-2, 3, 11), (len(mixture.mean), 11))
    assert np.allclose(mixture.below(x) + mixture.above(x), 1, rtol=0, atol=1e-12)
    slope = (mixture.below(x + 1e-5) - mixture.below(x - 1e-5)) / 2e-5
    assert np.allclose(mixture.density(x), slope, rtol=1e-4, atol=1e-8)


# What is left of T ~ LN(2, .5) after t hours: 10, 50, 80, 90 %, then the mean of T given T > t.
# isf(sf(t)(1 - p)) - t and the closed form of the truncated log-normal mean (Johnson, Kotz,
# Balakrishnan (1994), Continuous Univariate Distributions 1, chapter 14), by scipy 1.17.1
# `lognorm(0.5, scale=exp(2))`, its `expect(lb=t, conditional=True)` and numerical integration.
LEFT: dict[float, tuple[list[float], float]] = {
    2.0: ([1.937486, 5.409822, 9.273021, 12.042013], 8.402793),
    5.0: ([0.649076, 3.481974, 7.236425, 10.005616], 9.627703),
    8.0: ([0.461310, 2.899707, 6.563897, 9.369262], 12.140998),
    10.0: ([0.430245, 2.789494, 6.466404, 9.324899], 14.074610),
    15.0: ([0.423715, 2.816099, 6.678170, 9.734587], 19.209492),
    25.0: ([0.477684, 3.201682, 7.659952, 11.215781], 29.830495),
}
SHOWN = np.array([0.1, 0.5, 0.8, 0.9])


def left(df: float) -> Floats:
    """What is left, (t, level), by the mixture whose one part has so many degrees of freedom."""
    passed = np.array(list(LEFT))
    some = alone(2, 0.5, df, len(LEFT))
    found: Floats = np.exp(some.beyond(np.log(passed), SHOWN)) - passed[:, None]
    return found


def test_what_is_left_of_a_log_normal_phase() -> None:
    # 1e-6: the digits of the table; the bisection is finer.
    assert np.allclose(left(SURE), [one for one, _ in LEFT.values()], rtol=1e-6, atol=1e-6)


def test_what_counts_as_normal_is_near_it() -> None:
    """Parts that count as normal have 300 degrees of freedom: what is left after twice the median
    is 1 % longer than the normal law has it, at two and a half spreads 3 %."""
    expected = np.array([one for one, _ in LEFT.values()])
    found = abs(left(NORMAL_FROM) / expected - 1)
    assert (found[:4] < 0.01).all()
    assert (found < 0.03).all()


@pytest.mark.parametrize("passed", LEFT)
def test_the_forecast_of_a_phase_under_way(passed: float) -> None:
    """Whole lengths, so half as far off as what is left: 1 %. What is drawn and what is said."""
    quantiles, mean = LEFT[passed]
    job = made_ready([np.exp(2)], np.array([[0.25]]), elapsed=[passed])
    said = phase_hours(job)[0]
    at = [np.argmin(abs(LEVELS - one)) for one in SHOWN]
    assert np.allclose([said.quantiles[one] for one in at], np.add(quantiles, passed), rtol=0.01)
    drawn = draw(job)[:, 0]
    assert np.allclose(np.quantile(drawn, SHOWN), np.add(quantiles, passed), rtol=0.012)
    assert drawn.min() >= passed
    assert drawn.mean() == pytest.approx(mean, rel=0.01)


@pytest.mark.parametrize("passed", LEFT)
def test_the_mean_said_of_a_phase_under_way(passed: float) -> None:
    job = made_ready([np.exp(2)], np.array([[0.25]]), elapsed=[passed])
    assert phase_hours(job)[0].mean == pytest.approx(LEFT[passed][1], rel=0.01)


def test_a_phase_that_has_not_begun_has_the_plain_mean() -> None:
    # exp(2 + .5^2 / 2), the table's 8.372897.
    said = phase_hours(made_ready([np.exp(2)], np.array([[0.25]])))[0]
    assert said.mean == pytest.approx(8.372897, rel=1e-6)
