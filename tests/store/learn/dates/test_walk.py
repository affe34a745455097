"""Starts and ends of phases: against a walk of one draw after another in plain Python."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from store.learn.arrays import Floats
from store.learn.dates import drawn_holds, drawn_waits
from store.learn.dates.ahead import Ahead
from store.learn.dates.forecast import finish, walked
from store.learn.dates.learned import Learned
from store.learn.dates.ranges import Ranges
from store.learn.dates.route import Running
from store.learn.dates.scene import Scene, scene
from store.learn.dates.walk import Phases, hours_left, phases
from tests.store.learn.dates.made import HOURS, H, ahead, at, fixed, step

NOW = at(0, 8)
DRAWS = 256
ROUTE = (step(1), step(2), step(3, "standing"), step(4), step(5, "outwork"), step(6))
RUNNING = (
    Running(2, "held", "parts", at(-1, 10), said=at(1, 12), said_at=at(-1, 10)),
    Running(6, "held", "parts", at(-2, 10)),
)


def spread(*hours: float) -> Floats:
    """(draws, phases) labour that differs from draw to draw."""
    times = np.linspace(0.5, 2.0, DRAWS)
    return np.outer(times, hours)


def on(job: Ahead, labour: Floats, learned: Learned | None = None) -> Scene:
    """What is drawn once."""
    return scene(learned or Learned(), HOURS, job, labour, NOW)


CASES = [
    (ahead(*ROUTE, running=RUNNING), spread(3.0, 6.0, 2.0, 4.0)),
    (ahead(*ROUTE, in_hands=False), spread(3.0, 6.0, 2.0, 4.0)),
    (ahead(*ROUTE[2:], in_hands=False), spread(2.0, 4.0)),
    (ahead(step(1), step(2), step(3)), spread(20.0, 30.0, 10.0)),
    (
        Ahead("J7", ROUTE[2:], frozenset({3}), False, (Running(3, "standing", "", at(0, 7)),)),
        spread(2.0, 4.0),
    ),
]


def one_by_one(scene_of: Scene) -> tuple[list[list[float]], list[list[float]], list[list[float]]]:
    """Of each draw and phase: when it is reached, when it starts, when it ends."""
    holds, first = drawn_holds.holds(scene_of), drawn_holds.running(scene_of)
    inside, between = drawn_waits.inside(scene_of), drawn_waits.between(scene_of)
    rest, steps = drawn_waits.rest(scene_of), scene_of.ahead.steps
    reached: list[list[float]] = []
    starts: list[list[float]] = []
    ends: list[list[float]] = []
    for d in range(DRAWS):
        at_h = float(rest[d])
        ready = {column: float(hours[d]) for column, hours in first.items()}
        known = set(ready)
        reached.append([])
        starts.append([])
        ends.append([])
        for i, one in enumerate(steps):
            reached[d].append(at_h)
            if i in known and ready[i] > at_h:
                at_h = ready[i] + float(drawn_waits.one(scene_of, "after", i)[d])
            at_h += float(between[d, i])
            start = at_h
            if one.kind == "labour":
                at_h += float(holds.kept[d, i] + scene_of.open_h[d, i] + inside[d, i])
                for k in range(len(holds.rows)):
                    if holds.rows[k] == d and holds.during[k] == i:
                        there = start + float(holds.share[k]) * (at_h - start)
                        column = int(holds.held[k])
                        ready[column] = max(ready.get(column, 0.0), there + float(holds.hours[k]))
                        known.add(column)
            elif one.seq not in scene_of.ahead.begun:
                at_h = away(scene_of, i, d, at_h)
            starts[d].append(start)
            ends[d].append(at_h)
    return reached, starts, ends


def away(scene_of: Scene, i: int, d: int, at_h: float) -> float:
    """When a standing or an outwork is over that begins then."""
    one, learned, reading = scene_of.ahead.steps[i], scene_of.learned, scene_of.reading
    z = float(scene_of.dice.apart("away", one.seq).normal()[d])
    if one.kind == "outwork":
        law = learned.away.outwork_law(one, reading)
        return at_h + min(math.exp(law.centre + law.wide * z), drawn_holds.LONGEST_HOLD_H)
    wall = learned.away.standing_law(one, reading)
    begins = HOURS.when(reading + at_h)
    return HOURS.upto(begins + math.exp(wall.m + wall.wide * z) * H) - reading


@pytest.mark.parametrize("job, labour", CASES)
def test_every_phase_starts_and_ends_where_one_draw_after_another_puts_it(
    job: Ahead, labour: Floats
) -> None:
    scene_of = on(job, labour)
    found = phases(scene_of)
    _, starts, ends = one_by_one(scene_of)
    before = drawn_holds.before(scene_of, drawn_holds.holds(scene_of))
    assert_allclose(found.ends, ends, rtol=1e-12, atol=1e-9)
    assert_allclose(found.starts, np.minimum(starts + before, ends), rtol=1e-12, atol=1e-9)


@pytest.mark.parametrize("job, labour", CASES)
def test_the_last_end_is_the_finish_to_the_last_bit(job: Ahead, labour: Floats) -> None:
    scene_of = on(job, labour)
    assert np.array_equal(phases(scene_of).ends[:, -1], hours_left(scene_of))


@given(
    st.lists(st.sampled_from(["labour", "standing", "outwork"]), min_size=1, max_size=6),
    st.booleans(),
)
def test_phases_come_one_after_another(kinds: list[str], in_hands: bool) -> None:
    route = [step(n, kind) for n, kind in enumerate(["labour", *kinds], 1)]  # type: ignore[arg-type]
    labour = spread(*(2.0 for one in route if one.kind == "labour"))
    found = phases(on(ahead(*route, in_hands=in_hands), labour))
    assert np.all(found.starts >= 0)
    assert np.all(found.starts <= found.ends)
    assert np.all(np.diff(found.ends, axis=1) >= -1e-9)
    assert np.all(found.starts[:, 1:] >= found.ends[:, :-1] - 1e-9)


def test_what_is_said_is_the_same_whether_phases_are_asked_or_not() -> None:
    learned = Learned()
    learned.ranges = Ranges(20.0, 60.0)
    for job, labour in CASES:
        said = finish(learned, HOURS, job, labour, NOW)
        assert walked(learned, HOURS, job, labour, NOW).finish == said


def test_stretched_draws_are_those_that_are_said() -> None:
    learned = Learned()
    learned.ranges = Ranges(20.0, 60.0)
    job, labour = CASES[0]
    found, plain = walked(learned, HOURS, job, labour, NOW), phases(on(job, labour))
    assert found.finish.mean == pytest.approx(found.ends[:, -1].mean())
    assert np.ptp(found.ends[:, -1]) > np.ptp(plain.ends[:, -1])
    assert np.all(found.starts <= found.ends)


def of_two(learned: Learned, first_h: float, second_h: float) -> Phases:
    """Two phases that nobody has begun."""
    job = ahead(step(1), step(2), in_hands=False)
    return phases(on(job, fixed(first_h, second_h, draws=DRAWS), learned))


def test_a_slower_phase_puts_off_what_comes_after_it_and_nothing_before() -> None:
    quick, slow = of_two(Learned(), 4.0, 4.0), of_two(Learned(), 12.0, 4.0)
    assert_allclose(np.median(slow.starts[:, 0]), np.median(quick.starts[:, 0]), atol=0.1)
    assert (slow.starts[:, 1] - quick.starts[:, 1]).mean() > 8.0
    assert (slow.ends[:, 1] - quick.ends[:, 1]).mean() > 8.0


def test_a_phase_is_held_before_it_is_begun_as_often_as_is_usual() -> None:
    """The prior: .086 holds before a phase of work, some hours each (common practice, no source).

    With next to no labour all of a phase's holds come before it; one under way has none such.
    """
    job = ahead(step(1), step(2), in_hands=False)
    scene_of = on(job, fixed(1e-9, 1e-9, draws=4096))
    holds = drawn_holds.holds(scene_of)
    before = drawn_holds.before(scene_of, holds)
    assert_allclose(before, holds.kept)
    assert 0.03 < float((before[:, 1] > 0).mean()) < 0.2
    begun = on(replace(job, begun=frozenset({1})), fixed(8.0, 8.0, draws=4096))
    held = drawn_holds.holds(begun)
    part = drawn_holds.before(begun, held)
    assert not part[:, 0].any()
    assert held.kept[:, 0].any()
    assert np.all(part <= held.kept + 1e-9)


def test_how_much_of_its_holds_comes_before_a_phase_is_the_share_of_the_rates() -> None:
    job = ahead(step(1), step(2), in_hands=False)
    scene_of = on(job, fixed(8.0, 8.0, draws=4096))
    rates = scene_of.pooled.rates("work")
    share = rates.before / (rates.before + rates.inside * scene_of.open_h[0, 1])
    holds = drawn_holds.holds(scene_of)
    counted = replace(holds, each_h=np.ones(len(holds.cells)))
    many = drawn_holds.before(scene_of, counted).sum() / len(holds.cells)
    assert many == pytest.approx(share, rel=0.05)


def test_a_kit_that_a_phase_is_held_for_is_wanted_before_the_hold_ends() -> None:
    def start(reason: str) -> float:
        running = (Running(1, "held", reason, at(-1, 9)),)
        job = ahead(step(1), step(2), running=running, in_hands=False)
        return float(np.median(phases(on(job, fixed(4.0, 4.0, draws=DRAWS))).starts[:, 0]))

    assert start("tool") < 0.5 < start("parts")


def test_how_the_shop_is_to_get_on_is_the_same_numbers_in_every_job() -> None:
    one, other = (
        on(replace(ahead(step(1), step(2)), job=name), fixed(4.0, 4.0, draws=DRAWS)).shop
        for name in ("2001", "2002")
    )
    assert not np.array_equal(one, other)
    assert np.array_equal(np.sort(one), np.sort(other))
