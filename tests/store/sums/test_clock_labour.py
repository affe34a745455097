"""The labour of one clock. Clock changes: IANA time zone database 2026f."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from store.sums.clock_labour import counts_to, labour_h
from store.sums.working_time import Calendar, Span, WeekPlan

BERLIN = ZoneInfo("Europe/Berlin")
WEEKDAYS = (1, 2, 3, 4, 5)
SHOP = Calendar(
    "Europe/Berlin",
    [
        WeekPlan(
            date(2020, 1, 1),
            (Span(WEEKDAYS, time(7, 30), time(16, 30)),),
            (Span(WEEKDAYS, time(9, 30), time(9, 45)), Span(WEEKDAYS, time(12), time(12, 45))),
        )
    ],
)
NIGHT_SHOP = Calendar(
    "Europe/Berlin",
    [
        WeekPlan(
            date(2020, 1, 1),
            (Span(WEEKDAYS, time(22), time(6)),),
            (Span(WEEKDAYS, time(2), time(2, 30)),),
        )
    ],
)
FORTNIGHT_S = 14 * 86_400


def _instant(seconds: int) -> datetime:
    """One in the fortnight with the change of clocks."""
    return datetime(2026, 10, 12, tzinfo=UTC) + timedelta(seconds=seconds)


instants = st.builds(_instant, st.integers(0, FORTNIGHT_S))


def on(day: int, clock: str) -> datetime:
    """A local time in October 2026; the 14th is a Wednesday."""
    return datetime.fromisoformat(f"2026-10-{day:02} {clock}").replace(tzinfo=BERLIN)


@pytest.mark.parametrize(
    ("start", "stop", "hours"),
    [
        ("07:30", "09:00", 1.5),
        ("07:30", "16:30", 8.0),
        ("09:00", "10:00", 0.75),
        ("11:00", "13:00", 1.25),
        ("11:00", "12:20", 4 / 3),
        ("12:20", "13:20", 1.0),
        ("12:10", "12:30", 1 / 3),
        ("12:00", "12:45", 0.75),
        ("12:00", "13:00", 0.25),
        ("11:00", "12:45", 1.0),
        ("17:00", "20:00", 3.0),
        ("05:00", "07:30", 2.5),
    ],
)
def test_breaks_that_a_clock_spans_whole_are_taken_off(start: str, stop: str, hours: float) -> None:
    found = labour_h(SHOP, on(14, start), on(14, stop), False)
    assert abs(found - hours) < 1e-12


def test_nothing_is_taken_off_when_the_breaks_were_worked() -> None:
    assert labour_h(SHOP, on(14, "07:30"), on(14, "16:30"), True) == 9.0


def test_a_clock_over_two_days_loses_the_breaks_of_both() -> None:
    assert labour_h(SHOP, on(14, "07:30"), on(15, "16:30"), False) == 33.0 - 2.0


@pytest.mark.parametrize(("day", "wall_h"), [(24, 9.0), (23, 8.0)])
def test_a_night_over_the_change_of_clocks_has_an_hour_more(day: int, wall_h: float) -> None:
    assert labour_h(SHOP, on(day, "22:00"), on(day + 1, "06:00"), False) == wall_h


def test_the_break_of_a_night_shift_is_taken_off() -> None:
    assert labour_h(NIGHT_SHOP, on(16, "22:00"), on(17, "06:00"), False) == 7.5


def test_a_machine_clock_that_was_set_back_records_nothing_negative() -> None:
    assert labour_h(SHOP, on(14, "10:00"), on(14, "09:00"), False) == 0.0
    assert labour_h(SHOP, on(14, "10:00"), on(14, "10:00"), True) == 0.0
    assert counts_to(SHOP, on(14, "10:00"), on(14, "09:00")) == (on(14, "10:00"), False)
    assert counts_to(SHOP, on(14, "18:00"), on(14, "09:00")) == (on(14, "18:00"), False)


@pytest.mark.parametrize(
    ("since", "now", "counted", "left_running"),
    [
        ((14, "08:00"), (14, "16:00"), (14, "16:00"), False),
        ((14, "08:00"), (14, "16:30"), (14, "16:30"), False),
        ((14, "08:00"), (14, "16:31"), (14, "16:30"), True),
        ((14, "08:00"), (15, "07:30"), (14, "16:30"), True),
        ((14, "12:10"), (14, "18:00"), (14, "16:30"), True),
        ((14, "06:00"), (14, "07:00"), (14, "07:00"), False),
        ((14, "06:00"), (14, "20:00"), (14, "16:30"), True),
    ],
)
def test_a_clock_counts_to_the_end_of_the_working_day(
    since: tuple[int, str], now: tuple[int, str], counted: tuple[int, str], left_running: bool
) -> None:
    assert counts_to(SHOP, on(*since), on(*now)) == (on(*counted), left_running)


@pytest.mark.parametrize(
    ("since", "now", "counted", "left_running"),
    [
        ((14, "17:00"), (14, "20:00"), (14, "20:00"), False),
        ((14, "17:00"), (14, "21:00"), (14, "21:00"), False),
        ((14, "17:00"), (15, "08:00"), (14, "21:00"), True),
        ((14, "16:30"), (14, "20:31"), (14, "20:30"), True),
        ((17, "08:00"), (17, "17:00"), (17, "17:00"), False),
        ((17, "08:00"), (18, "12:00"), (17, "18:00"), True),
        ((18, "23:30"), (19, "10:00"), (19, "07:30"), True),
    ],
)
def test_evening_and_weekend_work_counts_for_a_while(
    since: tuple[int, str], now: tuple[int, str], counted: tuple[int, str], left_running: bool
) -> None:
    assert counts_to(SHOP, on(*since), on(*now)) == (on(*counted), left_running)


def test_a_night_shift_is_not_left_running_at_midnight() -> None:
    assert counts_to(NIGHT_SHOP, on(16, "23:00"), on(17, "05:00")) == (on(17, "05:00"), False)
    assert counts_to(NIGHT_SHOP, on(16, "23:00"), on(17, "07:00")) == (on(17, "06:00"), True)


def test_a_shop_without_shifts_still_forgets_a_clock() -> None:
    closed = Calendar("Europe/Berlin", [])
    assert counts_to(closed, on(14, "08:00"), on(15, "08:00")) == (on(14, "18:00"), True)


def test_an_instant_without_offset_is_refused() -> None:
    naive = on(14, "08:00").replace(tzinfo=None)
    with pytest.raises(ValueError, match="offset"):
        labour_h(SHOP, naive, naive, False)
    with pytest.raises(ValueError, match="offset"):
        counts_to(SHOP, naive, naive)


@settings(deadline=None)
@given(instants, instants, st.booleans())
def test_labour_is_never_negative_nor_more_than_wall_time(
    since: datetime, until: datetime, breaks_worked: bool
) -> None:
    hours = labour_h(SHOP, since, until, breaks_worked)
    wall_h = (until - since) / timedelta(hours=1)
    assert 0 <= hours <= max(0.0, wall_h)
    assert not breaks_worked or hours == max(0.0, wall_h)


@settings(deadline=None)
@given(instants, instants)
def test_a_clock_counts_to_now_or_is_left_running(since: datetime, now: datetime) -> None:
    counted, left_running = counts_to(SHOP, since, now)
    assert since <= counted <= max(since, now)
    assert left_running == (counted < max(since, now))
