"""Replays of histories: nothing of the future is known, and only what matters matters."""

from __future__ import annotations

import math
import random
from collections.abc import Callable
from dataclasses import replace

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from store.learn.hindsight import Scored, hours
from store.learn.records import People, Record
from tests.store.learn.histories import BADGES, HOUR_S, histories, jobs, people, ratios
from tests.test_house import modules_after

FEW, SOME = settings(max_examples=6), settings(max_examples=15)
"""A replay fits after every phase: some 50 ms each."""

Said = dict[tuple[str, str, str, int], tuple[float, tuple[float, ...]]]


def said(scored: list[Scored], until: float = math.inf) -> Said:
    """What was forecast up to a moment, by what it was a forecast of."""
    return {
        (one.job, one.moment, one.phase, one.seq): (one.mean, one.quantiles)
        for one in scored
        if one.as_of <= until
    }


@st.composite
def two_futures(make: st.DrawFn) -> tuple[list[Record], list[Record], float]:
    """A history, the same one with all changed that was not known at a moment, and that moment.

    Known are phases closed before it, what is to be done in jobs that have begun, and who began
    which phase. Everything else is told anew, jobs are lost and new ones come.
    """
    past = make(histories(3, 4))
    at = make(st.sampled_from(sorted({one.started for one in past})))
    begun = {one.job for one in past if one.started <= at}
    future: list[Record] = []
    for one in past:
        if one.closed < at:
            future.append(one)
        elif one.job in begun:
            future.append(make(told_anew(one, at)))
    first = math.floor(at / 900) * 900 + 900
    for number in range(make(st.integers(0, 2))):
        future += [
            replace(one, started=one.started + first, closed=one.closed + first)
            for one in make(jobs(70 + number))
        ]
    return past, make(st.permutations(future)), at


@st.composite
def told_anew(make: st.DrawFn, one: Record, at: float) -> Record:
    """A phase that was not closed at a moment, with another end."""
    begun = one.started <= at
    started = one.started if begun else at + 900 * make(st.integers(1, 400))
    hours_ = one.book_h * make(ratios)
    return replace(
        one,
        technician=one.technician if begun else make(st.sampled_from([*BADGES, "B99"])),
        started=started,
        closed=max(at, started) + 900 * make(st.integers(0, 400)),
        actual_h=hours_,
        cut_off=make(st.booleans()),
        surprise_h=make(st.sampled_from([None, hours_ / 2])),
        lumped_with=make(st.sampled_from([None, one.seq + 1])),
    )


@SOME
@given(two_futures(), people)
def test_another_future_leaves_every_earlier_forecast_as_it_was(
    futures: tuple[list[Record], list[Record], float], staff: People
) -> None:
    one, other, at = futures
    before, after = (said(list(hours(each, staff)), at) for each in (one, other))
    assert before == after
    assert before


def test_a_future_that_is_changed_does_change_what_comes_later() -> None:
    """The law above is not kept by a learner that learns nothing."""
    record = Record("J1", "CL", "old", "off", 1, "B12", 0.0, 3600.0, 1.0, 1.0)
    later = replace(record, job="J2", started=7200.0, closed=9000.0)
    plain = list(hours([record, later]))
    changed = list(hours([replace(record, actual_h=2.0), later]))
    assert said(plain, 3600.0) == said(changed, 3600.0)
    late = [one.mean for one in plain if one.as_of == 7200.0]
    assert all(a < b for a, b in zip(late, [one.mean for one in changed[-4:]], strict=True))


def test_a_phase_closed_at_the_very_moment_is_not_known_yet() -> None:
    record = Record("J1", "CL", "old", "off", 1, "B12", 0.0, 3600.0, 1.0, 1.0)
    at_once = replace(record, job="J2", started=3600.0, closed=9000.0)
    a_second_later = replace(at_once, started=3601.0)
    forgotten = replace(record, actual_h=2.0)

    def booked(first: Record, second: Record) -> float:
        return next(one.mean for one in hours([first, second]) if one.job == "J2")

    assert booked(record, at_once) == booked(forgotten, at_once)
    assert booked(record, a_second_later) < booked(forgotten, a_second_later)


@FEW
@given(histories(), people, st.randoms(use_true_random=False))
def test_the_order_of_rows_is_irrelevant(
    rows: list[Record], staff: People, dice: random.Random
) -> None:
    shuffled = [*rows]
    dice.shuffle(shuffled)
    assert list(hours(rows, staff)) == list(hours(shuffled, staff))


Change = Callable[[Record], Record]


def times(factor: float) -> Change:
    """Every hour becomes so many."""
    return lambda one: replace(
        one,
        book_h=one.book_h * factor,
        actual_h=one.actual_h * factor,
        surprise_h=None if one.surprise_h is None else one.surprise_h * factor,
    )


def later(seconds: float) -> Change:
    """Everything happens later."""
    return lambda one: replace(one, started=one.started + seconds, closed=one.closed + seconds)


