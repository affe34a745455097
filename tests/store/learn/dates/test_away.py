"""Standing, outwork, hands at once, and the shop's record of its ranges."""

from __future__ import annotations

import math

from numpy.testing import assert_allclose

from store.learn.dates.away import Away
from store.learn.dates.hands import Hands
from store.learn.dates.ranges import Ranges
from store.learn.dates.route import Step
from store.learn.dates.seen import AwayLasted, PhaseDone

CURE = Step(3, "standing", "OP", "cure")
OUT = Step(4, "outwork", "OP", "out")
WORK = Step(1, "labour", "OP", "P1", "work")


def test_a_standing_takes_what_the_book_says_until_it_was_seen() -> None:
    booked = Step(3, "standing", "OP", "cure", book_h=12.0)
    assert_allclose(math.exp(Away().standing_law(booked, 0.0).m), 12.0)
    assert_allclose(math.exp(Away().standing_law(CURE, 0.0).m), 4.0)


def test_a_cure_that_always_takes_as_long_is_soon_known() -> None:
    away = Away()
    for _ in range(6):
        away.learn(AwayLasted(CURE, 20.0), 0.0)
    law = away.standing_law(CURE, 0.0)
    assert 17 < math.exp(law.m) < 20
    assert law.s < 0.25


def test_outwork_is_known_by_its_route_and_by_its_firm() -> None:
    away, other = Away(), Step(4, "outwork", "OTHER", "out")
    assert_allclose(math.exp(away.outwork_law(OUT, 0.0).m), 30.0)
    for _ in range(10):
        away.learn(AwayLasted(OUT, 60.0, "Slow"), 0.0)
        away.learn(AwayLasted(other, 10.0, "Quick"), 0.0)
    middle = {step.operation: math.exp(away.outwork_law(step, 0.0).m) for step in (OUT, other)}
    assert middle["OP"] > 45
    assert middle["OTHER"] < 14
    quick = Step(4, "outwork", "OP", "out", firm="Quick")
    assert 12 < math.exp(away.outwork_law(quick, 0.0).m) < middle["OP"]


def test_work_waits_for_what_is_away_unless_the_shop_shows_otherwise() -> None:
    away = Away()
    assert away.blocks()
    away.learn(AwayLasted(OUT, 10.0, "", beside=True), 0.0)
    assert not away.blocks()


def test_two_at_once_take_half_the_open_hours() -> None:
    hands = Hands()
    assert hands.share(WORK) == 1.0
    for _ in range(100):
        hands.learn(PhaseDone(WORK, 2.0, 4.0))
    assert 0.5 < hands.share(WORK) < 0.56
    assert hands.share(Step(2, "labour", "OP", "P2")) > hands.share(WORK)


def test_a_phase_clocked_wrong_says_nothing_of_hands() -> None:
    hands = Hands()
    hands.learn(PhaseDone(WORK, 0.1, 4.0))
    hands.learn(PhaseDone(WORK, 9.0, 4.0))
    assert hands.share(WORK) == 1.0


def test_ranges_that_hold_four_in_five_stay_as_they_are() -> None:
    ranges = Ranges()
    for n in range(100):
        ranges.learn(1.0, 2.0, 3.0 if n % 5 == 0 else 1.5)
    assert_allclose(ranges.stretch(), 1.0)


def test_ranges_that_miss_widen_and_ranges_that_always_hold_narrow() -> None:
    wide, narrow = Ranges(), Ranges()
    for _ in range(40):
        wide.learn(1.0, 2.0, 3.0)
        narrow.learn(1.0, 2.0, 1.5)
    assert_allclose(wide.stretch(), math.exp(40 * 0.3 * 0.75 / (12 + 60)))
    assert_allclose(narrow.stretch(), math.exp(-40 * 0.3 * 0.1875 / (12 + 60)))
