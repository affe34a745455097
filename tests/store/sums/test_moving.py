"""A stored forecast at a later moment, against exact distributions given that so much passed."""

from __future__ import annotations

import math
from itertools import pairwise
from statistics import NormalDist

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.sums.moving import LEVELS, chance, left, quantile

NORMAL = NormalDist()
LOGS = tuple(math.exp(0.6 * NORMAL.inv_cdf(level)) * 10 for level in LEVELS)
"""Log-normal: middle 10 h, spread .6."""
EXPONENTIAL = tuple(-5 * math.log1p(-level) for level in LEVELS)
"""Mean 5 h."""
rising = st.lists(st.floats(0.01, 200), min_size=19, max_size=19).map(sorted)


def exact_left(passed: float, level: float) -> float:
    """Of the log-normal, given that it is longer: by its own distribution function."""
    p = NORMAL.cdf(math.log(passed / 10) / 0.6)
    return 10 * math.exp(0.6 * NORMAL.inv_cdf(p + (1 - p) * level)) - passed


@pytest.mark.parametrize("passed", [2.0, 5.0, 10.0, 15.0])
def test_what_is_left_of_a_log_normal_is_near_its_exact_conditional(passed: float) -> None:
    """Aitchison and Brown (1957), The lognormal distribution: truncated from below."""
    moved = left(LOGS, passed)
    for n in range(1, 16):
        assert moved[n] == pytest.approx(exact_left(passed, LEVELS[n]), rel=0.08, abs=0.35)


@pytest.mark.parametrize("passed", [0.5, 4.0, 10.0, 14.9, 15.0, 40.0])
def test_an_exponential_forgets_how_long_it_took(passed: float) -> None:
    """Its residual life is itself (Cox 1962, Renewal theory); linear pieces bend it a little."""
    assert left(EXPONENTIAL, passed) == pytest.approx(EXPONENTIAL, rel=0.08, abs=0.06)


def test_a_late_job_is_never_nearly_done_for_ever() -> None:
    subtracted = LOGS[9] - 0.99 * LOGS[9]
    assert left(LOGS, 0.99 * LOGS[9])[9] > 20 * subtracted
    assert left(LOGS, 100.0)[9] == pytest.approx(left(LOGS, 1000.0)[9])


def test_levels_and_quantiles_are_each_others_way_back() -> None:
    for level in (0.001, 0.05, 0.07, 0.5, 0.513, 0.8, 0.95):
        assert chance(LOGS, quantile(LOGS, level)) == pytest.approx(max(0.05, level))
    assert quantile(LOGS, 0.02) == pytest.approx(
        10 * math.exp(0.6 * NORMAL.inv_cdf(0.02)), rel=0.08
    )
    assert quantile(EXPONENTIAL, 0.99) == pytest.approx(-5 * math.log(0.01))


def test_a_chance_is_never_said_beyond_what_is_known() -> None:
    assert chance(LOGS, 0.0) == chance(LOGS, -3.0) == 0.05
    assert chance(LOGS, 1e6) == 0.95


@given(rising, st.floats(0, 400))
def test_what_is_left_never_falls_and_is_never_less_than_nothing(
    quantiles: list[float], passed: float
) -> None:
    moved = left(quantiles, passed)
    assert len(moved) == 19
    assert all(one >= 0 for one in moved)
    assert all(one <= other * (1 + 1e-9) + 1e-9 for one, other in pairwise(moved))


@given(rising, st.floats(0.01, 200))
def test_hours_and_minutes_say_the_same(quantiles: list[float], passed: float) -> None:
    in_minutes = left([60 * one for one in quantiles], 60 * passed)
    assert in_minutes == pytest.approx([60 * one for one in left(quantiles, passed)], abs=1e-6)


@given(rising)
def test_nothing_passed_changes_nothing(quantiles: list[float]) -> None:
    assert left(quantiles, 0.0) == tuple(quantiles)


@given(rising, st.floats(0, 300), st.floats(0, 50))
def test_the_end_never_comes_nearer_by_waiting(
    quantiles: list[float], passed: float, more: float
) -> None:
    """Given that it took longer, the whole is longer."""
    one = [passed + each for each in left(quantiles, passed)]
    later = [passed + more + each for each in left(quantiles, passed + more)]
    assert all(b >= a - 1e-6 * (1 + a) for a, b in zip(one, later, strict=True))


@pytest.mark.parametrize("level", [0.0, 1.0, -1.0, 2.0])
def test_a_level_outside_its_range_is_refused(level: float) -> None:
    with pytest.raises(ValueError, match="level"):
        quantile(LOGS, level)


def test_anything_but_nineteen_quantiles_is_refused() -> None:
    with pytest.raises(ValueError, match="19"):
        left(LOGS[:-1], 1.0)
    with pytest.raises(ValueError, match="19"):
        quantile(LOGS[:-1], 0.5)
    with pytest.raises(ValueError, match="19"):
        chance([*LOGS, 9e9], 1.0)
    with pytest.raises(ValueError, match="passed"):
        left(LOGS, -1.0)
