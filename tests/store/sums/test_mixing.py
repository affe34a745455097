"""Forecasts put together, against distributions whose sums, mixtures and order are known."""

from __future__ import annotations

import math
from itertools import pairwise
from statistics import NormalDist

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.sums.mixing import mixed, nth_to_end, one_after_another
from store.sums.moving import LEVELS, quantile

NORMAL = NormalDist()
rising = st.lists(st.floats(0.01, 200), min_size=19, max_size=19).map(sorted)


def exponential(mean: float) -> tuple[float, ...]:
    """Its quantiles."""
    return tuple(-mean * math.log1p(-level) for level in LEVELS)


def normal(mean: float, sd: float) -> tuple[float, ...]:
    """Its quantiles."""
    return tuple(mean + sd * NORMAL.inv_cdf(level) for level in LEVELS)


def test_a_sum_of_normals_is_normal() -> None:
    """Means add, variances add: Feller, An Introduction to Probability Theory, vol. 1."""
    found = one_after_another(normal(30, 3), normal(40, 4))
    assert found == pytest.approx(normal(70, 5), rel=0.01)


def test_a_sum_of_two_equal_exponentials_is_erlangs() -> None:
    """P(T <= t) = 1 - e^-x (1 + x), x = t / mean: Cox (1962), Renewal theory."""
    found = one_after_another(exponential(5), exponential(5))
    for level, hours in zip(LEVELS[2:], found[2:], strict=True):
        x = hours / 5
        assert 1 - math.exp(-x) * (1 + x) == pytest.approx(level, abs=0.02)


@pytest.mark.parametrize("many", [2, 3, 5])
def test_the_first_of_several_equal_exponentials_comes_so_many_times_sooner(many: int) -> None:
    """The minimum of n is exponential with mean 1/n: Feller, vol. 2, section I.6."""
    found = nth_to_end([exponential(10)] * many, 0)
    assert found[3:] == pytest.approx(exponential(10 / many)[3:], rel=0.08, abs=0.05)


def test_the_last_of_three_ends_when_all_have() -> None:
    """P(max <= t) = F(t)^3."""
    found = nth_to_end([exponential(10)] * 3, 2)
    for level, hours in zip(LEVELS, found, strict=True):
        assert (1 - math.exp(-hours / 10)) ** 3 == pytest.approx(level, abs=0.025)


def test_whoever_waits_for_more_than_there_are_waits_another_round() -> None:
    two = [exponential(4), exponential(4)]
    assert all(a > b for a, b in zip(nth_to_end(two, 2), nth_to_end(two, 1), strict=True))


def test_a_mixture_of_two_far_apart_has_both() -> None:
    """Half the weight below 10, half above 90: the distribution function is the weighted sum."""
    found = mixed([(0.5, normal(10, 1)), (0.5, normal(90, 1))])
    assert found[4] == pytest.approx(10, abs=0.1)
    assert found[14] == pytest.approx(90, abs=0.1)
    assert found[8] < 13
    assert found[10] > 87


@given(rising)
def test_a_mixture_of_one_is_itself(quantiles: list[float]) -> None:
    assert mixed([(1.0, quantiles)]) == tuple(quantiles)


@given(rising, rising, st.floats(0.05, 0.95))
def test_a_mixture_lies_between_its_parts_and_never_falls(
    one: list[float], other: list[float], odds: float
) -> None:
    found = mixed([(odds, one), (1 - odds, other)])
    assert all(a <= b for a, b in pairwise(found))
    assert min(one[0], other[0]) * 0.5 <= found[0] <= max(one[1], other[1]) + 1e-9
    assert found[-1] <= max(quantile(one, 0.96), quantile(other, 0.96)) + 1e-9


def test_nothing_is_refused() -> None:
    with pytest.raises(ValueError, match="something"):
        mixed([])
    with pytest.raises(ValueError, match="nothing runs"):
        nth_to_end([], 0)
