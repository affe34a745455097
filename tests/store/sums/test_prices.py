"""Prices at other hours and rates, by hand; what an hour costs; what quotes would ask now."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.sums.learned_quotes import PhasesAsked, grade_factors, learned_share
from store.sums.month.sold import Paid
from store.sums.prices import Asked, divided, otherwise, per_hour

RATE = 100.0


def asked(basis: str, *, ceiling: float | None = None, pays: str | None = None) -> Asked:
    """5 h asked at 100, and 1 h of extra work that was agreed at 90; 8 h worked at 100."""
    paid = Paid(basis, 8.0, 800.0, 6.0, 590.0, ceiling=ceiling, pays=pays)
    return Asked(paid, 5.0, RATE)


def test_a_fixed_price_keeps_the_difference() -> None:
    assert otherwise(asked("fixed price")) == 590  # 5 h x 100 + 90
    assert otherwise(asked("fixed price"), 7.0) == 790  # two hours more at 100
    assert otherwise(asked("fixed price"), 4.5) == 540
    assert otherwise(asked("fixed price"), rate=110.0) == 660  # 6 h x 110
    assert otherwise(asked("fixed price"), 7.0, 110.0) == 880  # 8 h x 110


def test_time_is_paid_as_it_was_worked_whatever_was_asked() -> None:
    assert otherwise(asked("time")) == 800
    assert otherwise(asked("time"), 7.0) == 800
    assert otherwise(asked("time"), rate=110.0) == 880


def test_a_ceiling_moves_with_the_hours_asked_and_is_paid_up_to() -> None:
    one = asked("ceiling", ceiling=600.0)
    assert otherwise(one) == 600
    assert otherwise(one, 6.5) == 750  # 600 + 1.5 h x 100
    assert otherwise(one, 9.0) == 800  # all that was worked
    assert otherwise(one, 4.0) == 500
    # 8 h x 110 = 880 were worked; the ceiling is 600 + 5 h x 10 = 650
    assert otherwise(one, rate=110.0) == 650


def test_what_the_shop_pays_fetches_nothing_at_any_price() -> None:
    one = asked("fixed price", pays="shop")
    assert [otherwise(one), otherwise(one, 9.0), otherwise(one, rate=200.0)] == [0, 0, 0]


def test_without_a_rate_nothing_is_known() -> None:
    one = Asked(Paid("fixed price", 8.0, None, 5.0, None), 5.0, None)
    assert otherwise(one) is None
    assert otherwise(one, 7.0) is None


bases = st.sampled_from(["fixed price", "ceiling", "time"])
hours = st.floats(0.1, 40)


@given(bases, hours, hours, hours, hours)
def test_more_hours_asked_never_fetch_less_and_the_same_fetch_the_same(
    basis: str, first: float, worked: float, some: float, more: float
) -> None:
    paid = Paid(basis, worked, worked * RATE, first, first * RATE, ceiling=first * RATE)
    one = Asked(paid, first, RATE)
    low, high = otherwise(one, some), otherwise(one, some + more)
    assert low is not None
    assert high is not None
    assert low <= high + 1e-6
    assert otherwise(one, first) == pytest.approx(otherwise(one))
    assert otherwise(one, first, RATE) == pytest.approx(otherwise(one))


def test_what_an_hour_attended_cost() -> None:
    assert per_hour(9000, 4000, 325) == 40
    assert per_hour(9000, 4000, 0) is None
    assert divided(800, 8) == 100
    assert divided(800, 0) is None
    assert divided(None, 8) is None


def test_what_a_quote_would_ask_now() -> None:
    job = PhasesAsked(2, (2.0, 3.0), (2.5, 3.5))
    assert learned_share(job, {}) == pytest.approx(1.2)  # 6 h for 5 h
    assert learned_share(job, {2: 1.0, 4: 1.5}) == pytest.approx(1.2)
    assert learned_share(PhasesAsked(4, (2.0, 3.0), (2.5, 3.5)), {4: 1.5}) == pytest.approx(1.8)
    assert learned_share(PhasesAsked(2, (), ()), {}) is None


def test_a_grade_is_quoted_by_so_much_more_as_its_quotes_were() -> None:
    usual = [PhasesAsked(2, (2.0,), (2.0,))] * 8
    bad = [PhasesAsked(4, (3.0,), (2.0,))] * 8
    few = [PhasesAsked(3, (9.0,), (2.0,))] * 7
    assert grade_factors([*usual, *bad, *few]) == {2: 1.0, 4: 1.5}
    assert grade_factors([*bad, *few]) == {}
