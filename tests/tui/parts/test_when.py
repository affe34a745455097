"""Times and numbers as they are typed."""

from __future__ import annotations

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import pytest

from store.trouble import Refused
from tui.parts.when import clock_of, coming, inside, number, stopped_at

ZONE = ZoneInfo("Europe/Berlin")
NOW = datetime(2026, 10, 14, 8, 40, tzinfo=UTC)
"""Wednesday 10:40 in the zone."""


def local(text: str) -> datetime:
    return datetime.fromisoformat(text).replace(tzinfo=ZONE).astimezone(UTC)


@pytest.mark.parametrize(
    "text, clock", [("14:05", (14, 5)), ("1405", (14, 5)), ("14.05", (14, 5)), ("9,30", (9, 30)),
                    ("930", (9, 30)), ("7h15", (7, 15))],
)  # fmt: skip
def test_a_time_of_day_in_the_ways_people_type_it(text: str, clock: tuple[int, int]) -> None:
    assert clock_of(text) == clock


@pytest.mark.parametrize("text", ["", "soon", "24:00", "12:60", "1", "12345", "-1:00", "٠٩:٣٠"])
def test_what_is_no_time_of_day_is_refused_with_an_example(text: str) -> None:
    with pytest.raises(Refused, match="14:05"):
        clock_of(text)


@pytest.mark.parametrize(
    "text, at",
    [
        ("14:00", "2026-10-14T14:00"), ("0900", "2026-10-15T09:00"),
        ("fri 10:00", "2026-10-16T10:00"), ("Wednesday 9:00", "2026-10-21T09:00"),
        ("tomorrow 7:30", "2026-10-15T07:30"), ("+2", "2026-10-14T12:40"),
        ("+1,5h", "2026-10-14T12:10"), ("2026-10-20 08:00", "2026-10-20T08:00"),
    ],
)  # fmt: skip
def test_what_is_still_to_come(text: str, at: str) -> None:
    assert coming(text, NOW, ZONE) == local(at)


@pytest.mark.parametrize("text", ["", "later", "2026-10-14 10:00", "xyz 10:00", "+0", "+-3", "fri"])
def test_what_has_been_or_is_no_time_is_refused(text: str) -> None:
    with pytest.raises(Refused):
        coming(text, NOW, ZONE)


def test_a_time_that_the_clocks_skip_is_explained() -> None:
    with pytest.raises(Refused, match="skipped"):
        coming("2027-03-28 02:30", NOW, ZONE)


def test_when_somebody_stopped_lies_between_the_start_and_now() -> None:
    since = local("2026-10-13T14:10")
    assert stopped_at("1630", since, NOW, ZONE) == local("2026-10-13T16:30")
    assert stopped_at("0:30", since, NOW, ZONE) == local("2026-10-14T00:30")
    with pytest.raises(Refused, match="began at 14:10"):
        stopped_at("9:00", since, NOW, ZONE)
    with pytest.raises(Refused, match="It is 10:40 now"):
        stopped_at("11:00", local("2026-10-14T08:00"), NOW, ZONE)


@pytest.mark.parametrize(
    "text, value", [("0.42", 0.42), ("0,42", 0.42), ("-3", -3.0), (" 7 ", 7.0)]
)
def test_a_number_with_point_or_comma(text: str, value: float) -> None:
    assert number(text) == value


@pytest.mark.parametrize("text", ["", "nan", "inf", "1e9", "1.2.3", "0x10", "about 3"])
def test_what_no_gauge_shows_is_refused(text: str) -> None:
    with pytest.raises(Refused, match="is no number"):
        number(text)


@pytest.mark.parametrize("text, at", [("2300", "2026-10-14T23:00"), ("0:30", "2026-10-15T00:30")])
def test_a_time_inside_a_clock_that_went_over_midnight(text: str, at: str) -> None:
    since, until = local("2026-10-14T22:00"), local("2026-10-15T01:00")
    assert inside(text, since, until, ZONE) == local(at)


@pytest.mark.parametrize("text", ["22:00", "21:59", "01:00", "1:01", "12:00"])
def test_a_time_outside_a_clock_is_refused_with_both_its_ends(text: str) -> None:
    since, until = local("2026-10-14T22:00"), local("2026-10-15T01:00")
    with pytest.raises(Refused, match="between 22:00 and 01:00"):
        inside(text, since, until, ZONE)
