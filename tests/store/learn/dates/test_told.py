"""Waiting told as facts: counts as they were, lengths between the trade's and the shop's own."""

from __future__ import annotations

import math
from collections.abc import Sequence
from statistics import NormalDist

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.learn.dates.learned import Learned
from store.learn.dates.priors import HOLDS
from store.learn.dates.route import Step
from store.learn.dates.seen import HoldBegan, HoldLasted, PhaseDone, Waited, Worked
from store.learn.dates.told import HoldTold, told

STEP = Step(1, "labour", "CL", "CL1", "work", 2.0)
HOUR = 1.0


def held(lengths: Sequence[float], said: float | None = None, reason: str = "parts") -> Learned:
    """A shop that was held so long, so often."""
    learned = Learned()
    for at, hours in enumerate(lengths):
        learned.learn(HoldBegan("before", STEP, STEP, reason), at * HOUR)
        learned.learn(HoldLasted(reason, hours, said), at * HOUR)
    return learned


def parts(learned: Learned) -> HoldTold:
    """What is told of parts."""
    return next(one for one in told(learned).holds if one.reason == "parts")


def test_a_shop_that_saw_nothing_tells_no_hold() -> None:
    found = told(Learned())
    assert found.holds == ()
    assert found.pace.worked_h == 0
    assert 0 < found.pace.in_hands < 1


def test_holds_are_counted_however_old_they_are() -> None:
    found = parts(held([4.0] * 7))
    assert (found.reason, found.count, found.said) == ("parts", 7, 0)
    assert found.apart_h == 0


def test_many_holds_are_told_as_the_log_normal_they_come_from() -> None:
    # quantiles of a log-normal: exp(m + z s), z of .9 is 1.2816 (any table of the normal)
    law = NormalDist(math.log(10), 0.5)
    lengths = [math.exp(law.inv_cdf((n + 0.5) / 400)) for n in range(400)]
    mixed = [lengths[n * 177 % 400] for n in range(400)]
    found = parts(held(mixed))
    assert math.isclose(found.middle_h, 10, rel_tol=0.03)
    assert math.isclose(found.tenth_h, 10 * math.exp(1.2816 * 0.5), rel_tol=0.03)


def test_few_holds_lie_between_the_trade_and_what_was_seen() -> None:
    found = parts(held([1.0, 1.0]))
    assert 1.0 < found.middle_h < HOLDS["parts"].middle_h
    assert found.middle_h < found.tenth_h


@pytest.mark.parametrize("times", [0.5, 1.0, 1.4])
def test_ends_that_were_said_are_held_against_what_came(times: float) -> None:
    found = parts(held([8.0 * times] * 300, said=8.0))
    assert found.said == 300
    assert math.isclose(found.times, times, rel_tol=0.02)
    assert found.times < found.tenth_times < 1.2 * found.times


def test_what_kept_jobs_longest_comes_first() -> None:
    learned = held([2.0] * 30)
    for at in range(10):
        learned.learn(HoldLasted("tool", 30.0, None), 30.0 + at)
    assert [one.reason for one in told(learned).holds] == ["tool", "parts"]
    assert told(learned).holds[0].apart_h is None


def test_the_pace_is_work_against_waiting() -> None:
    learned = Learned()
    for n in range(400):
        learned.learn(Worked(STEP, 8.0 * n, 8.0 * n + 3), 8.0 * n + 3)
        learned.learn(Waited(STEP, "inside", 8.0 * n + 3, 8.0 * n + 4), 8.0 * n + 4)
        learned.learn(PhaseDone(STEP, 3.0, 4.5), 8.0 * n + 4)
    found = told(learned).pace
    assert found.worked_h == 1200
    assert math.isclose(found.in_hands, 3 / 4, rel_tol=0.02)
    assert math.isclose(found.labour_h, 3 / 4 * 4.5 / 3, rel_tol=0.03)
    learned.learn(HoldBegan("inside", STEP, STEP, "parts"), 3200.0)
    learned.learn(HoldLasted("parts", 2.0, None), 3202.0)
    assert parts(learned).apart_h == 1200


@given(st.lists(st.floats(0.05, 300), min_size=1, max_size=30), st.floats(0.1, 100))
def test_one_in_ten_is_always_beyond_the_middle(lengths: list[float], said: float) -> None:
    found = parts(held(lengths, said))
    assert 0 < found.middle_h < found.tenth_h
    assert 0 < found.times < found.tenth_times
