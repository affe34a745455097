"""Open hours forth and back, alone and in arrays."""

from __future__ import annotations

from datetime import UTC, datetime
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from store.learn.dates.spans import OpenHours

H = 3600.0
TWO_DAYS = OpenHours([(8 * H, 12 * H), (13 * H, 17 * H), (32 * H, 36 * H), (37 * H, 41 * H)])


def utc(text: str) -> float:
    return datetime.fromisoformat(text).astimezone(UTC).timestamp()


def test_breaks_and_nights_do_not_count() -> None:
    assert TWO_DAYS.between(11 * H, 14 * H) == 2.0
    assert TWO_DAYS.between(16 * H, 33 * H) == 2.0
    assert TWO_DAYS.after(16 * H, 2.0) == 33 * H
    assert TWO_DAYS.between(18 * H, 20 * H) == 0.0


def test_the_end_of_a_shift_comes_before_the_next_morning() -> None:
    assert TWO_DAYS.when(8.0) == 17 * H


def test_the_change_of_clocks_takes_nothing_away() -> None:
    """Shifts 7:30-12 and 12:45-16:30 in Berlin, over 29 March 2026 (RFC 9557 offsets by hand)."""
    fridays = [("2026-03-27T07:30+01:00", "2026-03-27T12:00+01:00")]
    fridays += [("2026-03-27T12:45+01:00", "2026-03-27T16:30+01:00")]
    later = [
        (f"2026-03-{day}T{start}+02:00", f"2026-03-{day}T{end}+02:00")
        for day in (30, 31)
        for start, end in (("07:30", "12:00"), ("12:45", "16:30"))
    ]
    hours = OpenHours([(utc(start), utc(end)) for start, end in fridays + later])
    tuesday = utc("2026-03-31T07:45+02:00")
    assert hours.after(utc("2026-03-27T15:00+01:00"), 10.0) == tuesday
    assert_allclose(hours.between(utc("2026-03-27T15:00+01:00"), tuesday), 10.0)


def test_a_shop_that_never_opens_is_refused() -> None:
    with pytest.raises(ValueError, match="no open hours"):
        OpenHours([(5.0, 5.0)])


@st.composite
def open_hours(draw: st.DrawFn) -> OpenHours:
    marks = draw(st.lists(st.integers(0, 10**7), min_size=2, max_size=30, unique=True))
    return OpenHours([(float(a), float(b)) for a, b in list(pairwise(sorted(marks)))[::2]])


@given(open_hours(), st.lists(st.floats(-1e6, 2e7), min_size=1, max_size=20))
def test_arrays_say_what_single_instants_say(hours: OpenHours, at: list[float]) -> None:
    readings = [hours.upto(x) for x in at]
    assert_allclose(hours.upto_all(np.array(at)), readings, atol=1e-6)
    back = hours.when_all(np.array(readings))
    assert_allclose(back, [hours.when(reading) for reading in readings], atol=1e-3)


@given(open_hours(), st.floats(-1e6, 2e7), st.floats(0.001, 1e4))
def test_forth_and_back_is_nothing(hours: OpenHours, at: float, h: float) -> None:
    assert_allclose(hours.between(at, hours.after(at, h)), h, atol=1e-6)
