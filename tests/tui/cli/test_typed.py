"""What is typed is taken for what it means, or for wrong usage: never for something near it."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.edges.events.shop import WeekSpan
from tui.cli.spans import span
from tui.cli.typed import number, phase, readings, whole
from tui.cli.usage import WrongUsage


@pytest.mark.parametrize(
    ("text", "value"), [("2.5", 2.5), ("-0.3", -0.3), (" 4 ", 4), ("1e3", 1000), (".5", 0.5)]
)
def test_numbers(text: str, value: float) -> None:
    assert number(text, "--x") == value


@pytest.mark.parametrize(
    "text",
    ["", "nan", "inf", "-inf", "1e999", "1_0", "0x1", "2,5", "two", "1 2", "٣", "--5", "1e9999"],
)
def test_what_is_no_number(text: str) -> None:
    with pytest.raises(WrongUsage, match="no number"):
        number(text, "--x")


def test_a_comma_is_answered_with_the_point() -> None:
    with pytest.raises(WrongUsage, match=r"with a point: 0\.42"):
        number("0,42", "--x")


@pytest.mark.parametrize("text", ["-1", "1.0", "9" * 40, "٣", "", "0x1", "1e3"])
def test_what_is_no_whole_number(text: str) -> None:
    with pytest.raises(WrongUsage, match="no whole number"):
        whole(text, "N")


def test_readings_by_position() -> None:
    assert readings(["0.12"]) == {"value": 0.12}
    assert readings(["a=0.1", "b=-.2"]) == {"a": 0.1, "b": -0.2}
    for bad in (["0.1", "0.2"], ["a=1", "a=2"], ["=1"], ["a="], ["a=b"], ["a=nan"]):
        with pytest.raises(WrongUsage):
            readings(bad)


@given(st.text(max_size=12))
def test_a_phase_is_read_or_refused(text: str) -> None:
    try:
        job, number_ = phase(text)
    except WrongUsage:
        return
    assert f"{job}.{number_}" == text.strip()


@pytest.mark.parametrize(
    ("text", "days", "start", "end"),
    [
        ("mon-fri 07:30-16:30", [1, 2, 3, 4, 5], "07:30", "16:30"),
        ("Sat 8:00 - 12:00", [6], "08:00", "12:00"),
        ("mon,wed-thu 22:00-06:00", [1, 3, 4], "22:00", "06:00"),
        ("fri-mon 00:00-00:00", [1, 5, 6, 7], "00:00", "00:00"),
        ("sun-sat 06:00-07:00", [1, 2, 3, 4, 5, 6, 7], "06:00", "07:00"),
    ],
)
def test_times_of_the_week(text: str, days: list[int], start: str, end: str) -> None:
    assert span(text, "--shift") == WeekSpan(days=days, start=start, end=end)


@pytest.mark.parametrize(
    "text",
    ["", "mon-fri", "07:30-16:30", "mon-xyz 07:30-16:30", "mon 7-16", "mon 24:00-25:00",
     "mon 07:60-08:00", "montag 07:30-16:30", "-fri 07:30-16:30", "mon 07:30-16:30 tue"],
)  # fmt: skip
def test_what_is_no_time_of_the_week(text: str) -> None:
    with pytest.raises(WrongUsage, match="mon-fri 07:30-16:30"):
        span(text, "--shift")
