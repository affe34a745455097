"""Working days against the examples in numpy's own documentation, and against numpy."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.sums.hires.days import ShopDays
from store.sums.week_plan import Span, WeekPlan
from store.sums.working_time import Calendar, NeverOpens

FIVE, SIX = (1, 2, 3, 4, 5), (1, 2, 3, 4, 5, 6)
HOLIDAYS = [date(2026, 12, 25), date(2026, 12, 28)]


def shop(days: tuple[int, ...] = FIVE, zone: str = "Europe/London") -> ShopDays:
    """From 8 to 16:30, pause at noon."""
    plan = WeekPlan(
        date(2000, 1, 1),
        (Span(days, time(8), time(16, 30)),),
        (Span(days, time(12), time(12, 45)),),
    )
    return ShopDays(Calendar(zone, [plan], HOLIDAYS))


def test_working_days_are_those_of_the_documentation_of_busday_offset_and_busday_count() -> None:
    """Values printed in the docstrings of numpy.busday_offset and numpy.busday_count (2.4)."""
    days = shop()
    assert days.on_or_after(date(2011, 10, 1)) == date(2011, 10, 3)
    assert days.on_or_after(date(2011, 3, 20)) == date(2011, 3, 21)
    assert days.after(date(2011, 3, 22), 1) == date(2011, 3, 23)
    assert len(days.between(date(2011, 1, 1), date(2011, 1, 31))) == 21
    assert len(days.between(date(2011, 1, 1), date(2011, 12, 31))) == 260


def test_holidays_of_the_shop_are_no_working_days() -> None:
    days = shop()
    assert days.after(date(2026, 12, 24), 3) == date(2026, 12, 31)
    assert len(days.between(date(2026, 12, 21), date(2026, 12, 31))) == 7


@given(st.dates(date(2005, 1, 1), date(2030, 1, 1)), st.integers(0, 40))
def test_days_after_are_those_of_numpy(day: date, ahead: int) -> None:
    holidays = [str(each) for each in HOLIDAYS]
    start = np.busday_offset(str(day), 0, roll="forward", holidays=holidays)
    found = (
        np.busday_offset(str(day), ahead, roll="backward", holidays=holidays) if ahead else start
    )
    assert str(shop().on_or_after(day)) == str(start)
    assert str(shop().after(day, ahead)) == str(found)


def test_a_shop_that_is_open_on_saturday_meets_no_carrier_then() -> None:
    assert shop(SIX).on_or_after(date(2026, 10, 17)) == date(2026, 10, 19)


def test_what_is_handed_over_after_the_cut_off_counts_for_the_next_working_day() -> None:
    """Local times: the carrier's clock moves with the shop's, 25 October 2026 too (IANA 2026f)."""
    days, cut = shop(), time(15, 30)
    friday = datetime(2026, 10, 23, 14, 30, tzinfo=UTC)
    assert days.cut_off(date(2026, 10, 23), cut) == friday
    assert days.cut_off(date(2026, 10, 26), cut) == datetime(2026, 10, 26, 15, 30, tzinfo=UTC)
    assert days.handed(friday, cut) == date(2026, 10, 23)
    assert days.handed(friday + timedelta(seconds=1), cut) == date(2026, 10, 26)
    assert days.handed(friday + timedelta(days=1), cut) == date(2026, 10, 26)


def test_a_shop_day_is_as_long_as_its_shifts_less_their_breaks() -> None:
    assert shop().shop_day_h(date(2026, 10, 17)) == pytest.approx(7.75)
    assert shop().opens(date(2026, 10, 19)) == datetime(2026, 10, 19, 7, tzinfo=UTC)


def test_a_shop_without_a_working_day_says_so() -> None:
    with pytest.raises(NeverOpens):
        ShopDays(Calendar("Europe/London", [])).on_or_after(date(2026, 10, 14))


def test_a_shop_that_is_open_at_week_ends_alone_meets_a_carrier_then() -> None:
    days = shop((6, 7))
    assert days.on_or_after(date(2026, 10, 14)) == date(2026, 10, 17)
    assert days.after(date(2026, 10, 17), 2) == date(2026, 10, 24)
    monday = datetime(2026, 10, 19, 9, tzinfo=UTC)
    assert days.handed(monday, time(15, 30)) == date(2026, 10, 24)


def test_a_week_of_holidays_does_not_make_a_shop_one_of_week_ends() -> None:
    plan = WeekPlan(date(2000, 1, 1), (Span(SIX, time(8), time(16, 30)),), ())
    shut = [date(2026, 12, 21 + n) for n in range(5)]
    days = ShopDays(Calendar("Europe/London", [plan], shut))
    assert days.on_or_after(date(2026, 12, 21)) == date(2026, 12, 28)
