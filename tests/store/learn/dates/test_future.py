"""A replay uses only what was known: another future, another order of rows change nothing."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest
from pydantic import TypeAdapter

from store.learn.dates.events import events
from store.learn.dates.forecast import finish
from store.learn.dates.learned import Learned
from store.learn.dates.replay import Moment, Row, plans_of, replay
from store.learn.dates.shop import Floor
from store.learn.dates.spans import OpenHours, Span
from store.learn.records import Record
from tests.bench.floors.drawing import drawn
from tests.bench.floors.past import Past, past
from tests.store.learn.dates.stand_in import StandIn

JOBS = 14


@pytest.fixture(scope="module")
def made() -> Past:
    """The first jobs of an invented shop with everything in it: holds, outwork, standing."""
    return past(drawn("parts", 3), 3, JOBS)


def said(records: list[Record], spans: list[Span], opened: list[tuple[float, float]]) -> list[Row]:
    """All rows, labour from the small learner."""
    return list(replay(records, spans, opened, StandIn(records).draws))


def test_every_job_is_asked_when_booked_and_whenever_a_phase_begins(made: Past) -> None:
    rows = said(made.records, made.spans, made.open_spans)
    assert len(rows) == len(made.records) + JOBS
    hours = OpenHours(made.open_spans)
    ends = {job: plan.ends for job, plan in plans_of(made.records, made.spans).items()}
    assert all(row.open_hours == hours.between(row.as_of, ends[row.job]) for row in rows)
    assert all(row.naive > 0 for row in rows)


def test_another_order_of_rows_says_the_same_to_the_last_bit(made: Past) -> None:
    records, spans, opened = made.records.copy(), made.spans.copy(), made.open_spans.copy()
    rng = random.Random(2)
    for rows in (records, spans, opened):
        rng.shuffle(rows)
    assert said(records, spans, opened) == said(made.records, made.spans, made.open_spans)


@pytest.mark.parametrize("share", [0.3, 0.6, 0.9])
def test_another_future_changes_no_earlier_forecast(made: Past, share: float) -> None:
    instants = sorted(one.started for one in made.records)
    cut = instants[int(share * len(instants))]
    before = said(made.records, made.spans, made.open_spans)
    after = said(
        [_otherwise(one, cut) for one in made.records],
        [_span_otherwise(one, cut) for one in made.spans],
        made.open_spans,
    )
    known = {(one.job, one.seq, one.moment): one for one in after}
    earlier = [one for one in before if one.as_of <= cut]
    assert len(earlier) > 5
    for one in earlier:
        other = known[one.job, one.seq, one.moment]
        assert (one.quantiles, one.mean, one.naive) == (other.quantiles, other.mean, other.naive)
    assert [one.quantiles for one in before] != [one.quantiles for one in after]


def _otherwise(one: Record, cut: float) -> Record:
    """What ended at or after the cut ends later, with other hours; what began then, later."""
    if one.closed < cut:
        return one
    later = one.started if one.started <= cut else one.started + 3600 * (1 + one.seq)
    return replace(one, started=later, closed=one.closed + 90_000, actual_h=3 * one.actual_h)


def _span_otherwise(one: Span, cut: float) -> Span:
    if one.ended is not None and one.ended < cut:
        return one
    if one.started < cut:
        return replace(one, ended=(one.ended or cut) + 90_000)
    shift = 3600.0 * (1 + one.seq)
    ended = None if one.ended is None else one.ended + shift + 500
    return replace(one, started=one.started + shift, ended=ended, reason="otherwise", expected=None)


def test_what_was_learned_is_plain_and_says_the_same_when_read_again(made: Past) -> None:
    hours = OpenHours(made.open_spans)
    floor = Floor(hours, Learned(), plans_of(made.records, made.spans))
    happened = events(made.records, made.spans, hours)
    for event in happened[: len(happened) // 2]:
        floor.take(event)
    now = happened[len(happened) // 2].at
    kept = TypeAdapter(Learned)
    again = kept.validate_json(kept.dump_json(floor.learned))
    assert again == floor.learned
    labour = StandIn(made.records)
    job = next(one for one in floor.jobs.values() if len(one.stay.remaining) > 1)
    ahead = job.ahead(None, hours.upto(now))
    left = tuple(one.seq for one in ahead.steps if one.kind == "labour")
    drawn_h = labour.draws(_moment(job.stay.job, now, left))
    assert finish(again, hours, ahead, drawn_h, now) == finish(
        floor.learned, hours, ahead, drawn_h, now
    )


def _moment(job: str, now: float, left: tuple[int, ...]) -> Moment:
    return Moment(job, "started", left[0], now, left)
