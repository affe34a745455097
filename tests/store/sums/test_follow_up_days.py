"""When a follow-up falls due."""

from __future__ import annotations

from datetime import date, timedelta

from hypothesis import given
from hypothesis import strategies as st

from store.sums.follow_up_days import (
    ASSUMED_KM_A_MONTH,
    DAYS_A_MONTH,
    Seen,
    day_after_driving,
    day_of_distance,
    falls_due,
    km_a_day,
)

SINCE = date(2026, 3, 2)
days = st.integers(1, 900)
distances = st.floats(1, 50_000)
starts = st.floats(0, 400_000)


def test_a_month_is_the_gregorian_mean() -> None:
    # 400 years have 146,097 days (Explanatory Supplement to the Astronomical Almanac, 3rd ed.,
    # 15.11: a Gregorian cycle), so 4,800 months.
    assert DAYS_A_MONTH == 146_097 / 4_800


def test_until_the_odometer_is_seen_again_a_month_is_1200_km() -> None:
    read = [Seen(SINCE, 80_000)]
    assert km_a_day(read, SINCE) * DAYS_A_MONTH == ASSUMED_KM_A_MONTH
    assert day_of_distance(81_200, read, SINCE) == SINCE + timedelta(days=30)
    assert day_after_driving(100, SINCE) == SINCE + timedelta(days=2)


def test_seen_again_the_rate_between_the_two_readings_counts() -> None:
    again = [Seen(SINCE, 80_000), Seen(SINCE + timedelta(days=10), 80_500)]
    assert day_of_distance(81_000, again, SINCE) == SINCE + timedelta(days=20)
    assert day_of_distance(80_400, again, SINCE) == SINCE + timedelta(days=10), "it is past"


def test_whichever_comes_first() -> None:
    read, late = [Seen(SINCE, 80_000)], SINCE + timedelta(days=28)
    assert falls_due(late, 80_500, read, SINCE) == SINCE + timedelta(days=12)
    assert falls_due(late, 90_000, read, SINCE) == late
    assert falls_due(late, None, read, SINCE) == late
    assert falls_due(None, None, read, SINCE) is None


def test_a_vehicle_that_stands_is_taken_to_be_driven_as_others_are() -> None:
    stood = [Seen(SINCE, 80_000), Seen(SINCE + timedelta(days=40), 80_000)]
    assert day_of_distance(81_200, stood, SINCE) == SINCE + timedelta(days=70)


@given(starts, distances, days, distances)
def test_at_a_steady_rate_the_day_is_told_right_whenever_it_is_looked_at(
    start: float, rate_a_month: float, look: int, target: float
) -> None:
    rate = rate_a_month / DAYS_A_MONTH
    read = [Seen(SINCE, start), Seen(SINCE + timedelta(days=look), start + rate * look)]
    found = (day_of_distance(start + target, read, SINCE) - SINCE).days
    true = min(target / rate, look + 36_525)
    assert max(look, true) - 1.01 <= found <= max(look, true) + 0.01


@given(starts, distances, distances, days)
def test_a_longer_way_is_never_due_sooner_and_nothing_before_it_was_seen(
    start: float, one: float, other: float, look: int
) -> None:
    read = [Seen(SINCE, start), Seen(SINCE + timedelta(days=look), start + one)]
    near, far = sorted((start + one, start + other))
    first, last = (day_of_distance(at, read, SINCE) for at in (near, far))
    assert SINCE + timedelta(days=look) <= first <= last
