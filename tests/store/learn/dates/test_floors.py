"""The floors that judge the learned dates are themselves sound."""

from __future__ import annotations

import math
import random
from collections import Counter, defaultdict
from dataclasses import replace
from functools import cache
from itertools import pairwise

import pytest

from store.learn.dates.spans import OpenHours, Span
from store.learn.records import Record
from tests.bench.floors import nature
from tests.bench.floors.drawing import drawn
from tests.bench.floors.kinds import KINDS
from tests.bench.floors.laws import Appointment, later, until
from tests.bench.floors.log import Log
from tests.bench.floors.open_time import HOUR
from tests.bench.floors.oracle import anew, forward, oracle
from tests.bench.floors.past import Past, past, written
from tests.bench.floors.run import opened, run, step
from tests.bench.floors.shares import shares
from tests.bench.floors.shop import Faults, Shop
from tests.bench.floors.world import Job, World

JOBS = 20
SEED = 4


@cache
def shop(kind: str) -> Shop:
    """One shop of a kind whose people write every hold down as it was."""
    return replace(drawn(kind, SEED), faults=Faults(0.0, 1.0, 0.0))


@cache
def made(kind: str) -> Past:
    """Its first jobs."""
    return past(shop(kind), SEED, JOBS)


def by_job(one: Past) -> dict[str, tuple[list[Record], list[Span]]]:
    """Return records by seq, and spans, of each job."""
    jobs: dict[str, tuple[list[Record], list[Span]]] = defaultdict(lambda: ([], []))
    for record in sorted(one.records, key=lambda record: record.seq):
        jobs[record.job][0].append(record)
    for span in one.spans:
        jobs[span.job][1].append(span)
    return jobs


def ended(span: Span) -> float:
    """Return the end of a span that is over."""
    assert span.ended is not None
    return span.ended


@pytest.mark.parametrize("kind", KINDS)
def test_everything_that_happens_to_a_job_happens_within_its_stay(kind: str) -> None:
    for records, spans in by_job(made(kind)).values():
        first = min(span.started for span in spans)
        assert first <= records[0].started
        assert all(span.started < ended(span) <= records[-1].closed for span in spans)
        assert all(a.closed <= b.started for a, b in pairwise(records))


@pytest.mark.parametrize("kind", KINDS)
def test_clocks_add_up_to_the_hours_of_their_phase(kind: str) -> None:
    hours = OpenHours(made(kind).open_spans)
    clocked: dict[tuple[str, int], float] = defaultdict(float)
    for span in made(kind).spans:
        if span.kind == "labour":
            clocked[span.job, span.seq] += hours.between(span.started, ended(span))
    said = {(one.job, one.seq): one.actual_h for one in made(kind).records}
    assert clocked.keys() == said.keys()
    assert all(math.isclose(clocked[key], hours_said) for key, hours_said in said.items())


@pytest.mark.parametrize("kind", KINDS)
def test_nobody_is_on_two_clocks_or_here_when_they_are_not_employed(kind: str) -> None:
    clocks: dict[str, list[Span]] = defaultdict(list)
    for span in made(kind).spans:
        if span.kind == "labour":
            clocks[span.badge].append(span)
    for badge, own in clocks.items():
        own.sort(key=lambda span: span.started)
        assert all(ended(a) <= b.started for a, b in pairwise(own))
        ((since, gone),) = made(kind).people.employed[badge]
        assert since <= own[0].started
        assert gone is None or ended(own[-1]) <= gone


@pytest.mark.parametrize("kind", KINDS)
def test_nobody_works_on_a_phase_that_is_held_or_on_a_job_that_stands_or_is_away(kind: str) -> None:
    for _, spans in by_job(made(kind)).values():
        clocks = [span for span in spans if span.kind == "labour"]
        for kept in (span for span in spans if span.kind != "labour"):
            against = [c for c in clocks if kept.kind != "held" or c.seq >= kept.seq]
            assert not any(c.started < ended(kept) and kept.started < ended(c) for c in against)


@pytest.mark.parametrize("kind", KINDS)
def test_no_more_jobs_are_on_lifts_than_there_are_lifts(kind: str) -> None:
    log = Log(JOBS)
    world = opened(shop(kind), SEED, log)
    most = 0
    while log.awaited:
        step(world)
        most = max(most, len(world.jobs))
    assert 1 < most <= shop(kind).lifts


@pytest.mark.parametrize("kind", KINDS)
def test_mean_number_on_the_lifts_is_arrivals_times_mean_stay(kind: str) -> None:
    """Little, Operations Research 9 (1961): L = lambda W, exact from empty to empty.

    L is counted on the floor, event by event; lambda and W are read from the files.
    """
    log = Log(JOBS)
    world = opened(shop(kind), SEED, log)
    area = 0
    while log.awaited:
        before, here = world.now, sum(number <= JOBS for number in world.jobs)
        step(world)
        area += here * (world.now - before)
    hours = OpenHours(made(kind).open_spans)
    stays = [
        hours.between(min(span.started for span in spans), records[-1].closed)
        for records, spans in by_job(made(kind)).values()
    ]
    day_h = shop(kind).time.days[250] / 250 / HOUR
    arrivals_a_day = len(stays) / (world.now / HOUR / day_h)
    mean_stay_days = sum(stays) / len(stays) / day_h
    assert math.isclose(area / world.now, arrivals_a_day * mean_stay_days, rel_tol=1e-9)


