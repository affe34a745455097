"""Instants as text, against RFC 3339 and RFC 5545."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta, timezone
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from store.edges.instants import (
    BadDate,
    BadInstant,
    for_zone,
    from_text,
    parse_date,
    parse_instant,
    to_text,
)

BERLIN = ZoneInfo("Europe/Berlin")
NEW_YORK = ZoneInfo("America/New_York")
LORD_HOWE = ZoneInfo("Australia/Lord_Howe")
minutes = st.integers(-14 * 60, 14 * 60)
seconds = st.integers(-2_000_000_000, 7_000_000_000)


def _instant(second: int, microsecond: int, offset: int) -> datetime:
    """One between 1906 and 2191."""
    at = datetime(1970, 1, 1, tzinfo=UTC) + timedelta(seconds=second, microseconds=microsecond)
    return at.astimezone(timezone(timedelta(minutes=offset)))


instants = st.builds(_instant, seconds, st.integers(0, 999_999), minutes)


# RFC 3339 section 5.8, its examples but for the leap seconds.


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("1985-04-12T23:20:50.52Z", datetime(1985, 4, 12, 23, 20, 50, 520_000, UTC)),
        ("1996-12-19T16:39:57-08:00", datetime(1996, 12, 20, 0, 39, 57, 0, UTC)),
        ("1937-01-01T12:00:27.87+00:20", datetime(1937, 1, 1, 11, 40, 27, 870_000, UTC)),
    ],
)
def test_the_examples_of_the_internet_profile_of_iso_8601(text: str, expected: datetime) -> None:
    assert parse_instant(text, BERLIN) == expected


@pytest.mark.parametrize("text", ["1990-12-31T23:59:60Z", "1990-12-31T15:59:60-08:00"])
def test_its_leap_seconds_are_refused(text: str) -> None:
    with pytest.raises(BadInstant, match="no moment of the calendar"):
        parse_instant(text, BERLIN)


@pytest.mark.parametrize(
    "text",
    [
        "2026-10-14T10:40",
        "2026-10-14 10:40",
        " 2026-10-14t10:40:00 ",
        "2026-10-14T10:40:00+02:00",
        "2026-10-14T10:40+02",
        "2026-10-14T10:40+0200",
        "2026-10-14T08:40Z",
        "2026-10-14T08:40:00.000000z",
        "2026-10-14T04:40:00-04:00",
        "2026-10-14T14:10+05:30",
        "20261014T1040",
        "20261014T104000+0200",
        "20261014T084000Z",
        "2026-10-14T10:40:00,0",
        "2026-10-14T10:40:00.0000000009",
    ],
)
def test_ways_to_write_one_moment(text: str) -> None:
    moment = parse_instant(text, BERLIN)
    assert moment == datetime(2026, 10, 14, 8, 40, tzinfo=UTC)
    assert moment.tzinfo is UTC


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("2026-10-14", "has no time of day: add it like 2026-10-14T10:40."),
        ("", "is no date and time: type them like 2026-10-14T10:40."),
        ("tomorrow", "is no date and time"),
        ("10:40", "is no date and time"),
        ("2026-10-14T10", "is no date and time"),
        ("2026-10-14x10:40", "is no date and time"),
        ("2026-W42-3T10:40", "is no date and time"),
        ("14/10/2026 10:40", "is no date and time"),
        ("2026-10-14T10:40:00+02:00:30", "is no date and time"),
        ("2026-10-14T10:40\n2026", "is no date and time"),
        ("２026-10-14T10:40", "is no date and time"),
        ("2026-02-30T10:40", "is no moment of the calendar: check day"),
        ("2026-10-14T24:00", "is no moment of the calendar"),
        ("2026-10-14T10:60", "is no moment of the calendar"),
        ("2026-10-14T10:40+25:00", "is no moment of the calendar"),
        ("0000-10-14T10:40", "is no moment of the calendar"),
        ("0001-01-01T00:00+14:00", "is too far away: check the year."),
        ("9999-12-31T23:59-14:00", "is too far away: check the year."),
        ("0206-10-14T10:40", "is too far away: check the year."),
    ],
)
def test_what_names_no_moment_is_refused_in_one_line(text: str, said: str) -> None:
    with pytest.raises(BadInstant) as refused:
        parse_instant(text, BERLIN)
    assert said in str(refused.value)
    assert "\n" not in str(refused.value)


# Local times without offset: the instants of RFC 5545 section 3.3.5 and of the IANA database.


@pytest.mark.parametrize(
    ("text", "zone", "said"),
    [
        ("2007-03-11T02:30", NEW_YORK, "is skipped when the clocks go forward"),
        ("2007-11-04T01:30", NEW_YORK, "2007-11-04T01:30:00-04:00 for the first"),
        ("2026-03-29T02:00", BERLIN, "did you mean 2026-03-29T03:00"),
        ("2026-03-29T02:59:59", BERLIN, "did you mean 2026-03-29T03:59"),
        ("2026-10-25T02:00", BERLIN, "2026-10-25T02:00:00+01:00 for the second"),
        ("2026-10-25T02:59:59", BERLIN, "happens twice"),
        ("2026-10-04T02:10", LORD_HOWE, "did you mean 2026-10-04T02:40"),
        ("2026-04-05T01:40", LORD_HOWE, "happens twice"),
    ],
)
def test_local_times_that_name_no_moment_or_two_are_refused(
    text: str, zone: ZoneInfo, said: str
) -> None:
    with pytest.raises(BadInstant) as refused:
        parse_instant(text, zone)
    assert said in str(refused.value)


@pytest.mark.parametrize(
    ("text", "hour"),
    [
        ("2026-03-29T01:59", 0),
        ("2026-03-29T03:00", 1),
        ("2026-03-29T02:30+01:00", 1),
        ("2026-10-25T01:59", 23),
        ("2026-10-25T03:00", 2),
        ("2026-10-25T02:30+02:00", 0),
        ("2026-10-25T02:30+01:00", 1),
    ],
)
def test_their_neighbours_and_the_same_with_offset_are_read(text: str, hour: int) -> None:
    assert parse_instant(text, BERLIN).hour == hour


def test_dates() -> None:
    assert parse_date("2026-10-14") == date(2026, 10, 14)
    assert parse_date(" 1985-04-12 ") == date(1985, 4, 12)


@pytest.mark.parametrize(
    "text",
    ["", "20261014", "2026-10-14T10:40", "2026-02-29", "14.10.2026", "2026-W42-3", "0206-10-14"],
)
def test_other_dates_are_refused(text: str) -> None:
    with pytest.raises(BadDate, match="is no date: type year-month-day like 2026-10-14"):
        parse_date(text)


def test_the_form_of_the_file_and_that_of_answers() -> None:
    moment = datetime(2026, 10, 14, 10, 40, tzinfo=BERLIN)
    assert to_text(moment) == "2026-10-14T08:40:00.000000+00:00"
    assert from_text("2026-10-14T08:40:00.000000+00:00").tzinfo is UTC
    assert for_zone(moment.astimezone(UTC), BERLIN) == "2026-10-14T10:40:00+02:00"
    half = moment + timedelta(milliseconds=500)
    assert for_zone(half, BERLIN) == "2026-10-14T10:40:00.500000+02:00"
    assert for_zone(moment, ZoneInfo("UTC")) == "2026-10-14T08:40:00+00:00"


@pytest.mark.parametrize(
    "text", ["2026-10-14T08:40:00+00:00", "2026-10-14T08:40:00.000000+02:00", "x", ""]
)
def test_the_file_has_one_form_only(text: str) -> None:
    with pytest.raises(ValueError, match="not an instant of the shop file"):
        from_text(text)


def test_an_instant_without_offset_is_never_written() -> None:
    naive = datetime(2026, 10, 14, 10, 40)  # noqa: DTZ001  # the wrong input meant
    with pytest.raises(ValueError, match="offset"):
        to_text(naive)
    with pytest.raises(ValueError, match="offset"):
        for_zone(naive, BERLIN)


@settings(deadline=None)
@given(instants)
def test_what_is_written_is_read_back(at: datetime) -> None:
    assert from_text(to_text(at)) == at
    assert len(to_text(at)) == 32
    assert parse_instant(for_zone(at, BERLIN), NEW_YORK) == at
    assert parse_instant(at.isoformat(), BERLIN) == at


@settings(deadline=None)
@given(instants, instants)
def test_texts_of_the_file_sort_as_the_instants_do(one: datetime, other: datetime) -> None:
    assert (to_text(one) < to_text(other)) == (one < other)
