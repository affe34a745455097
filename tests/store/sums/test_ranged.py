"""Ranges of figures beside a reference library, their coverage, and when there are too few."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from store.sums.ranged import (
    ENOUGH,
    Ranged,
    apart,
    enough,
    of_count,
    of_mean,
    of_median,
    of_ratio,
    student,
)


def ends(found: Ranged | None) -> tuple[float, float]:
    """Both ends of a range that there is."""
    assert found is not None
    assert found.low is not None
    assert found.high is not None
    return found.low, found.high


@pytest.mark.parametrize(("held", "count"), [(0, 1), (1, 1), (8, 14), (3, 9), (0, 40), (90, 145)])
def test_the_range_of_a_share_is_the_reference_librarys(held: int, count: int) -> None:
    """scipy.stats.binomtest(...).proportion_ci(method='wilson')."""
    found = of_count(held, count)
    there = stats.binomtest(held, count).proportion_ci(0.95, method="wilson")
    assert found is not None
    assert found.low == pytest.approx(there.low)
    assert found.high == pytest.approx(there.high)


def test_wilsons_range_of_81_in_263_is_the_handbooks() -> None:
    """Newcombe, Statistics in Medicine 17 (1998) 857, table I: .2553 to .3662."""
    found = of_count(81, 263)
    assert found is not None
    assert (round(found.low, 4), round(found.high, 4)) == (0.2553, 0.3662)


def test_a_share_of_nothing_is_none_and_one_beyond_all_no_share() -> None:
    assert of_count(0, 0) is None
    for held, count in ((2, 1), (-1, 3)):
        with pytest.raises(ValueError, match=str(count)):
            of_count(held, count)


@pytest.mark.parametrize("degrees", [5, 7, 8, 12, 30, 100, 2000])
def test_students_t_is_the_reference_librarys(degrees: int) -> None:
    assert student(degrees) == pytest.approx(float(stats.t.ppf(0.975, degrees)), abs=1e-3)


@given(st.lists(st.floats(0.01, 100), min_size=ENOUGH, max_size=60))
def test_the_range_of_the_middle_one_is_the_reference_librarys(values: list[float]) -> None:
    """scipy.stats.quantile_test(...).confidence_interval(): Conover's, both ends inside."""
    found = of_median(values)
    there: Any = stats.quantile_test(values, p=0.5).confidence_interval(0.95)
    assert found is not None
    assert (found.low, found.high) == (there.low, there.high)
    assert found.value == float(np.median(values))


def test_the_range_of_a_mean_is_the_reference_librarys() -> None:
    values = [0.1, 0.22, 0.31, 0.05, 0.4, 0.18, 0.27, 0.5, 0.02]
    found = ends(of_mean(values))
    low, high = stats.t.interval(0.95, 8, loc=np.mean(values), scale=stats.sem(values))
    assert found[0] == pytest.approx(low, abs=1e-4)
    assert found[1] == pytest.approx(high, abs=1e-4)


def test_the_range_of_a_ratio_of_many_is_the_handbooks_plain_formula() -> None:
    """Cochran, Sampling Techniques (1977), section 6.4."""
    dice = np.random.default_rng(4)
    told = np.exp(dice.normal(2.2, 0.7, 4000))
    worked = told * np.exp(dice.normal(0.05, 0.3, 4000))
    ratio = worked.sum() / told.sum()
    plain = math.sqrt(((worked - ratio * told) ** 2).sum() / (4000 * 3999)) / told.mean()
    low, high = ends(of_ratio(worked.tolist(), told.tolist()))
    assert (high - low) / 2 == pytest.approx(1.96 * plain, rel=0.02)


@given(st.lists(st.floats(0.5, 50), min_size=ENOUGH, max_size=40), st.floats(0.5, 20))
def test_a_ratio_the_other_way_up_has_the_range_the_other_way_up(
    worked: list[float], told: float
) -> None:
    estimates = [told + n for n in range(len(worked))]
    low, high = ends(of_ratio(worked, estimates))
    other = ends(of_ratio(estimates, worked))
    assert other[0] == pytest.approx(1 / high)
    assert other[1] == pytest.approx(1 / low)


@pytest.mark.parametrize("count", [10, 30])
def test_the_range_of_a_ratio_holds_the_truth_about_as_often_as_it_says(count: int) -> None:
    """Jobs of 2 to 40 hours, each off by its own luck: near 19 in 20, never under 9 in 10."""
    dice, held, tries = np.random.default_rng(count), 0, 2000
    for _ in range(tries):
        told = np.exp(dice.normal(2.2, 0.7, count))
        worked = told * 1.1 * np.exp(dice.normal(-0.045, 0.3, count))
        low, high = ends(of_ratio(worked.tolist(), told.tolist()))
        held += low <= 1.1 <= high
    assert 0.90 < held / tries < 0.97


def test_a_ratio_to_nothing_is_none() -> None:
    assert of_ratio([], []) is None
    assert of_ratio([1.0, 2.0], [0.0, 0.0]) is None
    assert of_ratio([1.0, 2.0], [5e-324, 1e-320]) is None  # no whole number of per cent is there
    assert of_ratio([1.0] * 9, [0.0] * 8 + [2.0]) == Ranged(4.5, None, None, 9)


def test_never_a_verdict_from_three_jobs() -> None:
    assert not any(enough(count) for count in range(ENOUGH))
    assert enough(ENOUGH)
    for found in (of_ratio([3, 4, 5], [1, 1, 1]), of_median([3, 4, 5]), of_mean([3, 4, 5])):
        assert found is not None
        assert (found.low, found.high, found.count) == (None, None, 3)
        assert not apart(found, Ranged(0.5, 0.4, 0.6, 40))


def test_two_figures_are_apart_where_the_range_of_their_difference_leaves_nought_out() -> None:
    """Equal halves: as far as the root of both squared, Zou and Donner (2008)."""
    one = Ranged(1.0, 0.9, 1.1, 30)
    away = math.hypot(0.1, 0.1)
    near, far = 1.0 + away - 1e-6, 1.0 + away + 1e-6
    assert not apart(one, Ranged(near, near - 0.1, near + 0.1, 30))
    assert apart(one, Ranged(far, far - 0.1, far + 0.1, 30))


ranged = st.tuples(st.floats(0.1, 3), st.floats(0, 1), st.floats(0, 1)).map(
    lambda of: Ranged(of[0], of[0] - of[1], of[0] + of[2], 20)
)


@given(ranged, ranged)
def test_being_apart_is_mutual_and_nothing_is_apart_from_itself(one: Ranged, two: Ranged) -> None:
    assert apart(one, two) == apart(two, one)
    assert not apart(one, one)
