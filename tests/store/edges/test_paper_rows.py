"""Rows of a day on paper as they are typed: what repeats is left out, the rest is explained."""

from __future__ import annotations

from datetime import date, datetime, time
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.edges.tables.paper_rows import PaperPage, RowRead, noted, read_row, read_rows
from store.sums.working_time import Calendar, Span, WeekPlan
from store.trouble import Refused

ZONE = ZoneInfo("Europe/Amsterdam")
DAY = date(2026, 10, 14)
SHIFT = Span((1, 2, 3, 4, 5), time(7, 30), time(16, 30))
LUNCH = Span((1, 2, 3, 4, 5), time(12), time(12, 45))
REASONS = ("tidying", "parts", "helping", "customers", "other")
PAGE = PaperPage(
    DAY, Calendar("Europe/Amsterdam", [WeekPlan(date(2020, 1, 1), (SHIFT,), (LUNCH,))]), REASONS
)


def at(hour: int, minute: int = 0, day: int = 14) -> datetime:
    return datetime(2026, 10, day, hour, minute, tzinfo=ZONE)


def said(row: RowRead | None) -> str:
    """What a row came to, in short."""
    assert row is not None
    what = row.reason or f"{row.job}.{row.phase}"
    return f"{what} {row.since.astimezone(ZONE):%H%M} {row.until.astimezone(ZONE):%H%M}"


def test_a_day_is_typed_with_what_changes_only() -> None:
    typed = ["2417.3 1000", "t 1015", "2417.4 1200", "1430", "h 1445", ".5 1630"]
    rows, faults = read_rows(typed, PAGE)
    assert [said(row) for row in rows[:4]] == [
        "2417.3 0730 1000", "tidying 1000 1015", "2417.4 1015 1200", "2417.4 1245 1430",
    ]  # fmt: skip
    assert faults == {6: ".5 lacks its job: the row above has none. Like 2417.3 0730 1000."}
    assert said(rows[4]) == "helping 1430 1445"


@pytest.mark.parametrize(
    "typed", ["2417.3 0730 1000", "2417.3 07:30-10:00", "2417.3 730 1000", " 2417.3+0730+1000 "]
)
def test_digits_may_be_parted_as_a_pad_can(typed: str) -> None:
    assert said(read_row(typed, PAGE, None)) == "2417.3 0730 1000"


def test_a_phase_that_was_added_has_a_letter() -> None:
    assert said(read_row("2417.3b 0800 0900", PAGE, None)) == "2417.3b 0800 0900"


def test_the_small_hours_are_on_the_day_after_and_midnight_is_a_time() -> None:
    assert read_row("o 2200 0130", PAGE, None).until == at(1, 30, day=15)
    assert read_row("o 2200 2400", PAGE, None).until == at(0, 0, day=15)


@pytest.mark.parametrize(
    "typed, says",
    [
        ("", "Nothing was typed"),
        ("2417.3", "lacks its time"),
        ("1000", "lacks what it was on"),
        ("2417.3 0730 1000 1100", "too many words"),
        ("2417.3 0770 1000", "no time of day"),
        ("2417 0730 1000", "2417"),
        ("sleeping 0730 1000", "neither a phase like 2417.3 nor one of tidying"),
        ("[b]x 0730 1000", "neither a phase"),
    ],
)
def test_what_cannot_be_read_is_explained(typed: str, says: str) -> None:
    with pytest.raises(Refused, match=says.replace("[", r"\[")):
        read_row(typed, PAGE, None)


def test_labour_outside_the_hours_is_allowed_and_said() -> None:
    assert "ends 16:30" in noted(read_row("o 1600 1800", PAGE, None), PAGE)
    assert "begins 07:30" in noted(read_row("o 0600 0800", PAGE, None), PAGE)
    assert noted(read_row("o 0800 0900", PAGE, None), PAGE) == ""
    sunday = PaperPage(date(2026, 10, 18), PAGE.calendar, REASONS)
    assert "closed" in noted(read_row("o 0800 0900", sunday, None), sunday)
    with pytest.raises(Refused, match="from when to when"):
        read_row("o 0900", sunday, None)


def test_an_hour_that_there_was_not_is_refused() -> None:
    """Clocks went on by an hour at two that night (EU directive 2000/84/EC)."""
    spring = PaperPage(date(2026, 3, 29), PAGE.calendar, REASONS)
    with pytest.raises(Refused):
        read_row("o 0230 0400", spring, None)


@given(st.text(max_size=30), st.text(max_size=30))
def test_whatever_is_typed_is_read_or_explained_in_one_line(first: str, second: str) -> None:
    rows, faults = read_rows([first, second], PAGE)
    assert len(rows) == 2
    assert {n for n, row in enumerate(rows, 1) if row is None} == set(faults)
    assert all("\n" not in says for says in faults.values())


@given(st.integers(0, 1439), st.integers(0, 1439))
def test_what_was_meant_comes_back(start: int, end: int) -> None:
    typed = f"2417.3 {start // 60:02d}{start % 60:02d} {end // 60:02d}{end % 60:02d}"
    row = read_row(typed, PAGE, None)
    assert said(row) == typed
