"""What a hire comes to: worked by hand, and against every mixture of rates there is."""

from __future__ import annotations

from datetime import UTC, date, datetime, time
from typing import Literal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.sums.hires.charge import charge, cheapest, counted_days, late_fee, week_end_days
from store.sums.hires.terms import House, Rates, Terms
from tests.store.sums import hire_by_hand as by_hand
from tests.store.sums.hire_by_hand import SHOP

MON, TUE, WED, THU, FRI, SAT, SUN = (date(2026, 10, 12 + n) for n in range(7))
NEXT_MON, NEXT_TUE, NEXT_WED = (date(2026, 10, 19 + n) for n in range(3))
KIT = Rates(day=24, week=90, month=260, minimum_days=3, carriage=15, deposit=200)

money = st.floats(0, 500).map(lambda each: round(each, 2))
rates = st.builds(
    Rates, day=money, week=st.none() | money, month=st.none() | money,
    minimum_days=st.integers(1, 10), carriage=money,
)  # fmt: skip
houses = st.builds(
    House, cut_off=st.sampled_from([time(10), time(15, 30), time(17)]),
    counts=st.sampled_from(["hand-over", "arrival"]),
    weekend=st.sampled_from(["counted", "half", "free"]),
    late=st.floats(0, 5), back_days=st.integers(0, 3),
)  # fmt: skip


def at(day: date, hour: float) -> datetime:
    return datetime(day.year, day.month, day.day, int(hour), int(hour % 1 * 60), tzinfo=UTC)


@pytest.mark.parametrize(
    ("came", "handed", "days", "hire"),
    [
        (MON, MON, 1, 72),  # three days are paid at least
        (MON, WED, 3, 72),
        (MON, THU, 4, 90),  # four days are 96, a week is 90
        (MON, NEXT_MON, 8, 114),  # a week and a day
        (MON, date(2026, 10, 23), 12, 180),  # five days more are 120, a second week 90
        (MON, date(2026, 11, 4), 24, 260),  # 3 weeks and 3 days are 342, 4 weeks 360, a month 260
        (MON, date(2026, 11, 16), 36, 350),  # a month and a week, where six days were 144
    ],
)
def test_the_cheapest_mixture_is_paid(came: date, handed: date, days: float, hire: float) -> None:
    """By hand: 24 a day, 90 a week, 260 a month, three days at least, carriage 15 each way."""
    found = charge(Terms(KIT), at(came, 8), handed, SHOP)
    assert (found.days, found.hire, found.carriage) == (days, hire, 30)
    assert found.total == hire + 30


@pytest.mark.parametrize(
    ("weekend", "came", "hour", "handed", "days"),
    [
        ("counted", FRI, 14, NEXT_MON, 4),
        ("free", FRI, 14, NEXT_MON, 2),
        ("free", FRI, 12, NEXT_MON, 2),
        ("free", FRI, 11.75, NEXT_MON, 4),  # before noon
        ("free", FRI, 14, NEXT_TUE, 5),  # not on Monday
        ("free", THU, 14, NEXT_MON, 5),  # not on Friday
        ("half", FRI, 8, NEXT_MON, 3),
        ("half", WED, 8, SAT, 3.5),
        ("half", MON, 8, NEXT_MON, 7),
        ("half", MON, 8, THU, 4),
    ],
)
def test_week_ends_count_as_the_supplier_says(
    weekend: Literal["counted", "half", "free"], came: date, hour: float, handed: date, days: float
) -> None:
    terms = Terms(Rates(day=10), House(weekend=weekend))
    found = charge(terms, at(came, hour), handed, SHOP)
    assert found.days == days
    assert found.hire == 10 * days


def test_days_go_on_to_the_arrival_where_the_supplier_counts_so() -> None:
    house = House(counts="arrival", back_days=2)
    assert counted_days(house, MON, FRI, SHOP) == 9  # from Monday to Tuesday of the next week
    assert counted_days(House(counts="arrival", back_days=0), MON, FRI, SHOP) == 5
    free = House(counts="arrival", back_days=1, weekend="free")
    assert counted_days(free, FRI, NEXT_MON, SHOP, after_noon=True) == 3  # Friday, Monday, Tuesday


def test_noon_is_the_shops_noon() -> None:
    """Friday 11:30 UTC is 12:30 in London's summer."""
    from tests.store.sums.test_hire_days import shop

    terms = Terms(Rates(day=10), House(weekend="free"))
    assert charge(terms, at(FRI, 11.5), NEXT_MON, shop()).days == 2


def test_each_day_begun_after_the_day_agreed_costs_the_fee_beside_the_day() -> None:
    terms = Terms(Rates(day=20), House(late=1.5))
    found = charge(terms, at(MON, 8), FRI, SHOP, due=WED)
    assert (found.days, found.hire, found.late) == (5, 100, 60)
    assert found.total == 160
    assert charge(terms, at(MON, 8), FRI, SHOP, due=NEXT_MON).late == 0
    assert late_fee(terms, FRI, NEXT_MON) == 90


def test_nothing_goes_back_before_it_came() -> None:
    with pytest.raises(ValueError, match="before it came"):
        charge(Terms(KIT), at(WED, 8), TUE, SHOP)


@pytest.mark.parametrize("days", [-1.0, float("nan"), float("inf")])
def test_days_that_cannot_be_are_refused(days: float) -> None:
    with pytest.raises(ValueError, match="days"):
        cheapest(KIT, days)


@given(rates, st.integers(0, 300).map(lambda halves: halves / 2))
def test_no_mixture_is_cheaper(some: Rates, days: float) -> None:
    found = cheapest(some, days)
    covered = 30 * found.months + 7 * found.weeks + found.days
    parts = (found.months * (some.month or 0), found.weeks * (some.week or 0))
    assert covered >= days
    assert found.cost == pytest.approx(sum(parts) + found.days * some.day)
    least = Rates(some.day, some.week, some.month)
    paid = by_hand.price(Terms(least), max(days, 1))
    assert cheapest(least, max(days, 1)).cost == pytest.approx(paid, abs=1e-9)


@given(rates, st.integers(0, 200), st.integers(0, 200))
def test_more_days_never_cost_less_nor_two_hires_less_than_one(
    some: Rates, one: int, other: int
) -> None:
    both = cheapest(some, one + other).cost
    assert cheapest(some, one).cost <= both + 1e-9
    assert both <= cheapest(some, one).cost + cheapest(some, other).cost + 1e-9


@given(houses, st.integers(0, 20), st.integers(0, 40))
def test_days_are_those_counted_one_by_one(house: House, came: int, more: int) -> None:
    handed = by_hand.carriers(came + more, 0)
    found = counted_days(house, by_hand.day_of(came), by_hand.day_of(handed), SHOP)
    assert found == by_hand.days_paid(Terms(KIT, house), came, handed)


@given(st.integers(0, 30), st.integers(0, 60))
def test_week_end_days_are_those_counted_one_by_one(first: int, more: int) -> None:
    days = [by_hand.day_of(number) for number in range(first, first + more + 1)]
    assert week_end_days(days[0], days[-1]) == sum(day.weekday() >= 5 for day in days)