@pytest.mark.parametrize("kind", KINDS)
def test_every_open_hour_of_a_stay_is_worked_held_stood_through_or_lost(kind: str) -> None:
    found, hours = shares(made(kind)), OpenHours(made(kind).open_spans)
    stays = [
        hours.between(records[0].started, records[-1].closed)
        for records, _ in by_job(made(kind)).values()
    ]
    assert math.isclose(found.stay_h, sum(stays))
    assert found.hours["worked"] <= found.labour_h + 1e-9


def test_typing_mistakes_keep_holds_within_the_stay() -> None:
    faulty = replace(shop("parts"), faults=Faults(0.5, 5.0, 0.3))
    log = run(faulty, SEED, JOBS)
    true, typed = (written(one, SEED, JOBS, log) for one in (shop("parts"), faulty))
    held = [[s for s in one.spans if s.kind == "held"] for one in (true, typed)]
    assert len(held[1]) < len(held[0])
    ends = {(s.job, s.seq, s.started): ended(s) for s in held[0]}
    assert any(ended(s) > ends[s.job, s.seq, s.started] for s in held[1])
    closed = {job: records[-1].closed for job, (records, _) in by_job(typed).items()}
    assert all(ended(s) <= closed[s.job] for s in held[1])


def test_the_same_seed_gives_the_same_past_and_another_gives_another() -> None:
    again = past(replace(drawn("urgent", SEED), faults=Faults(0.0, 1.0, 0.0)), SEED, JOBS)
    assert again.records == made("urgent").records
    assert again.spans == made("urgent").spans
    assert past(shop("urgent"), SEED + 1, JOBS).records != again.records


def test_the_oracle_does_not_disturb_the_floor_it_looks_at() -> None:
    def look(world: World, number: int, _: int) -> None:
        told = {one: job.told.copy() for one, job in world.jobs.items()}
        forward(world, number, 1, random.Random(number))
        assert {one: job.told for one, job in world.jobs.items()} == told

    seen = written(shop("shifts"), SEED, JOBS, run(shop("shifts"), SEED, JOBS, look))
    assert seen.records == made("shifts").records
    assert seen.spans == made("shifts").spans


def test_futures_of_one_floor_differ_but_all_begin_with_it() -> None:
    taken: list[World] = []

    def look(world: World, number: int, idx: int) -> None:
        if (number, idx) == (JOBS, 2):
            taken.append(anew(world, random.Random(1)))
            draws = forward(world, number, 8, random.Random(2))
            assert len(set(draws)) > 1
            assert min(draws) > 0
            assert {n: job.idx for n, job in world.jobs.items()} == {
                n: job.idx for n, job in taken[0].jobs.items()
            }
            assert all(at >= world.now for at, *_ in taken[0].heap)

    run(shop("own"), SEED, JOBS, look)
    assert len(taken) == 1


def test_the_oracle_is_asked_about_rows_that_the_files_have() -> None:
    rows = {(one.job, one.seq) for one in made("relay").records}
    seen = oracle(shop("relay"), SEED, JOBS, 12, 4)
    assert len(seen) == 12
    assert all((one.job, one.seq) in rows or (one.seq, one.moment) == (0, "booked") for one in seen)


def test_what_is_overdue_is_drawn_from_its_law_given_that_it_has_not_come() -> None:
    """An exponential overrun has no memory: the rest has the mean of the whole."""
    one, dice = Appointment(0, 4 * HOUR, 0.5, 0.5), random.Random(1)
    late = [later(shop("own"), dice, one, 5 * HOUR) - 5 * HOUR for _ in range(4000)]
    assert min(late) > 0
    assert math.isclose(sum(late) / len(late), 2 * HOUR, rel_tol=0.07)
    kept = sum(until(shop("own"), dice, one) <= one.due for _ in range(4000))
    assert math.isclose(kept / 4000, 0.5, abs_tol=0.035)


def test_the_nature_of_a_vehicle_is_judged_by_what_was_seen_of_it() -> None:
    """Bayes: the share of the sour among all that had just that past, counted by brute force."""
    one, dice = shop("urgent"), random.Random(3)
    operation = one.operations[0]
    at = next(i for i, step in enumerate(operation.steps) if step.phase_class == "work")
    plagued = replace(operation.steps[at], inside=1 / operation.steps[at].content_s)
    operation = replace(operation, steps=(plagued,) * (at + 1))
    counted: Counter[int] = Counter()
    told: list[Job] = []
    for _ in range(20_000):
        job = Job(1, operation, next(iter(one.families)), 3, nature.drawn(one, 3, dice), 0)
        job.idx = at
        if nature.chance(one, job, dice, 0.3):
            job.base = nature.content(one, job, plagued, dice)
            job.done = 0.8 * nature.usual_s(one, job, plagued)
            happens = dice.expovariate(plagued.inside * nature.trouble(one, job))
            if min(job.base, happens) > job.done:
                counted[job.nature] += 1
                told.append(job)
    assert len(told) > 1000
    again: Counter[int] = Counter()
    for job in told:
        nature.draw_anew(one, job, dice)
        assert job.base > job.done
        again[job.nature] += 1
    for kind in range(3):
        assert math.isclose(again[kind] / len(told), counted[kind] / len(told), abs_tol=0.06)
