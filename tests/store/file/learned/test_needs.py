"""Draws of when a job needs its kits, out of walks whose every number is known."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import pytest

from store.file.kits.wanted import Wanted, kits_wanted
from store.file.learned.due import LIVE
from store.file.learned.kept import parts
from store.file.learned.kept_needs import DRAWS, KitNeed, StretchDrawn
from store.file.learned.moment import moment
from store.file.learned.needs import LINE, Made, WayWalked, drawn, needs
from store.file.learned.own import ShopLearner
from store.learn.arrays import Floats
from tests.store.file.learned.made import spread
from tests.store.made_kits import kit_shop, take, turns

MADE = Made(12, 7, datetime(2026, 3, 2, 8, tzinfo=UTC))
SEQS = {"1": 100, "2": 200, "3": 300}
RNG = np.random.Generator(np.random.PCG64(5))
WALKS = 512


def want(kit: str, *phases: str, uses: tuple[str, ...] = (), job: str = "1001") -> Wanted:
    """A stretch of phases none of which is begun."""
    return Wanted(job, kit, phases, uses or phases, phases, None, False)


def way(odds: float, ends: Floats, *seqs: int) -> WayWalked:
    """A walk in which every phase starts when the one before it ends."""
    starts = np.concatenate([np.zeros((len(ends), 1)), ends[:, :-1]], axis=1)
    return WayWalked(odds, seqs, starts, ends, RNG.standard_normal(len(ends)))


def walk() -> Floats:
    """(draws, phases) ends of three phases of some hours each."""
    found: Floats = np.cumsum(RNG.exponential(8.0, (WALKS, 3)) + 0.5, axis=1)
    return found


NONE = np.zeros(DRAWS)


def stretch(found: tuple[KitNeed, ...], kit: str) -> StretchDrawn:
    """The only stretch of a kit."""
    (one,) = [need for need in found if need.kit == kit]
    (drawn_one,) = one.stretches
    return drawn_one


def test_a_stretch_lasts_from_the_start_of_its_first_phase_to_the_end_of_its_last() -> None:
    ends = walk()
    there = way(1.0, ends, 100, 200, 300)
    found = needs(MADE, [want("lock", "1", "2"), want("press", "3")], SEQS, [there], NONE)
    assert there.shop is not None
    rows = np.argsort(there.shop)[((np.arange(DRAWS) + 0.5) * WALKS / DRAWS).astype(int)]
    lock, press = stretch(found, "lock"), stretch(found, "press")
    assert lock.starts == (0.0,) * DRAWS
    assert lock.ends == pytest.approx(ends[rows, 1])
    assert press.starts == pytest.approx(ends[rows, 1])
    assert press.ends == pytest.approx(ends[rows, 2])
    assert found[0].finishes == found[1].finishes == pytest.approx(ends[rows, 2])
    assert (found[0].seq, found[0].fit_seq, found[0].made_at) == (12, 7, MADE.at)


def test_draws_go_from_the_best_the_shop_may_do_to_the_worst_in_every_job() -> None:
    """What is shared is the same in draw k: here nothing else is drawn."""
    slow = RNG.standard_normal(WALKS)
    found = [
        needs(MADE, [want("lock", "1", job=job)], SEQS,
              [WayWalked(1.0, (100,), np.zeros((WALKS, 1)), np.exp(slow[order])[:, None],
                         slow[order])], NONE)[0]
        for job, order in (("1001", np.arange(WALKS)), ("1002", RNG.permutation(WALKS)))
    ]  # fmt: skip
    assert found[0].finishes == pytest.approx(found[1].finishes)
    assert list(found[0].finishes) == sorted(found[0].finishes)


def test_ways_are_taken_by_their_odds_and_one_without_the_phase_needs_no_kit() -> None:
    with_it, without = way(0.7, walk(), 100, 200, 300), way(0.3, walk()[:, :2], 100, 200)
    over = WayWalked(0.0)
    lock = stretch(needs(MADE, [want("lock", "3")], SEQS, [with_it, without, over], NONE), "lock")
    needed = [start < end for start, end in zip(lock.starts, lock.ends, strict=True)]
    assert sum(needed) == pytest.approx(0.7 * DRAWS, abs=1)
    assert 40 < sum(needed[: DRAWS // 2]) < 95, "good draws and bad ones alike"


def test_nothing_left_on_one_way_is_finished_at_once() -> None:
    ways = [way(0.5, walk(), 100, 200, 300), WayWalked(0.5)]
    found = needs(MADE, [want("lock", "3")], SEQS, ways, NONE)[0]
    assert sum(one == 0 for one in found.finishes) == DRAWS // 2


def test_a_wait_for_a_lift_comes_before_everything() -> None:
    there, waits = way(1.0, walk(), 100, 200, 300), drawn(spread(20.0).quantiles, LINE)
    at_once = stretch(needs(MADE, [want("lock", "1")], SEQS, [there], NONE), "lock")
    later = stretch(needs(MADE, [want("lock", "1")], SEQS, [there], waits), "lock")
    assert later.starts == pytest.approx(waits)
    assert later.ends == pytest.approx(np.array(at_once.ends) + waits)


def test_whoever_waits_behind_another_waits_longer_in_every_draw() -> None:
    first, second = (drawn(spread(one).quantiles, LINE) for one in (20.0, 30.0))
    assert np.all(first < second)
    assert np.mean(first) == pytest.approx(20.0, rel=0.05)
    assert not np.array_equal(drawn(spread(20.0).quantiles, "1001 held"), first)
    assert np.array_equal(np.sort(drawn(spread(20.0).quantiles, "1001 held")), np.sort(first))


def test_a_stretch_without_any_hours_is_needed_all_the_same() -> None:
    nothing = WayWalked(1.0, (100,), np.zeros((4, 1)), np.zeros((4, 1)), np.arange(4.0))
    lock = stretch(needs(MADE, [want("lock", "1")], SEQS, [nothing], NONE), "lock")
    assert all(start < end for start, end in zip(lock.starts, lock.ends, strict=True))


def test_the_same_question_has_the_same_answer() -> None:
    there = way(1.0, walk(), 100, 200, 300)
    asked = [want("lock", "1", "2")]
    assert needs(MADE, asked, SEQS, [there], NONE) == needs(MADE, asked, SEQS, [there], NONE)


def test_asking_about_kits_changes_no_forecast(tmp_path: Path) -> None:
    with kit_shop(tmp_path) as world:
        for _ in range(3):
            take(world)
        learner = ShopLearner()
        turns(world).keep_up()
        with world.shop.reading() as db:
            live = [row[0] for row in db.execute(LIVE)]
            known = learner.ready(parts(db, learner.versions, whole=True))
            here, wanted = moment(db, live, world.now), kits_wanted(db)
        plain, asked = known.forecasts(here, live, {}), known.forecasts(here, live, wanted)
        assert plain == asked
        assert not any(one.needs for one in plain)
        assert {need.kit for need in asked[0].needs} == {"gauge", "link", "lock"}
