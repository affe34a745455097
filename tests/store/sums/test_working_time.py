"""Working time, against published instants, an independent library and its own laws.

Clock changes: IANA time zone database 2026f; later laws can move those of coming years.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from store.sums.spans import Layout, Stretch, laid_out
from store.sums.working_time import Calendar, NeverOpens, Span, UnknownZone, WeekPlan, at_zone
from tests.store.sums.reference_hours import ReferenceHours

ALL_WEEK = (1, 2, 3, 4, 5, 6, 7)
WEEKDAYS = (1, 2, 3, 4, 5)
LONG_AGO = date(2000, 1, 1)
BERLIN = ZoneInfo("Europe/Berlin")
ZONES = (
    "Europe/London",
    "Europe/Berlin",
    "America/New_York",
    "America/Los_Angeles",
    "Australia/Sydney",
    "Australia/Lord_Howe",
    "America/Phoenix",
    "Asia/Kolkata",
)
CHANGES = (
    "2026-03-08T08:00Z",
    "2026-03-29T01:00Z",
    "2026-04-04T15:00Z",
    "2026-10-03T16:00Z",
    "2026-10-25T01:00Z",
    "2026-11-01T06:00Z",
)
MICROSECOND_H = 1e-6 / 3600
A_SHIFT = Span(WEEKDAYS, time(7, 30), time(16, 30))
NOON = Span(WEEKDAYS, time(12), time(12, 45))


def berlin(text: str) -> datetime:
    return datetime.fromisoformat(text).replace(tzinfo=BERLIN)


def utc(text: str) -> datetime:
    return datetime.fromisoformat(text).astimezone(UTC)


def one_plan(*shifts: Span, breaks: tuple[Span, ...] = ()) -> list[WeekPlan]:
    return [WeekPlan(LONG_AGO, shifts, breaks)]


def day_shop(zone: str = "Europe/Berlin", holidays: tuple[date, ...] = ()) -> Calendar:
    return Calendar(zone, one_plan(A_SHIFT, breaks=(NOON,)), holidays)


def eight_hours(days: tuple[int, ...] = WEEKDAYS, holidays: tuple[date, ...] = ()) -> Calendar:
    return Calendar("UTC", one_plan(Span(days, time(9), time(17))), holidays)


def never_closed(zone: str) -> Calendar:
    return Calendar(zone, one_plan(Span(ALL_WEEK, time(0), time(0))))


# Clock changes: IANA time zone database 2026f.


@pytest.mark.parametrize(
    ("zone", "change", "before_h", "after_h"),
    [
        ("Europe/London", "2026-03-29T01:00Z", 0, 1),
        ("Europe/London", "2026-10-25T01:00Z", 1, 0),
        ("Europe/London", "2027-03-28T01:00Z", 0, 1),
        ("Europe/London", "2027-10-31T01:00Z", 1, 0),
        ("Europe/Berlin", "2026-03-29T01:00Z", 1, 2),
        ("Europe/Berlin", "2026-10-25T01:00Z", 2, 1),
        ("Europe/Berlin", "2027-03-28T01:00Z", 1, 2),
        ("Europe/Berlin", "2027-10-31T01:00Z", 2, 1),
        ("America/New_York", "2026-03-08T07:00Z", -5, -4),
        ("America/New_York", "2026-11-01T06:00Z", -4, -5),
        ("America/New_York", "2027-03-14T07:00Z", -5, -4),
        ("America/New_York", "2027-11-07T06:00Z", -4, -5),
        ("America/Los_Angeles", "2026-03-08T10:00Z", -8, -7),
        ("America/Los_Angeles", "2026-11-01T09:00Z", -7, -8),
        ("Australia/Sydney", "2026-04-04T16:00Z", 11, 10),
        ("Australia/Sydney", "2026-10-03T16:00Z", 10, 11),
        ("Australia/Lord_Howe", "2026-04-04T15:00Z", 11, 10.5),
        ("Australia/Lord_Howe", "2026-10-03T15:30Z", 10.5, 11),
    ],
)
def test_the_day_of_a_clock_change_is_as_much_shorter_or_longer(
    zone: str, change: str, before_h: float, after_h: float
) -> None:
    moment = utc(change)
    calendar = never_closed(zone)
    day = calendar.day_of(moment)
    just_before = (moment - timedelta(seconds=1)).astimezone(calendar.zone)
    assert just_before.utcoffset() == timedelta(hours=before_h)
    assert moment.astimezone(calendar.zone).utcoffset() == timedelta(hours=after_h)
    midnight = at_zone(day, time(), calendar.zone)
    next_midnight = at_zone(day + timedelta(days=1), time(), calendar.zone)
    assert calendar.working_h(midnight, next_midnight) == 24 - (after_h - before_h)


@pytest.mark.parametrize("zone", ["America/Phoenix", "Asia/Kolkata"])
def test_zones_without_a_change_have_24_hours_every_day(zone: str) -> None:
    calendar = never_closed(zone)
    days = [date(2026, 1, 1) + timedelta(days=n) for n in range(366)]
    midnights = [at_zone(day, time(), calendar.zone) for day in days]
    lengths = {calendar.working_h(a, b) for a, b in pairwise(midnights)}
    assert lengths == {24.0}


# Elapsed against wall-clock hours: computed with zoneinfo and tzdata 2026f.


@pytest.mark.parametrize(
    ("zone", "saturday", "hours"),
    [
        ("Europe/London", date(2026, 3, 28), 38),
        ("Europe/London", date(2026, 10, 24), 40),
        ("America/New_York", date(2026, 3, 7), 38),
        ("America/New_York", date(2026, 10, 31), 40),
        ("Asia/Kolkata", date(2026, 3, 28), 39),
    ],
)
def test_a_weekend_of_39_wall_hours(zone: str, saturday: date, hours: float) -> None:
    calendar = never_closed(zone)
    since = at_zone(saturday, time(17), calendar.zone)
    until = at_zone(saturday + timedelta(days=2), time(8), calendar.zone)
    assert calendar.working_h(since, until) == hours
    assert calendar.after(since, hours) == until


@pytest.mark.parametrize(
    ("zone", "day", "hours"),
    [
        ("Europe/London", date(2026, 3, 28), 7),
        ("America/New_York", date(2026, 3, 7), 7),
        ("Europe/London", date(2026, 10, 24), 9),
        ("America/New_York", date(2026, 10, 31), 9),
        ("Europe/London", date(2026, 6, 6), 8),
    ],
)
def test_a_night_shift_over_the_change(zone: str, day: date, hours: float) -> None:
    calendar = Calendar(zone, one_plan(Span(ALL_WEEK, time(22), time(6))))
    [(start, end)] = calendar.shifts_of(day)
    assert (end - start).total_seconds() / 3600 == hours
    assert calendar.working_h(start, end) == hours
    assert calendar.after(start, hours) == end


# RFC 5545 section 3.3.5, its two examples and the same pattern in 2026.


@pytest.mark.parametrize(
    ("day", "clock", "expected"),
    [
        (date(2007, 11, 4), time(1, 30), "2007-11-04T05:30Z"),
        (date(2007, 3, 11), time(2, 30), "2007-03-11T07:30Z"),
        (date(2026, 11, 1), time(1, 30), "2026-11-01T05:30Z"),
        (date(2026, 3, 8), time(2, 30), "2026-03-08T07:30Z"),
        (date(2026, 11, 1), time(1, 30, fold=1), "2026-11-01T05:30Z"),
    ],
)
def test_local_times_that_happen_twice_or_never(day: date, clock: time, expected: str) -> None:
    assert at_zone(day, clock, ZoneInfo("America/New_York")) == utc(expected)


# Business days: docstrings of numpy's busday_offset and busday_count; the last two rows of
# holidays were computed with them.


@pytest.mark.parametrize(
    ("days", "since", "until", "count"),
    [
        (WEEKDAYS, "2011-01-01T00:00Z", "2011-02-01T00:00Z", 21),
        (WEEKDAYS, "2011-01-01T00:00Z", "2012-01-01T00:00Z", 260),
        ((6,), "2011-01-01T00:00Z", "2012-01-01T00:00Z", 53),
    ],
)
def test_days_of_eight_hours(days: tuple[int, ...], since: str, until: str, count: int) -> None:
    assert eight_hours(days).working_h(utc(since), utc(until)) == 8 * count


@pytest.mark.parametrize(
    ("days", "since", "number", "expected"),
    [
        (WEEKDAYS, "2011-10-01T00:00Z", 1, date(2011, 10, 3)),
        (WEEKDAYS, "2011-03-20T00:00Z", 1, date(2011, 3, 21)),
        (WEEKDAYS, "2011-03-22T17:00Z", 1, date(2011, 3, 23)),
        ((3,), "2011-01-01T00:00Z", 3, date(2011, 1, 19)),
        ((7,), "2012-05-01T00:00Z", 2, date(2012, 5, 13)),
    ],
)
def test_the_day_so_many_business_days_on(
    days: tuple[int, ...], since: str, number: int, expected: date
) -> None:
    calendar = eight_hours(days)
    assert calendar.day_of(calendar.after(utc(since), 8 * number)) == expected


def test_the_last_business_day_of_february_2012() -> None:
    calendar = eight_hours()
    assert calendar.shifts_of(date(2012, 2, 29))
    assert calendar.working_h(utc("2012-02-29T17:00Z"), utc("2012-03-01T00:00Z")) == 0


def test_holidays_have_no_shift() -> None:
    calendar = eight_hours(holidays=(date(2026, 12, 25), date(2026, 12, 28)))
    assert calendar.shifts_of(date(2026, 12, 28)) == []
    third = calendar.after(utc("2026-12-24T17:00Z"), 24)
    assert calendar.day_of(third) == date(2026, 12, 31)
    assert calendar.working_h(utc("2026-12-21T00:00Z"), utc("2027-01-01T00:00Z")) == 7 * 8


# The rules, one by one.


def test_ten_hours_from_friday_afternoon_over_the_change_of_clocks() -> None:
    calendar = day_shop()
    friday = berlin("2026-03-27T15:00")
    tuesday = calendar.after(friday, 10)
    assert tuesday == berlin("2026-03-31T07:45")
    assert tuesday.tzinfo is UTC
    assert calendar.working_h(friday, tuesday) == 10.0


def test_hours_that_end_with_the_shift_end_there_and_not_on_the_next_morning() -> None:
    calendar = day_shop()
    assert calendar.after(berlin("2026-10-14T12:45"), 3.75) == berlin("2026-10-14T16:30")
    in_tenths = berlin("2026-10-14T07:30")
    for _ in range(45):
        in_tenths = calendar.after(in_tenths, 0.1)
    assert in_tenths == berlin("2026-10-14T12:00")


@pytest.mark.parametrize(
    ("since", "expected"),
    [
        ("2026-10-14T10:00", "2026-10-14T10:00"),
        ("2026-10-14T07:30", "2026-10-14T07:30"),
        ("2026-10-14T12:10", "2026-10-14T12:45"),
        ("2026-10-14T16:30", "2026-10-15T07:30"),
        ("2026-10-16T18:00", "2026-10-19T07:30"),
    ],
)
def test_no_hours_at_all_is_now_if_open_else_the_next_opening(since: str, expected: str) -> None:
    calendar = day_shop()
    assert calendar.after(berlin(since), 0) == berlin(expected)
    assert calendar.next_opening(berlin(since)) == berlin(expected)
    assert calendar.is_open(berlin(since)) is (since == expected)


def test_a_break_is_not_open_but_the_shift_goes_on() -> None:
    calendar = day_shop()
    noon = berlin("2026-10-14T12:20")
    assert not calendar.is_open(noon)
    assert calendar.shift_end(noon) == berlin("2026-10-14T16:30")
    whole = (berlin("2026-10-14T12:00"), berlin("2026-10-14T12:45"))
    assert calendar.breaks_of(date(2026, 10, 14)) == [whole]
    assert calendar.breaks_between(noon, berlin("2026-10-14T12:30")) == [whole]
    assert calendar.breaks_between(berlin("2026-10-14T12:45"), berlin("2026-10-15T12:00")) == []


def test_open_spans_are_cut_off_at_both_ends() -> None:
    spans = day_shop().open_spans(berlin("2026-10-14T10:00"), berlin("2026-10-15T08:00"))
    assert spans == [
        (berlin("2026-10-14T10:00"), berlin("2026-10-14T12:00")),
        (berlin("2026-10-14T12:45"), berlin("2026-10-14T16:30")),
        (berlin("2026-10-15T07:30"), berlin("2026-10-15T08:00")),
    ]
    assert all(instant.tzinfo is UTC for span in spans for instant in span)


def test_a_night_shift_and_its_break_belong_to_the_day_they_began_on() -> None:
    friday_night = Span((5,), time(22), time(6))
    plans = one_plan(friday_night, breaks=(Span((5,), time(2), time(2, 30)),))
    calendar = Calendar("Europe/Berlin", plans)
    early_saturday = berlin("2026-10-17T03:00")
    assert calendar.shifts_of(date(2026, 10, 17)) == []
    assert calendar.breaks_of(date(2026, 10, 16)) == [
        (berlin("2026-10-17T02:00"), berlin("2026-10-17T02:30"))
    ]
    assert calendar.shift_end(early_saturday) == berlin("2026-10-17T06:00")
    assert calendar.shift_end(berlin("2026-10-16T21:00")) == berlin("2026-10-17T06:00")
    assert calendar.shift_end(berlin("2026-10-17T06:00")) is None
    assert calendar.working_h(berlin("2026-10-16T12:00"), early_saturday) == 4.5


@pytest.mark.parametrize(
    ("at", "expected"),
    [
        ("2026-10-14T05:00", "2026-10-14T18:00"),
        ("2026-10-14T09:00", "2026-10-14T18:00"),
        ("2026-10-14T13:00", "2026-10-14T18:00"),
        ("2026-10-14T17:59", "2026-10-14T18:00"),
        ("2026-10-14T18:00", None),
        ("2026-10-14T23:00", None),
        ("2026-10-18T12:00", None),
    ],
)
def test_the_end_of_the_last_shift_of_the_day(at: str, expected: str | None) -> None:
    morning, afternoon = Span(WEEKDAYS, time(8), time(12)), Span(WEEKDAYS, time(14), time(18))
    calendar = Calendar("Europe/Berlin", one_plan(morning, afternoon))
    end = calendar.shift_end(berlin(at))
    assert end == (berlin(expected) if expected else None)


def test_overlapping_shifts_count_once() -> None:
    early, late = Span(WEEKDAYS, time(6), time(14)), Span(WEEKDAYS, time(12), time(20))
    calendar = Calendar("Europe/Berlin", one_plan(early, late))
    day = (berlin("2026-10-14T06:00"), berlin("2026-10-14T20:00"))
    assert calendar.shifts_of(date(2026, 10, 14)) == [day]
    assert calendar.working_h(berlin("2026-10-14T00:00"), berlin("2026-10-15T00:00")) == 14


def test_a_new_plan_changes_nothing_before_its_day() -> None:
    old = one_plan(A_SHIFT, breaks=(NOON,))
    shorter = WeekPlan(date(2026, 10, 14), (Span(WEEKDAYS, time(8), time(12)),), ())
    before, after = Calendar("Europe/Berlin", old), Calendar("Europe/Berlin", [shorter, *old])
    since, change = berlin("2026-01-01T00:00"), berlin("2026-10-14T00:00")
    assert after.open_spans(since, change) == before.open_spans(since, change)
    assert after.working_h(change, change + timedelta(days=1)) == 4
    assert after.shifts_of(date(2026, 10, 13)) == before.shifts_of(date(2026, 10, 13))


def test_before_the_first_plan_the_shop_is_closed() -> None:
    calendar = Calendar("Europe/Berlin", [WeekPlan(date(2026, 10, 14), (A_SHIFT,), ())])
    assert calendar.working_h(utc("0002-01-01T00:00Z"), berlin("2026-10-14T08:30")) == 1
    assert calendar.next_opening(berlin("2026-06-01T00:00")) == berlin("2026-10-14T07:30")
    assert calendar.shifts_of(date(2026, 10, 13)) == []


@pytest.mark.parametrize(
    "plans",
    [
        [],
        one_plan(),
        one_plan(Span((), time(8), time(17))),
        [*one_plan(A_SHIFT), WeekPlan(date(2026, 10, 1), (), ())],
        one_plan(A_SHIFT, breaks=(Span(WEEKDAYS, time(0), time(0)),)),
    ],
)
def test_a_shop_that_never_opens_says_so(plans: list[WeekPlan]) -> None:
    calendar = Calendar("Europe/Berlin", plans)
    now = berlin("2026-10-14T10:00")
    with pytest.raises(NeverOpens, match="no open hours after 2026-10-14: give the shop its"):
        calendar.after(now, 1)
    with pytest.raises(NeverOpens, match="no open hours after 2026-10-14: give the shop its"):
        calendar.next_opening(now)
    assert calendar.working_h(now, now + timedelta(days=365)) == 0


def test_a_shop_that_opens_one_day_in_the_year_is_found() -> None:
    all_but_one = [date(2026, 1, 1) + timedelta(days=n) for n in range(1000)]
    all_but_one.remove(date(2027, 9, 15))
    calendar = Calendar("Europe/Berlin", one_plan(A_SHIFT), all_but_one)
    assert calendar.after(berlin("2026-10-14T10:00"), 2) == berlin("2027-09-15T09:30")


def test_nonsense_is_refused() -> None:
    calendar, now = day_shop(), berlin("2026-10-14T10:00")
    with pytest.raises(ValueError, match="before"):
        calendar.working_h(now, now - timedelta(seconds=1))
    for hours in (-1, float("nan"), float("inf")):
        with pytest.raises(ValueError, match="hours"):
            calendar.after(now, hours)
    with pytest.raises(ValueError, match="offset"):
        calendar.is_open(now.replace(tzinfo=None))
    with pytest.raises(ValueError, match="weekdays"):
        Span((0,), time(8), time(17))
    for zone in ("Europe/Nowhere", "", "../etc/passwd", "Europe"):
        with pytest.raises(UnknownZone, match="Continent/City"):
            Calendar(zone, [])


# Ten years.


def test_ten_years_of_weekdays() -> None:
    calendar = day_shop()
    since, until = berlin("2016-01-01T00:00"), berlin("2026-01-01T00:00")
    days = (date(2016, 1, 1) + timedelta(days=n) for n in range(3653))
    weekdays = sum(day.isoweekday() <= 5 for day in days)
    assert calendar.working_h(since, until) == 8.25 * weekdays
    assert calendar.after(since, 8.25 * weekdays) == berlin("2025-12-31T16:30")
    assert len(calendar.open_spans(since, until)) == 2 * weekdays


def test_ten_years_are_laid_out_only_when_asked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    laid: list[int] = []

    def watched(
        days: tuple[int, int], good: Stretch, shifts: list[Stretch], breaks: list[Stretch]
    ) -> Layout:
        laid.append(days[1] - days[0])
        return laid_out(days, good, shifts, breaks)

    monkeypatch.setattr("store.sums.working_time.laid_out", watched)
    calendar, now = day_shop(), berlin("2016-01-04T10:00")
    calendar.after(now, 13)
    calendar.working_h(now, now + timedelta(days=30))
    assert len(laid) == 1
    assert laid[0] < 100
    for week in range(520):
        calendar.after(now + timedelta(weeks=week), 13)
    assert len(laid) < 15
    assert laid[-1] < 2 * 3700


# Laws, and the independent reference.

clocks = st.builds(time, st.integers(0, 23), st.integers(0, 59))


def _span(days: set[int], start: time, end: time) -> Span:
    return Span(tuple(sorted(days)), start, end)


def _plan(from_day: date, shifts: list[Span], breaks: list[Span]) -> WeekPlan:
    return WeekPlan(from_day, tuple(shifts), tuple(breaks))


def _from_day(plan: WeekPlan) -> date:
    return plan.from_day


spans = st.builds(_span, st.sets(st.integers(1, 7), min_size=1), clocks, clocks)
first_days = st.sampled_from([date(2025, 11, 3), date(2026, 3, 27), date(2026, 10, 24)])
plans = st.lists(
    st.builds(
        _plan,
        first_days,
        st.lists(spans, min_size=1, max_size=3),
        st.lists(spans, max_size=2),
    ),
    min_size=1,
    max_size=2,
    unique_by=_from_day,
)
seconds = st.integers(-4 * 86_400, 4 * 86_400)


def _near(change: str, around_s: list[int]) -> list[datetime]:
    return [utc(change) + timedelta(seconds=offset) for offset in sorted(around_s)]


def rising(number: int) -> st.SearchStrategy[list[datetime]]:
    """So many instants in order, within a few days of one clock change."""
    changes = st.sampled_from(CHANGES)
    return st.builds(_near, changes, st.lists(seconds, min_size=number, max_size=number))


instants = rising(1).map(lambda one: one[0])
zones = st.sampled_from(ZONES)
holiday_sets = st.sets(st.sampled_from([date(2026, 3, 30), date(2026, 10, 26)]))


@settings(deadline=None)
@given(zones, plans, holiday_sets, rising(2))
def test_the_reference_finds_the_same_hours(
    zone: str, plans: list[WeekPlan], holidays: set[date], two: list[datetime]
) -> None:
    since, until = two
    calendar = Calendar(zone, plans, holidays)
    reference = ReferenceHours(zone, plans, holidays, since, until)
    assert calendar.open_spans(since, until) == reference.spans
    assert abs(calendar.working_h(since, until) - reference.hours) <= MICROSECOND_H
    assert since == until or calendar.is_open(since) == reference.is_open(since)


@settings(deadline=None)
@given(zones, plans, instants, st.floats(0.001, 30))
def test_the_reference_finds_the_same_instant(
    zone: str, plans: list[WeekPlan], since: datetime, hours: float
) -> None:
    calendar = Calendar(zone, plans)
    until = since + timedelta(days=25)
    expected = ReferenceHours(zone, plans, set(), since, until).after(hours)
    if expected is not None:
        found = calendar.after(since, hours)
        assert abs((found - expected).total_seconds()) <= 2e-6


@settings(deadline=None)
@given(zones, plans, rising(3))
def test_parts_add_up(zone: str, plans: list[WeekPlan], three: list[datetime]) -> None:
    calendar = Calendar(zone, plans)
    a, b, c = three
    whole = calendar.working_h(a, c)
    assert abs(whole - calendar.working_h(a, b) - calendar.working_h(b, c)) <= 1e-9
    assert 0 <= whole <= (c - a).total_seconds() / 3600 + 1e-9


@settings(deadline=None)
@given(zones, instants, st.floats(0, 400))
def test_there_and_back(zone: str, since: datetime, hours: float) -> None:
    calendar = day_shop(zone)
    until = calendar.after(since, hours)
    assert until >= since
    assert abs(calendar.working_h(since, until) - hours) <= 2 * MICROSECOND_H


@settings(deadline=None)
@given(zones, instants, st.integers(0, 20 * 3600), st.integers(0, 20 * 3600))
def test_two_steps_lead_where_one_does(zone: str, since: datetime, one_s: int, two_s: int) -> None:
    calendar = day_shop(zone)
    in_one = calendar.after(since, (one_s + two_s) / 3600)
    in_two = calendar.after(calendar.after(since, one_s / 3600), two_s / 3600)
    assert calendar.working_h(min(in_one, in_two), max(in_one, in_two)) <= 3 * MICROSECOND_H


@settings(deadline=None)
@given(zones, zones, rising(2))
def test_the_offset_an_instant_is_written_with_makes_no_difference(
    zone: str, written_in: str, two: list[datetime]
) -> None:
    calendar = day_shop(zone)
    since, until = two
    there = ZoneInfo(written_in)
    as_utc = calendar.working_h(since, until)
    assert calendar.working_h(since.astimezone(there), until.astimezone(there)) == as_utc
    assert calendar.after(since.astimezone(there), 5) == calendar.after(since, 5)


@settings(deadline=None)
@given(zones, plans, st.lists(instants, min_size=2, max_size=6))
def test_the_order_of_questions_makes_no_difference(
    zone: str, plans: list[WeekPlan], asked: list[datetime]
) -> None:
    used = Calendar(zone, plans)
    for at in asked:
        used.is_open(at)
    since, until = min(asked), max(asked)
    assert used.open_spans(since, until) == Calendar(zone, plans).open_spans(since, until)
    assert used.breaks_between(since, until) == Calendar(zone, plans).breaks_between(since, until)


@given(st.lists(st.one_of(st.just(0.0), st.floats(0, 400)), max_size=20), st.integers(0, 9_000))
def test_many_hours_at_once_are_each_as_for_itself(hours: list[float], minutes: int) -> None:
    calendar = Calendar("Europe/Berlin", one_plan(A_SHIFT, breaks=(NOON,)))
    since = datetime(2026, 10, 20, 4, tzinfo=UTC) + timedelta(minutes=minutes)
    assert calendar.each_after(since, hours) == [calendar.after(since, one) for one in hours]
