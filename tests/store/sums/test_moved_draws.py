"""Draws moved to a later moment, against exact distributions given that so much has passed."""

from __future__ import annotations

import math
from statistics import NormalDist

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.sums.hires.moved_draws import FEWEST, Stands, stands

NORMAL = NormalDist()
MANY = 400
LEVELS = [(k + 0.5) / MANY for k in range(MANY)]
LOGS = [10 * math.exp(0.6 * NORMAL.inv_cdf(level)) for level in LEVELS]
"""Log-normal: middle 10 h, spread .6."""
draws = st.lists(st.floats(0, 300), min_size=1, max_size=60)


def left(hours: list[float], passed: float) -> list[float]:
    """What is left in each draw, rising."""
    return sorted(hours[at.draw] + at.later - passed for at in stands(hours, passed))


@pytest.mark.parametrize("passed", [2.0, 6.0, 12.0, 20.0])
@pytest.mark.parametrize("level", [0.1, 0.5, 0.9])
def test_what_is_left_of_a_log_normal_is_its_exact_conditional(passed: float, level: float) -> None:
    """Aitchison and Brown (1957), The lognormal distribution: truncated from below."""
    p = NORMAL.cdf(math.log(passed / 10) / 0.6)
    exact = 10 * math.exp(0.6 * NORMAL.inv_cdf(p + (1 - p) * level)) - passed
    assert left(LOGS, passed)[int(level * MANY)] == pytest.approx(exact, rel=0.08, abs=0.1)


@pytest.mark.parametrize("passed", [0.0, 4.0, 9.0, 40.0, 400.0])
def test_an_exponential_forgets_how_long_it_took(passed: float) -> None:
    """Its residual life is itself (Cox 1962, Renewal theory), in the draws and far past them."""
    hours = [-5 * math.log1p(-level) for level in LEVELS]
    found = left(hours, passed)
    assert sum(found) / MANY == pytest.approx(5.0, rel=0.12)
    assert found[MANY // 2] == pytest.approx(5 * math.log(2), rel=0.12)


def test_what_has_not_happened_yet_is_still_to_come_together_with_all_that_goes_with_it() -> None:
    """The second event is the first and four hours more: it stays so in every draw."""
    second = [one + 4 for one in LOGS]
    for passed in (3.0, 15.0, 500.0):
        for at in stands(LOGS, passed):
            first_at, second_at = LOGS[at.draw] + at.later, second[at.draw] + at.later
            assert first_at > passed
            assert second_at - first_at == pytest.approx(4.0)


def test_draws_stay_in_their_order_as_far_as_they_stay() -> None:
    found = [at.draw for at in stands(LOGS, 8.0)]
    assert found == sorted(found)
    counts = [found.count(one) for one in set(found)]
    assert max(counts) - min(counts) <= 1


def test_what_is_never_to_happen_binds_nothing() -> None:
    hours = [math.inf, 1.0, math.inf, 2.0]
    assert {at.draw for at in stands(hours, 3.0)} == {0, 2}
    assert all(at.later == 0 for at in stands(hours, 3.0))


@given(draws)
def test_nothing_passed_moves_nothing(hours: list[float]) -> None:
    if min(hours) > 0:
        assert stands(hours, 0.0) == tuple(Stands(k) for k in range(len(hours)))


@given(draws, st.floats(0, 1000))
def test_there_are_as_many_as_before_and_none_is_in_the_past(
    hours: list[float], passed: float
) -> None:
    found = stands(hours, passed)
    assert len(found) == len(hours)
    if max(hours) > 0:
        assert all(hours[at.draw] + at.later >= passed for at in found)


def test_few_are_not_asked_over_and_over() -> None:
    """Where less than one in twenty stays, it is late beyond what the draws know."""
    hours = [*([1.0] * 99), 50.0]
    assert FEWEST > 1 / 100
    found = stands(hours, 2.0)
    assert len({at.later for at in found}) > 50


def test_no_draws_and_time_that_runs_backwards_are_refused() -> None:
    with pytest.raises(ValueError, match="0 draws"):
        stands([], 1.0)
    with pytest.raises(ValueError, match="draws after -1"):
        stands([1.0], -1.0)
