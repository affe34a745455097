"""Who pays what, by price basis: by hand."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.sums.month.sold import (
    CEILING,
    DECLINED,
    EXTRA,
    NOTHING,
    OURS,
    OVERRUN,
    ROUTE,
    SHOP,
    Lost,
    Paid,
    sold,
)


def test_a_fixed_price_pays_what_was_agreed() -> None:
    """Worked 12 h at 90, agreed 10: two hours ran over."""
    found = sold(Paid("fixed price", 12, 1080, agreed_h=10, agreed=900))
    assert (found.hours, found.money) == (10, 900)
    assert found.lost == (Lost(OVERRUN, 2, 180),)


def test_what_was_quick_stays_the_shops() -> None:
    found = sold(Paid("fixed price", 8, 720, agreed_h=10, agreed=900))
    assert (found.hours, found.money, found.lost) == (10, 900, ())


def test_an_overrun_is_first_the_extra_that_nobody_agreed_to() -> None:
    """6 h over: 1.5 found and not agreed, 2 by a longer route, 2.5 ran over."""
    job = Paid("fixed price", 16, 1600, agreed_h=10, agreed=900, extra_h=1.5, route_h=2)
    assert [(one.cause, one.hours, one.money) for one in sold(job).lost] == [
        (EXTRA, 1.5, 150), (ROUTE, 2, 200),
        (OVERRUN, 2.5, 250),
    ]  # fmt: skip


def test_extra_that_fitted_in_is_not_lost() -> None:
    assert sold(Paid("fixed price", 9, 810, agreed_h=10, agreed=900, extra_h=3)).lost == ()
    (only,) = sold(Paid("fixed price", 11, 990, agreed_h=10, agreed=900, extra_h=3)).lost
    assert (only.cause, only.hours) == (EXTRA, 1)


def test_a_ceiling_pays_up_to_it() -> None:
    """10 h at 90 and 200 beside under a ceiling of 1010: 90 are over, one hour."""
    found = sold(Paid("ceiling", 10, 900, ceiling=1010, beside=200))
    assert (found.hours, found.money) == (9, 810)
    assert found.lost == (Lost(CEILING, 1, 90),)
    assert sold(Paid("ceiling", 10, 900, ceiling=1100, beside=200)).lost == ()
    assert sold(Paid("ceiling", 10, 900)).hours == 10, "no ceiling was said"


def test_no_more_than_the_labour_is_lost_to_a_ceiling() -> None:
    """Parts alone are dearer than the ceiling: what of them is lost is no labour."""
    assert sold(Paid("ceiling", 10, 900, ceiling=100, beside=500)).money == 0


def test_time_pays_all() -> None:
    found = sold(Paid("time", 10, 900, agreed_h=5, agreed=450, extra_h=3))
    assert (found.hours, found.money, found.lost) == (10, 900, ())


def test_a_comeback_that_the_shop_pays() -> None:
    assert sold(Paid("time", 3, 270, pays="shop", ours=True)).lost == (Lost(OURS, 3, 270),)
    assert sold(Paid("time", 3, 270, pays="shop")).lost == (Lost(SHOP, 3, 270),)
    assert sold(Paid("time", 3, 270, pays="customer")).hours == 3


def test_where_nothing_was_agreed() -> None:
    assert sold(Paid(None, 3, 270)).lost == (Lost(NOTHING, 3, 270),)
    assert sold(Paid(None, 3, 270, declined=True)).lost == (Lost(DECLINED, 3, 270),)
    assert sold(Paid(None, 0, 0.0)).lost == ()


def test_without_a_rate_hours_are_known_and_money_is_not() -> None:
    found = sold(Paid("fixed price", 12, None, agreed_h=10))
    assert (found.hours, found.money, found.lost[0].money) == (10, None, None)
    assert sold(Paid("ceiling", 12, None, ceiling=1)).hours == 12


@given(
    st.sampled_from(["fixed price", "ceiling", "time", None]), st.floats(0, 100),
    st.floats(0, 100), st.floats(0, 30), st.floats(0, 30), st.floats(0, 5000), st.floats(0, 900),
    st.sampled_from([None, "shop", "customer", "supplier"]),
)  # fmt: skip
def test_what_is_worked_is_sold_or_lost(
    basis: str | None, worked: float, agreed: float, extra: float, route: float, ceiling: float,
    beside: float, pays: str | None,
) -> None:  # fmt: skip
    """Worked hours = sold + lost, but for hours that a fixed price pays and nobody worked."""
    job = Paid(basis, worked, worked * 90, agreed, agreed * 90, extra, route, ceiling, beside, pays)
    found = sold(job)
    lost = sum(one.hours for one in found.lost)
    assert all(one.hours >= 0 for one in found.lost)
    spare = max(0.0, found.hours - worked)
    assert found.hours + lost - spare == pytest.approx(worked, abs=1e-9)
