from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.sums.working_time import Calendar, Span, WeekPlan
from tests.tui.made import CALENDAR, NOW, on
from tui.lane.axis import ZOOMS, Axis, axis, first_zoom, now_column

WIDTHS = [24, 32, 39, 40, 56, 90, 162, 200]
ALL_DAYS = (1, 2, 3, 4, 5, 6, 7)
NEVER = Calendar("Europe/Berlin", [])
ALWAYS = Calendar(
    "Europe/Berlin", [WeekPlan(date(2020, 1, 1), (Span(ALL_DAYS, time(0), time(0)),), ())]
)
NIGHTS = Calendar(
    "Europe/Berlin",
    [
        WeekPlan(
            date(2020, 1, 1),
            (Span((1, 2, 3, 4, 5), time(22), time(6)),),
            (Span((1, 2, 3, 4, 5), time(2), time(2, 45)),),
        )
    ],
)
SPRING = datetime(2026, 3, 20, tzinfo=UTC)
INSTANTS = st.integers(0, 235 * 24 * 60).map(lambda minutes: SPRING + timedelta(minutes=minutes))


def kinds(made: Axis) -> str:
    letters = {"cell": ".", "night": ":", "weekend": ";", "now": "|", "blank": " "}
    return "".join(letters[column.kind] for column in made.columns)


@pytest.mark.parametrize("calendar", [CALENDAR, NEVER, ALWAYS, NIGHTS])
@pytest.mark.parametrize("width", WIDTHS)
def test_an_axis_has_exactly_its_width_and_now_in_its_place(calendar: Calendar, width: int) -> None:
    for zoom in (None, *ZOOMS):
        made = axis(calendar, NOW, width, zoom)
        assert made.width == width
        assert [n for n, c in enumerate(made.columns) if c.kind == "now"] == [now_column(width)]


@given(INSTANTS, st.sampled_from([CALENDAR, ALWAYS, NIGHTS]), st.sampled_from(ZOOMS))
def test_columns_follow_each_other_and_cells_hold_working_time_only(
    at: datetime, calendar: Calendar, zoom: int
) -> None:
    made = axis(calendar, at, 48, zoom)
    for one, other in zip(made.columns, made.columns[1:], strict=False):
        assert one.since <= one.until <= other.since + 1e-6 or other.kind == "now"
        assert one.since <= other.since
    for n, column in enumerate(made.columns):
        if column.kind == "cell":
            since, until = (datetime.fromtimestamp(x, UTC) for x in (column.since, column.until))
            assert calendar.working_h(since, until) == pytest.approx(made.open_h(n), abs=1e-5)
            assert made.open_h(n) <= zoom / 60 * 1.5 + 1e-6
        elif column.kind in ("night", "weekend") and calendar is not ALWAYS:
            since = datetime.fromtimestamp(column.since, UTC)
            until = datetime.fromtimestamp(column.until, UTC)
            assert calendar.working_h(since, until) == pytest.approx(0, abs=1e-5)


@given(INSTANTS, st.integers(-96, 96))
def test_an_instant_lies_in_the_column_it_is_given(at: datetime, off_h: int) -> None:
    made = axis(CALENDAR, at, 90)
    instant = at + timedelta(hours=off_h, minutes=7)
    place = made.column(instant)
    if 0 <= place < made.width:
        column = made.columns[place]
        if instant.timestamp() < column.since:  # a break that begins now has no width
            since = datetime.fromtimestamp(column.since, UTC)
            assert CALENDAR.working_h(instant, since) == pytest.approx(0, abs=1e-5)
        if instant.timestamp() > column.until:  # a break, or the evening before now
            until = datetime.fromtimestamp(column.until, UTC)
            assert CALENDAR.working_h(until, instant) == pytest.approx(0, abs=1e-5)
        assert (place > made.now) == (instant > at)


def test_a_weekend_is_one_column_and_heavier_than_a_night() -> None:
    assert kinds(axis(CALENDAR, NOW, 90)) == (
        "......:................:......|...........:................:................;............."
    )


def test_breaks_have_no_width() -> None:
    made = axis(CALENDAR, NOW, 90)
    before, after = made.column(on("Thu 11:59")), made.column(on("Thu 12:46"))
    assert after - before <= 1


def test_what_is_off_the_lane_is_said() -> None:
    made = axis(CALENDAR, NOW, 24)
    assert made.column(on("Fri- 08:00")) == -1
    assert made.column(on("Tue+ 08:00")) == made.width


def test_a_promise_after_closing_stands_on_the_night() -> None:
    made = axis(CALENDAR, NOW, 90)
    assert made.columns[made.column(on("Thu 18:00"))].kind == "night"


def test_time_flows_past_now_by_whole_cells() -> None:
    first = axis(CALENDAR, on("Wed 10:46"), 90, 30)
    later = axis(CALENDAR, on("Wed 11:14"), 90, 30)
    assert first.column(on("Thu 10:00")) == later.column(on("Thu 10:00"))


@pytest.mark.parametrize("width, zoom", [(24, 60), (82, 30), (90, 30), (162, 20), (400, 10)])
def test_the_finest_zoom_that_shows_enough_is_chosen(width: int, zoom: int) -> None:
    assert first_zoom(8.0, width) == zoom


def test_a_shop_that_never_opens_has_blank_columns() -> None:
    assert set(kinds(axis(NEVER, NOW, 40))) == {" ", "|"}


@pytest.mark.parametrize("at", ["Wed 03:00", "Wed 07:30", "Wed 12:20", "Wed 16:30", "Wed 23:00"])
def test_now_outside_working_hours_keeps_its_column(at: str) -> None:
    made = axis(CALENDAR, on(at), 60)
    assert made.columns[made.now].kind == "now"
    assert made.columns[made.now - 1].until <= on(at).timestamp()
    assert made.columns[made.now + 1].since >= on(at).timestamp()
