"""Months of a shop's zone: edges as instants, months that still run, what is no month."""

from __future__ import annotations

from calendar import monthrange
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.sums.month.span import is_month, month_of, month_span, shifted

AMSTERDAM = ZoneInfo("Europe/Amsterdam")
LATER = datetime(2027, 1, 1, tzinfo=UTC)


def utc(text: str) -> datetime:
    return datetime.fromisoformat(text).replace(tzinfo=UTC)


def test_a_month_begins_and_ends_at_midnight_of_the_shop() -> None:
    found = month_span("2026-09", LATER, AMSTERDAM)
    assert (found.since, found.until) == (utc("2026-08-31T22:00"), utc("2026-09-30T22:00"))
    assert (str(found.first), str(found.last), found.running) == ("2026-09-01", "2026-09-30", False)


def test_a_month_in_which_the_clocks_change_is_an_hour_longer_or_shorter() -> None:
    """Sunday 29 March and 25 October 2026 in the European Union (directive 2000/84/EC)."""
    march = month_span("2026-03", LATER, AMSTERDAM)
    october = month_span("2026-10", LATER, AMSTERDAM)
    assert march.until - march.since == timedelta(days=31, hours=-1)
    assert october.until - october.since == timedelta(days=31, hours=1)


def test_the_last_second_of_a_month_is_in_it_and_the_next_one_is_not() -> None:
    found = month_span("2026-09", LATER, AMSTERDAM)
    last = datetime(2026, 9, 30, 23, 59, 59, 999999, tzinfo=AMSTERDAM)
    assert found.holds(last.astimezone(UTC))
    assert not found.holds(datetime(2026, 10, 1, tzinfo=AMSTERDAM).astimezone(UTC))


def test_a_running_month_is_told_up_to_now_and_what_is_entered_now_is_in_it() -> None:
    now = utc("2026-09-14T08:40")
    found = month_span("2026-09", now, AMSTERDAM)
    assert found.running
    assert found.holds(now)
    assert not found.holds(now + timedelta(seconds=1))


@pytest.mark.parametrize(
    "text", ["", "2026", "2026-9", "2026-13", "2026-00", "0000-01", "9999-01", "2026-09-01",
             "09-2026", "2026-09\n", "٢٠٢٦-٠٩", "last"],
)  # fmt: skip
def test_what_is_no_month_is_said_to_be_none(text: str) -> None:
    assert not is_month(text)
    with pytest.raises(ValueError, match="no month"):
        month_span(text, LATER, AMSTERDAM)


def test_a_month_that_has_not_begun_is_none_yet() -> None:
    with pytest.raises(ValueError, match="not begun"):
        month_span("2027-02", LATER, AMSTERDAM)


zones = st.sampled_from(["Europe/Amsterdam", "America/New_York", "Australia/Lord_Howe", "UTC"])
moments = st.integers(631_152_000, 3_786_912_000).map(lambda at: datetime.fromtimestamp(at, UTC))


@given(moments, zones)
def test_every_instant_is_in_the_month_of_its_local_day_and_in_no_other(
    at: datetime, name: str
) -> None:
    zone = ZoneInfo(name)
    month, later = month_of(at.astimezone(zone).date()), at + timedelta(days=70)
    assert month_span(month, later, zone).holds(at)
    assert not month_span(shifted(month, -1), later, zone).holds(at)
    assert not month_span(shifted(month, 1), later, zone).holds(at)


@given(st.integers(1990, 2090), st.integers(1, 12), st.integers(-300, 300))
def test_going_on_and_back_comes_to_the_same_month(year: int, month: int, months: int) -> None:
    named = f"{year:04d}-{month:02d}"
    assert shifted(shifted(named, months), -months) == named
    days = month_span(named, datetime(2200, 1, 1, tzinfo=UTC), AMSTERDAM)
    assert days.last.day == monthrange(year, month)[1]
