"""One joint simulation of a stay: what must be exact is, and what was seen moves the rest."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise
from typing import get_args

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from store.learn.arrays import Floats
from store.learn.dates.ahead import Ahead
from store.learn.dates.forecast import Finish, finish
from store.learn.dates.learned import Learned
from store.learn.dates.lengths import Lengths
from store.learn.dates.rates import Counts
from store.learn.dates.route import Running, StepKind
from store.learn.dates.scene import scene
from store.learn.dates.seen import Begun, HoldBegan, HoldLasted, Waited, Worked
from store.learn.dates.walk import hours_left
from store.sums.moving import left
from tests.store.learn.dates.made import HOURS, ahead, at, fixed, step

NOW = at(0, 8)
KINDS: tuple[StepKind, ...] = get_args(StepKind)


def smooth() -> Learned:
    """A shop in which nothing is ever held and nobody ever waits, seen for very long."""
    learned = Learned()
    for cls in ("strip", "work", "refit", ""):
        learned.holds.classes[cls] = Counts(begun=1e9, labour_h=1e9)
    learned.waits.labour_h = 1e9
    for kind in learned.waits.kinds.values():
        kind.occasions = 1e9
    return learned


def said(
    ahead_of: Ahead, labour: Floats, learned: Learned | None = None, now: float = NOW
) -> Finish:
    """A forecast."""
    return finish(learned or Learned(), HOURS, ahead_of, labour, now)


def test_where_nothing_keeps_a_job_its_labour_is_its_stay() -> None:
    labour = np.linspace(1.0, 9.0, 500)[:, None]
    found = said(ahead(step(1), step(2)), np.tile(labour / 2, (1, 2)), smooth())
    assert_allclose(found.mean, 5.0, rtol=1e-6)
    assert_allclose(found.quantiles, 1.0 + 8.0 * np.arange(1, 20) / 20, atol=0.02)


def test_two_at_once_finish_in_half_the_time() -> None:
    learned = smooth()
    learned.hands.open_h, learned.hands.labour_h = 1e6, 2e6
    assert_allclose(said(ahead(step(1)), fixed(6.0), learned).mean, 3.0, rtol=1e-3)


def test_without_a_past_the_prior_keeps_a_job_as_long_as_the_trade_says() -> None:
    """Two phases of 10 h: 20 h worked of 38 %, so some 53 h; between half and double."""
    found = said(ahead(step(1), step(2)), fixed(10.0, 10.0))
    assert 20 / 0.38 * 0.6 < found.mean < 20 / 0.38 * 1.4
    assert found.quantiles[0] > 20.0


def test_standing_goes_on_over_night() -> None:
    cure = replace(step(2, "standing"), book_h=12.0)
    learned = smooth()
    learned.away.standing["OP\nP2"] = Lengths(1e6, 1e6 * math.log(12), 1e6 * math.log(12) ** 2)
    found = said(ahead(step(1), cure, step(3)), fixed(8.0, 1.0), learned)
    assert_allclose(found.quantiles, 9.0, atol=0.05)


def test_outwork_counts_the_hours_in_which_the_firm_could_bring_it() -> None:
    learned = smooth()
    learned.away.routes["OP\nP2"] = Lengths(1e6, 1e6 * math.log(16), 1e6 * math.log(16) ** 2)
    found = said(ahead(step(1), step(2, "outwork"), step(3)), fixed(2.0, 1.0), learned)
    assert_allclose(found.quantiles, 19.0, atol=0.05)


def held(reason_h: float, spread: float) -> Learned:
    """A shop that knows exactly how parts are: middle length and log spread."""
    learned = smooth()
    m, n = math.log(reason_h), 1e9
    learned.lengths["parts"] = Lengths(n, n * m, n * (m * m + spread * spread))
    return learned


# Log-normal, m = 2, s = .5, under way for t hours: mean left and its quantiles; scipy
# (`lognorm.expect(conditional=True)`, `isf`), see test_normal.
LEFT = [
    (2.0, 6.402793, 1.937486, 5.409822, 12.042013),
    (8.0, 4.140998, 0.461310, 2.899707, 9.369262),
    (15.0, 4.209492, 0.423715, 2.816099, 9.734587),
]


@pytest.mark.parametrize("so_far, mean, tenth, middle, ninetieth", LEFT)
def test_what_is_left_of_a_running_hold_is_the_closed_form(
    so_far: float, mean: float, tenth: float, middle: float, ninetieth: float
) -> None:
    now = HOURS.after(NOW, so_far)
    running = (Running(1, "held", "parts", NOW),)
    job = ahead(step(1), running=running, in_hands=False)
    found = said(job, fixed(0.001), held(math.exp(2), 0.5), now)
    assert_allclose(found.mean, mean, rtol=0.02)
    quantiles = [found.quantiles[k] for k in (1, 9, 17)]
    assert_allclose(quantiles, (tenth, middle, ninetieth), rtol=0.02, atol=0.01)


def test_an_end_that_has_passed_is_not_believed() -> None:
    def middle(now: float) -> float:
        running = (Running(1, "held", "parts", NOW, said=at(1, 8), said_at=NOW),)
        job = ahead(step(1), running=running, in_hands=False)
        return said(job, fixed(0.01), now=now).quantiles[9]

    assert middle(at(0, 10)) < 12
    assert middle(at(1, 9)) > 1.5
    assert middle(at(4, 9)) > middle(at(1, 9))


def test_an_end_that_was_said_narrows_a_hold() -> None:
    running = Running(1, "held", "parts", NOW)
    open_end = said(ahead(step(1), running=(running,), in_hands=False), fixed(0.01))
    with_end = replace(running, said=at(1, 8), said_at=NOW)
    named = said(ahead(step(1), running=(with_end,), in_hands=False), fixed(0.01))
    assert (named.quantiles[17] - named.quantiles[1]) < 0.6 * (
        open_end.quantiles[17] - open_end.quantiles[1]
    )


def test_a_part_for_a_later_phase_costs_nothing_where_it_comes_in_time() -> None:
    learned = held(10.0, 0.01)
    running = (Running(2, "held", "parts", NOW),)
    early = said(ahead(step(1), step(2), running=running), fixed(20.0, 1.0), learned)
    late = said(ahead(step(1), step(2), running=running), fixed(2.0, 1.0), learned)
    assert_allclose(early.quantiles[9], 21.0, atol=0.1)
    assert_allclose(late.quantiles[9], 11.0, atol=0.2)


def test_a_job_that_waits_goes_on_waiting_the_longer_it_has() -> None:
    learned = Learned()
    for hours in (0.5, 1.0, 2.0, 8.0) * 20:
        learned.learn(Waited(step(1), "between", 0.0, hours), 0.0)

    def middle(waited_h: float) -> float:
        job = Ahead("J1", (step(1),), frozenset(), False, (), waited_h, "between")
        return said(job, fixed(0.01), learned).quantiles[9]

    assert middle(3.0) > middle(1.0) > 0.1


def test_an_operation_often_held_takes_longer() -> None:
    learned = Learned()
    for _ in range(60):
        learned.learn(Begun(step(2)), 0.0)
    plain = said(ahead(step(1), step(2)), fixed(4.0, 4.0), learned).mean
    for _ in range(40):
        learned.learn(HoldBegan("before", step(2), step(2), "parts"), 0.0)
        learned.learn(HoldLasted("parts", 20.0, None), 0.0)
    assert said(ahead(step(1), step(2)), fixed(4.0, 4.0), learned).mean > 1.5 * plain


def test_a_job_that_was_held_thrice_will_be_held_again() -> None:
    job = ahead(step(4), step(5))
    own = ((step(1), Counts(begun=2, labour_h=4.0, before=2, inside=1)),)
    assert said(replace(job, own=own), fixed(4.0, 4.0)).mean > said(job, fixed(4.0, 4.0)).mean


def test_scarce_hands_slow_every_job() -> None:
    busy, idle = Learned(), Learned()
    for n in range(6):
        busy.lately.now(f"W{n}", 0.0, None, 0.0)
        idle.lately.now(f"W{n}", 0.0, 0.0, None)
    now = HOURS.when(12.0)
    job, labour = ahead(step(1), step(2)), fixed(5.0, 5.0)
    assert said(job, labour, busy, now).mean > 1.2 * said(job, labour, idle, now).mean


def test_a_shop_whose_ranges_miss_says_wider_ones_around_the_same_middle() -> None:
    learned = Learned()
    job, labour = ahead(step(1), step(2)), fixed(5.0, 5.0)
    before = said(job, labour, learned)
    for _ in range(60):
        learned.ranges.learn(1.0, 2.0, 9.0)
    after = said(job, labour, learned)
    assert_allclose(after.quantiles[9], before.quantiles[9], rtol=0.02)
    assert after.quantiles[17] > before.quantiles[17]
    assert after.quantiles[1] < before.quantiles[1]


def test_what_else_was_forecast_before_changes_nothing() -> None:
    job, labour = ahead(step(1), step(2)), fixed(5.0, 5.0)
    alone = said(job, labour)
    said(replace(job, job="J2"), fixed(1.0, 1.0))
    assert said(job, labour) == alone
    assert said(replace(job, job="J2"), labour) != alone


def test_more_draws_of_labour_than_are_used_say_the_same() -> None:
    job = ahead(step(1))
    labour = np.repeat(np.linspace(1.0, 5.0, 512), 2)[:, None]
    assert said(job, labour) == said(job, labour[::2])


@st.composite
def jobs(draw: st.DrawFn) -> tuple[Ahead, Floats, Learned]:
    """Any job in any shop."""
    kinds = draw(st.lists(st.sampled_from(KINDS), min_size=1, max_size=6))
    steps = tuple(step(n + 1, kind) for n, kind in enumerate(kinds))
    hours = [draw(st.floats(0.01, 60)) for kind in kinds if kind == "labour"]
    learned = Learned()
    for _ in range(draw(st.integers(0, 5))):
        learned.learn(
            HoldBegan("inside", step(1), step(1), draw(st.sampled_from(["parts", "x"]))), 0.0
        )
        learned.learn(
            HoldLasted("x", draw(st.floats(0, 300)), draw(st.none() | st.floats(0, 9))), 0.0
        )
        learned.learn(Worked(step(2), 0.0, draw(st.floats(0, 9))), 0.0)
        learned.learn(Waited(step(2), "between", 0.0, draw(st.floats(0, 90))), 0.0)
    running = tuple(
        Running(
            seq, "held", "x", NOW - draw(st.floats(0, 9e6)), draw(st.none() | st.floats(0, 9e5))
        )
        for seq in draw(st.sets(st.integers(1, len(kinds))))
        if kinds[seq - 1] == "labour"
    )
    in_hands = kinds[0] == "labour" and not any(one.seq == 1 for one in running)
    return ahead(*steps, running=running, in_hands=in_hands), fixed(*hours, draws=60), learned


@given(jobs(), st.floats(0, 4e6))
def test_quantiles_never_fall_and_no_job_is_done_before_its_labour(
    asked: tuple[Ahead, Floats, Learned], later: float
) -> None:
    job, labour, learned = asked
    found = said(job, labour, learned, NOW + later)
    assert len(found.quantiles) == 19
    assert all(0 < one <= other for one, other in pairwise(found.quantiles))
    assert math.isfinite(found.mean)
    assert found.quantiles[-1] >= labour[0].sum() * 0.999


@pytest.mark.parametrize("share", [0.1, 0.5, 0.8])
def test_a_stored_forecast_moved_on_is_the_same_draws_given_that_it_took_longer(
    share: float,
) -> None:
    """`store.sums.moving` against the draws of a stay themselves, cut off at what passed."""
    on = scene(Learned(), HOURS, ahead(step(1), step(2)), fixed(4.0, 4.0, draws=20_000), NOW)
    draws = np.sort(hours_left(on))
    levels = np.arange(1, 20) / 20
    passed = float(np.quantile(draws, share))
    moved = left(np.quantile(draws, levels).tolist(), passed)
    fresh = np.quantile(draws[draws > passed] - passed, levels)
    assert_allclose(moved[3:16], fresh[3:16], rtol=0.1, atol=0.6)