@FEW
@given(histories())
def test_hours_or_minutes_give_the_same_ratios(rows: list[Record]) -> None:
    plain = list(hours(rows))
    # A power of two is exact in floating point, so to the last bit.
    for one, other in zip(plain, hours([times(64)(each) for each in rows]), strict=True):
        assert other.mean == 64 * one.mean
        assert other.quantiles == tuple(64 * each for each in one.quantiles)
    for one, other in zip(plain, hours([times(60)(each) for each in rows]), strict=True):
        assert other.mean == pytest.approx(60 * one.mean, rel=1e-6)
        assert other.quantiles == pytest.approx([60 * each for each in one.quantiles], rel=1e-6)


def test_a_shop_without_a_past_says_the_same_in_any_year() -> None:
    record = Record("J1", "CL", "old", "off", 1, "B12", 0.0, 3600.0, 1.0, 1.0)
    ranges = [next(hours([later(at)(record)])).quantiles for at in (0.0, 1.7e9)]
    assert ranges[0] == ranges[1]


@settings(FEW, phases=[Phase.explicit, Phase.generate])
@given(histories(), st.integers(10**6, 10**9))
def test_a_history_knows_no_calendar(rows: list[Record], seconds: int) -> None:
    moved = list(hours([later(seconds)(one) for one in rows]))
    plain = list(hours(rows))
    assert said(moved) == said(plain)
    assert [one.as_of for one in moved] == [one.as_of + seconds for one in plain]


@FEW
@given(histories())
def test_names_of_people_and_jobs_mean_nothing(rows: list[Record]) -> None:
    """As long as they sort alike: who comes first breaks ties."""
    renamed = [replace(one, job="job " + one.job, technician="Q" + one.technician) for one in rows]
    plain = [(one.mean, one.quantiles) for one in hours(rows)]
    assert plain == [(one.mean, one.quantiles) for one in hours(renamed)]


@FEW
@given(histories(1, 5), people)
def test_forecasts_are_hours(rows: list[Record], staff: People) -> None:
    for one in hours(rows, staff):
        assert len(one.quantiles) == 19
        assert all(math.isfinite(each) and each > 0 for each in (*one.quantiles, one.mean))
        assert list(one.quantiles) == sorted(one.quantiles)
        assert one.quantiles[0] < one.mean < 30 * one.quantiles[-1]


@FEW
@given(histories(1, 4))
def test_every_phase_is_forecast_at_booking_and_at_its_start_and_so_are_the_sums(
    rows: list[Record],
) -> None:
    found = list(hours(rows))
    by_job: dict[str, list[Record]] = {}
    for one in sorted(rows, key=lambda each: each.seq):
        by_job.setdefault(one.job, []).append(one)
    order = sorted(by_job, key=lambda job: (min(one.started for one in by_job[job]), job))
    expected: list[tuple[str, str, str, int, float, float]] = []
    for job in order:
        phases = by_job[job]
        first = min(one.started for one in phases)
        every = (sum(one.book_h for one in phases), sum(one.actual_h for one in phases))
        for one in phases:
            expected.append((job, "booked", one.phase, one.seq, one.book_h, one.actual_h))
        expected.append((job, "booked", "*", 0, *every))
        for index, one in enumerate(phases):
            rest = phases[index:]
            sums = (sum(each.book_h for each in rest), sum(each.actual_h for each in rest))
            expected.append((job, "started", one.phase, one.seq, one.book_h, one.actual_h))
            expected.append((job, "started", "*", one.seq, *sums))
        assert all(one.as_of == first for one in found if one.job == job and one.moment == "booked")
    assert expected == [
        (one.job, one.moment, one.phase, one.seq, one.book_hours, one.actual_hours) for one in found
    ]


def test_nobody_needs_a_screen_or_a_file_to_replay_a_history() -> None:
    loaded = modules_after("import store.learn.hindsight")
    assert "numpy" in loaded
    assert loaded & {"textual", "rich", "sqlite3", "sqlite_utils", "pydantic", "pandas"} == set()
    assert not {name for name in loaded if name in {"tui", "demo"}}


def test_a_replay_leaves_nothing_behind_for_the_next() -> None:
    """No state outside: two replays at once say what each says alone."""
    record = Record("J1", "CL", "old", "off", 1, "B12", 0.0, 1.0 * HOUR_S, 1.0, 3.0)
    rows = [
        replace(record, job=f"J{n}", started=one, closed=one + HOUR_S)
        for n, one in enumerate(range(0, 8 * HOUR_S, 2 * HOUR_S))
    ]
    slow = [replace(one, actual_h=9.0) for one in rows]
    alone, slow_alone = list(hours(rows)), list(hours(slow))
    together = list(zip(hours(rows), hours(slow), strict=True))
    assert [one for one, _ in together] == alone
    assert [other for _, other in together] == slow_alone
