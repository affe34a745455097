"""Clearing a lift: the closed forms against SciPy's log-normal, the sum against drawn holds."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate, stats

from store.sums.clearing import LONGEST_H, Rest, break_even, worth
from store.sums.rest_of_length import mean_rest

LAWS = [(math.log(7), 1.2, 0.0), (math.log(3), 0.4, 2.0), (math.log(30), 0.9, 20.0)]
COSTS = [(0.6, 2, 0.5), (0.0, 1, 0.6), (2.75, 2, 0.4)]
rests = st.builds(Rest, st.floats(-2, 4), st.floats(0.05, 2), st.floats(0, 1e3))
costs = st.tuples(st.floats(0, 10), st.integers(1, 4), st.floats(0.05, 2))


@pytest.mark.parametrize(("m", "s", "so_far"), LAWS)
@pytest.mark.parametrize("hours", [0.0, 0.6, 5.4, 40.0])
def test_chances_means_and_quantiles_are_those_of_the_cut_log_normal(
    m: float, s: float, so_far: float, hours: float
) -> None:
    """P(X > h) = S(t + h) / S(t); E max(0, X - h) is its integral from h on; SciPy's lognorm."""
    law, rest = stats.lognorm(s, scale=math.exp(m)), Rest(m, s, so_far)
    assert rest.longer(hours) == pytest.approx(law.sf(so_far + hours) / law.sf(so_far), rel=1e-9)
    tail, _ = integrate.quad(law.sf, so_far + hours, law.isf(1e-13), limit=400, epsabs=1e-12)
    assert rest.beyond(hours) == pytest.approx(tail / law.sf(so_far), rel=1e-4, abs=1e-7)
    for level in (0.1, 0.5, 0.9):
        expected = law.isf((1 - level) * law.sf(so_far)) - so_far
        assert rest.quantile(level) == pytest.approx(expected, rel=1e-6)


@pytest.mark.parametrize(("m", "s", "so_far"), LAWS)
@pytest.mark.parametrize(("clear_h", "people", "pace"), COSTS)
def test_the_sum_is_what_clearing_brings_over_many_drawn_holds(
    m: float, s: float, so_far: float, clear_h: float, people: int, pace: float
) -> None:
    """Brute force: draw holds that are not over yet, clear each time, count lift and labour."""
    drawn = np.random.default_rng(7).lognormal(m, s, 2_000_000)
    rest = np.minimum(drawn[drawn > so_far] - so_far, LONGEST_H)
    won = np.maximum(0.0, rest - clear_h)
    value = pace * won - 2 * people * clear_h
    found = worth(Rest(m, s, so_far), clear_h=clear_h, people=people, pace=pace)
    assert found.won_h == pytest.approx(won.mean(), rel=0.01, abs=0.01)
    assert found.value_h == pytest.approx(value.mean(), rel=0.01, abs=0.02)
    assert found.longer == pytest.approx(float((value > 0).mean()), abs=0.003)
    assert found.low_h == pytest.approx(np.quantile(won, 0.1), rel=0.02, abs=0.02)
    assert found.high_h == pytest.approx(np.quantile(won, 0.9), rel=0.02)


def test_a_rolling_vehicle_breaks_even_at_about_a_shop_day() -> None:
    """Common practice, no source: 0.4 to 0.8 h, two people, 3.5 to 5 h of labour in 8 h."""
    middle = break_even(0.6, 2, 4.25 / 8)
    assert middle == pytest.approx(0.6 + 2.4 / (4.25 / 8))
    assert 0.5 * 8 < middle < 8
    assert break_even(0.8, 2, 3.5 / 8) == pytest.approx(8.1, abs=0.05)


@given(rests, costs)
def test_the_mean_rest_is_what_lies_beyond_nothing(
    rest: Rest, cost: tuple[float, int, float]
) -> None:
    del cost
    assert rest.beyond(0) == pytest.approx(
        mean_rest(rest.m, rest.s, rest.so_far), rel=1e-6, abs=1e-9
    )


@given(rests, costs, st.floats(0, 100))
def test_what_costs_more_brings_less_and_longer_is_rarer(
    rest: Rest, cost: tuple[float, int, float], more: float
) -> None:
    clear_h, people, pace = cost
    one = worth(rest, clear_h=clear_h, people=people, pace=pace)
    dearer = worth(rest, clear_h=clear_h + more, people=people, pace=pace)
    assert 0 <= dearer.won_h <= one.won_h + 1e-6
    assert dearer.value_h <= one.value_h + 1e-6
    assert 0 <= dearer.longer <= one.longer + 1e-12 <= 1 + 1e-12
    assert one.low_h <= one.high_h
    assert rest.longer(more) >= rest.longer(2 * more)


@given(costs, st.floats(0.01, 100))
def test_a_rest_of_exactly_the_break_even_brings_what_it_costs(
    cost: tuple[float, int, float], more: float
) -> None:
    clear_h, people, pace = cost
    needed = break_even(clear_h, people, pace)

    def value(rest_h: float) -> float:
        return pace * max(0.0, rest_h - clear_h) - 2 * people * clear_h

    assert value(needed) == pytest.approx(0.0, abs=1e-9)
    assert value(needed + more) > 0
    assert value(needed * 0.99 - 1e-9) < 0 or clear_h == 0


@given(rests, st.floats(0.001, 0.999))
def test_a_quantile_is_exceeded_as_often_as_it_says(rest: Rest, level: float) -> None:
    hours = rest.quantile(level)
    if hours > 1e-6 * (1 + rest.so_far):
        assert rest.longer(hours) == pytest.approx(1 - level, rel=1e-3, abs=1e-6)


def test_what_has_lasted_far_too_long_is_likely_to_last_as_long_again_by_half() -> None:
    rest = Rest(0.0, 0.1, 100.0)
    assert rest.beyond(0) == 50.0
    assert rest.longer(50 * math.log(2)) == pytest.approx(0.5)
    assert rest.quantile(0.5) == pytest.approx(50 * math.log(2))


@pytest.mark.parametrize(
    ("m", "s", "so_far"), [(0, 0, 1), (0, -1, 1), (0, 1, -1), (math.inf, 1, 1)]
)
def test_a_law_that_cannot_be_is_refused(m: float, s: float, so_far: float) -> None:
    with pytest.raises(ValueError, match="above 0"):
        Rest(m, s, so_far)


@pytest.mark.parametrize(("clear_h", "people", "pace"), [(-1, 2, 0.5), (1, -1, 0.5), (1, 2, 0)])
def test_costs_that_cannot_be_are_refused(clear_h: float, people: int, pace: float) -> None:
    with pytest.raises(ValueError, match="r above 0"):
        break_even(clear_h, people, pace)


@pytest.mark.parametrize("level", [0.0, 1.0])
def test_a_level_that_is_no_chance_is_refused(level: float) -> None:
    with pytest.raises(ValueError, match="level"):
        Rest(0, 1, 0).quantile(level)
