"""Ratios beside a handbook's examples, holds counted once, and clocks cut at an edge."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.sums.clock_labour import labour_h, labour_spans
from store.sums.month.hours import HoldIn, Ratios, clipped, held_once, span_h
from store.sums.week_plan import Span, WeekPlan
from store.sums.working_time import Calendar

START = datetime(2026, 9, 1, tzinfo=UTC)


def after(hours: float) -> datetime:
    """So many hours after the first of September."""
    return START + timedelta(hours=hours)


def test_a_repair_department() -> None:
    """Of 50 units 40 can be done and 36 are: efficiency 36/40, of the whole 36/50.

    Source: Stevenson, Operations Management, chapter on capacity: design capacity 50 a day,
    effective capacity 40, actual output 36: efficiency 90 %, utilisation 72 %.
    """
    ratios = Ratios(attended_h=50, on_jobs_h=40, estimated_h=36, finished_h=40)
    assert ratios.efficiency == pytest.approx(0.9)
    assert ratios.productivity == pytest.approx(0.72)


def test_the_standards_identity() -> None:
    """40 h attended, 34 on jobs, work of 37.4 h as planned: .85 x 1.10 = .935.

    Source: ISO 22400-2:2014, worker efficiency and effectiveness; arithmetic by hand.
    """
    ratios = Ratios(attended_h=40, on_jobs_h=34, estimated_h=37.4, finished_h=34)
    assert ratios.utilisation == pytest.approx(0.85)
    assert ratios.efficiency == pytest.approx(1.10)
    assert ratios.productivity == pytest.approx(0.935)
    assert ratios.productivity == pytest.approx(37.4 / 40)


hours = st.floats(0.01, 1e4)


@given(hours, hours, hours, hours)
def test_utilisation_times_efficiency(on: float, off: float, planned: float, taken: float) -> None:
    """It is productivity x on jobs / labour of what was finished, and so the plain identity where
    both are the same."""
    ratios = Ratios(on + off, on, planned, taken)
    assert ratios.utilisation is not None
    assert ratios.efficiency is not None
    assert ratios.productivity is not None
    product = ratios.utilisation * ratios.efficiency
    assert product == pytest.approx(ratios.productivity * on / taken)


def test_nothing_to_divide_by() -> None:
    none = Ratios(0, 0, 0, 0)
    assert (none.utilisation, none.efficiency, none.productivity) == (None, None, None)


def hold(seq: int, since: float, until: float, job: str = "1", reason: str = "parts") -> HoldIn:
    """A hold of some hours."""
    return HoldIn(seq, job, None, reason, after(since), after(until))


def test_a_job_held_twice_is_held_once_for_what_came_first() -> None:
    """0 to 10 for parts; 4 to 12 for the person adds 2 h; 5 to 6 adds nothing; 20 to 21 one."""
    holds = [hold(4, 20, 21), hold(2, 4, 12, reason="person"), hold(1, 0, 10), hold(3, 5, 6)]
    found = [(one.seq, span_h(spans)) for one, spans in held_once(holds)]
    assert found == [(1, 10), (2, 2), (3, 0), (4, 1)]


def test_two_jobs_are_each_held() -> None:
    found = held_once([hold(1, 0, 10), hold(2, 0, 10, job="2")])
    assert [span_h(spans) for _, spans in found] == [10, 10]


@given(st.lists(st.tuples(st.integers(0, 50), st.integers(1, 50)), max_size=8))
def test_what_is_held_is_the_hours_that_any_hold_covers(drawn: list[tuple[int, int]]) -> None:
    """Counted hour by hour."""
    holds = [hold(seq, begun, begun + long) for seq, (begun, long) in enumerate(drawn)]
    covered = {hour for begun, long in drawn for hour in range(begun, begun + long)}
    assert sum(span_h(spans) for _, spans in held_once(holds)) == pytest.approx(len(covered))


WEEK = WeekPlan(
    date(2020, 1, 1),
    (Span((1, 2, 3, 4, 5), time(7, 30), time(16, 30)),),
    (Span((1, 2, 3, 4, 5), time(12), time(12, 45)),),
)
CALENDAR = Calendar("Europe/Amsterdam", [WEEK])


@given(st.integers(0, 60 * 24 * 9), st.integers(1, 60 * 30), st.integers(0, 60 * 40), st.booleans())
def test_parts_of_a_clock_add_up_to_its_labour(
    begun: int, long: int, cut: int, through: bool
) -> None:
    """Wherever it is cut, at a break as well."""
    since = START + timedelta(minutes=begun)
    until, edge = since + timedelta(minutes=long), since + timedelta(minutes=cut)
    spans = labour_spans(CALENDAR, since, until, through)
    whole = labour_h(CALENDAR, since, until, through)
    assert span_h(spans) == pytest.approx(whole)
    before, later = clipped(spans, None, edge), clipped(spans, edge, until + timedelta(days=40))
    assert span_h(before) + span_h(later) == pytest.approx(whole)


def test_a_clock_over_the_night_on_which_clocks_go_back() -> None:
    """25 October 2026, 00:00 to 04:00 by the wall clock are five hours."""
    zone = CALENDAR.zone
    since, until = datetime(2026, 10, 25, tzinfo=zone), datetime(2026, 10, 25, 4, tzinfo=zone)
    assert span_h(labour_spans(CALENDAR, since, until, False)) == 5
