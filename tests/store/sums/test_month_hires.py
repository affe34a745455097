"""A hire over two months, by hand; idle days on the days they fell."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.sums.month.hires import HireDays

OCTOBER = date(2026, 10, 1), date(2026, 10, 31)
NOVEMBER = date(2026, 11, 1), date(2026, 11, 30)


def works(day: date) -> bool:
    """Monday to Friday."""
    return day.isoweekday() <= 5


ONE = HireDays(
    came=date(2026, 10, 29), last=date(2026, 11, 3), sent=date(2026, 11, 3), due=date(2026, 11, 1),
    whole=114.0, idle_a_day=15.0, late=72.0, used={date(2026, 10, 30)},
)  # fmt: skip
"""Thursday to Tuesday, six days; used on Friday; two days late."""


def test_each_day_carries_the_same() -> None:
    assert ONE.spent(*OCTOBER) == pytest.approx(57)
    assert ONE.spent(*NOVEMBER) == pytest.approx(57)
    assert replace(ONE, whole=None).spent(*OCTOBER) is None


def test_the_fee_falls_on_the_days_that_were_late() -> None:
    assert ONE.late_on(*OCTOBER) == 0
    assert ONE.late_on(*NOVEMBER) == pytest.approx(72)
    earlier = replace(ONE, due=date(2026, 10, 30))
    assert earlier.late_on(*OCTOBER) == pytest.approx(72 / 4), "the 31st of four late days"


def test_a_fee_of_an_invoice_that_was_in_time_falls_on_the_last_day() -> None:
    assert replace(ONE, due=date(2026, 11, 5)).late_on(*NOVEMBER) == pytest.approx(72)
    assert replace(ONE, due=None).late_on(*NOVEMBER) == pytest.approx(72)


def test_idle_are_shop_days_on_which_nobody_used_it() -> None:
    """Thursday in October; Monday and Tuesday in November; no week-end, not the Friday."""
    assert ONE.idle(*OCTOBER, works) == (date(2026, 10, 29),)
    assert ONE.idle(*NOVEMBER, works) == (date(2026, 11, 2), date(2026, 11, 3))


def test_one_that_came_today_is_not_idle_yet() -> None:
    """What is here is looked at up to yesterday."""
    today = replace(ONE, sent=ONE.came - timedelta(days=1))
    assert today.idle(*OCTOBER, works) == ()


@given(st.integers(0, 120), st.integers(0, 120), st.integers(-20, 140), st.integers(1, 119))
def test_stretches_of_days_add_up(begun: int, long: int, due: int, cut: int) -> None:
    """Whatever the months, what falls on them together is the whole."""
    first, last = date(2026, 1, 1), date(2026, 1, 1) + timedelta(days=400)
    came, edge = first + timedelta(days=begun), first + timedelta(days=cut)
    one = HireDays(
        came, came + timedelta(days=long), came + timedelta(days=long),
        max(came, first + timedelta(days=max(0, due))), 100.0, 1.0, 30.0, (),
    )  # fmt: skip
    before, after = (first, edge), (edge + timedelta(days=1), last)
    assert (one.spent(*before) or 0) + (one.spent(*after) or 0) == pytest.approx(100)
    assert one.late_on(*before) + one.late_on(*after) == pytest.approx(30)
    assert [*one.idle(*before, works), *one.idle(*after, works)] == list(
        one.idle(first, last, works)
    )
