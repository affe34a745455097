"""Money of a job: sums, and what must hold of them whatever the figures."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.sums.job_money import (
    Reckoned,
    Used,
    beside_labour,
    cents,
    free_left,
    labour_money,
    over,
)

MONEY = st.integers(0, 10_000_000).map(lambda found: found / 100)
HOURS = st.integers(0, 4000).map(lambda found: found / 20)
RATE = st.integers(1, 40_000).map(lambda found: found / 100)
WORKED = st.lists(st.tuples(HOURS, st.one_of(st.none(), RATE)), max_size=12)


def test_labour_costs_the_rate_of_its_day() -> None:
    assert labour_money([(2.0, 90.0), (1.5, 96.0), (4.0, None)]) == 324.0


def test_extra_work_counts_beside_its_hours() -> None:
    assert beside_labour([(150.0, 1.0, 90.0), (50.0, 1.0, 90.0), (None, 3.0, 90.0)]) == 20.0
    assert beside_labour([(80.0, 0.0, None)]) == 80.0


def test_expected_is_used_and_known_and_the_hours_left() -> None:
    used = Used(labour=450.0, outwork=210.0, parts=35.0, extra=20.0)
    found = Reckoned(used, still=60.0, left_h=(2.0, 3.0), rate=90.0)
    assert used.total == 715.0
    assert found.expected == (955.0, 1045.0)
    assert Reckoned(used, 60.0, (2.0, 3.0), None).expected is None


@pytest.mark.parametrize(
    "limit, used, left", [(None, [10.0], None), (200.0, [], 200.0), (200.0, [150.0, 90.0], 0.0)]
)
def test_what_is_left_of_a_free_hand(
    limit: float | None, used: list[float], left: float | None
) -> None:
    assert free_left(limit, used) == left


@given(st.decimals(0, 10**7, places=4))
def test_cents_are_rounded_as_people_round(amount: Decimal) -> None:
    """Against Python's decimal arithmetic (General Decimal Arithmetic, ROUND_HALF_UP)."""
    wanted = float(amount.quantize(Decimal("0.01"), ROUND_HALF_UP))
    assert cents(float(amount)) == wanted
    assert cents(-float(amount)) == -wanted


@given(WORKED, WORKED)
def test_labour_of_two_lists_is_the_sum(
    one: list[tuple[float, float | None]], other: list[tuple[float, float | None]]
) -> None:
    both = labour_money(one) + labour_money(other)
    assert labour_money([*one, *other]) == pytest.approx(both)


@given(MONEY, MONEY, MONEY, MONEY)
def test_a_limit_is_kept_up_to_the_cent_and_passed_by_what_is_over(
    limit: float, expected: float, more: float, further: float
) -> None:
    beyond = over(limit, expected, more)
    assert beyond >= 0
    assert (beyond == 0) == (cents(expected + more) <= cents(limit))
    assert over(limit, expected, more + further) >= beyond - 1e-6
    assert over(expected + more, expected, more) == 0


@given(MONEY, MONEY, MONEY, HOURS, HOURS, RATE)
def test_what_is_expected_never_lies_below_what_is_used(
    labour: float, outwork: float, still: float, middle: float, more: float, rate: float
) -> None:
    used = Used(labour, outwork)
    expected = Reckoned(used, still, (middle, middle + more), rate).expected
    assert expected is not None
    assert used.total <= expected[0] <= expected[1]


@given(MONEY, st.lists(MONEY, max_size=8), MONEY)
def test_a_free_hand_only_shrinks_and_takes_what_is_left(
    limit: float, used: list[float], more: float
) -> None:
    left = free_left(limit, used)
    assert left is not None
    assert 0 <= left <= limit
    after = free_left(limit, [*used, more])
    assert after is not None
    assert after <= left
    if over(left, more) == 0:
        assert after == pytest.approx(left - more, abs=0.011)
