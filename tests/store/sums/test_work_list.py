"""When the lines of a list are done: worked out by hand, and laws that hold for any list."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.sums.work_list import done_by, one_after_another
from store.sums.working_time import Calendar, Span, WeekPlan

DAYS = (1, 2, 3, 4, 5)
CALENDAR = Calendar(
    "UTC",
    [
        WeekPlan(
            date(2020, 1, 1), (Span(DAYS, time(8), time(16)),), (Span(DAYS, time(12), time(13)),)
        )
    ],
)
"""Seven hours a day: 8 to 12 and 13 to 16."""


def at(day: int, hour: int, minute: int = 0) -> datetime:
    """A time of the week of Monday, 12 October 2026."""
    return datetime(2026, 10, day, hour, minute, tzinfo=UTC)


def test_without_absence_it_is_the_calendars_own_sum() -> None:
    assert done_by(CALENDAR, at(12, 9), 5.0, ()) == at(12, 15)
    assert done_by(CALENDAR, at(12, 9), 7.5, ()) == at(13, 9, 30)


def test_hours_go_on_where_an_absence_ends() -> None:
    """Two hours on Monday, away from ten on to Wednesday noon, the other three from one."""
    away = [(at(12, 10), at(14, 12))]
    assert done_by(CALENDAR, at(12, 8), 2.0, away) == at(12, 10)
    assert done_by(CALENDAR, at(12, 8), 5.0, away) == at(14, 16)
    assert done_by(CALENDAR, at(13, 9), 1.0, away) == at(14, 14)


def test_absences_may_overlap_and_those_that_are_over_do_not_count() -> None:
    away = [(at(9, 8), at(9, 16)), (at(12, 9), at(13, 9)), (at(12, 10), at(13, 8))]
    assert done_by(CALENDAR, at(12, 8), 3.0, away) == at(13, 11)


def test_lines_follow_one_another_and_none_begins_in_an_absence() -> None:
    away = [(at(12, 10), at(13, 8))]
    found = one_after_another(CALENDAR, at(12, 8), [2.0, 1.5, 0.0, 6.0], away)
    assert found == [
        (at(12, 8), at(12, 10)),
        (at(13, 8), at(13, 9, 30)),
        (at(13, 9, 30), at(13, 9, 30)),
        (at(13, 9, 30), at(14, 8, 30)),
    ]


HOURS = st.lists(st.floats(0, 40), max_size=6)
AWAY = st.lists(
    st.tuples(st.integers(0, 14 * 24), st.integers(1, 5 * 24)).map(
        lambda pair: (
            at(12, 0) + timedelta(hours=pair[0]),
            at(12, 0) + timedelta(hours=pair[0] + pair[1]),
        )
    ),
    max_size=4,
).map(sorted)


@given(HOURS, AWAY)
def test_every_line_has_its_hours_beside_the_absences(
    hours: list[float], away: list[tuple[datetime, datetime]]
) -> None:
    found = one_after_another(CALENDAR, at(12, 8), hours, away)
    before = at(12, 8)
    for (start, end), wanted in zip(found, hours, strict=True):
        assert before <= start <= end
        assert worked(start, end, away) == pytest.approx(wanted, abs=1e-3)
        before = end


def worked(start: datetime, end: datetime, away: list[tuple[datetime, datetime]]) -> float:
    """Open hours between two instants less those of the absences, quarter by quarter of an hour."""
    edges = sorted({start, end, *(edge for pair in away for edge in pair if start < edge < end)})
    return sum(
        CALENDAR.working_h(since, until)
        for since, until in pairwise(edges)
        if not any(a <= since and until <= b for a, b in away)
    )
