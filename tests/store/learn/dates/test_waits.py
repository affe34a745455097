"""How often and how long jobs wait, and whether people are scarce just now."""

from __future__ import annotations

from numpy.testing import assert_allclose

from store.learn.dates.lately import Lately
from store.learn.dates.route import Step
from store.learn.dates.seen import Waited, WaitKind, Worked
from store.learn.dates.waits import KEPT, LONGEST_H, USUAL, OwnWaits, Waits

STEP = Step(1, "labour", "OP", "P1", "work")


def learned(labour_h: float = 0.0, **hours: list[float]) -> Waits:
    """Waits of a shop, by kind."""
    waits = Waits()
    if labour_h:
        waits.learn(Worked(STEP, 0.0, labour_h))
    kinds: dict[str, WaitKind] = {"inside": "inside", "between": "between", "after": "after"}
    for name, lengths in hours.items():
        for length in lengths:
            waits.learn(Waited(STEP, kinds[name], 0.0, length))
    return waits


def test_without_a_past_the_prior_holds() -> None:
    pace = Waits().pace()
    assert (pace.inside, pace.chance["between"], pace.chance["after"]) == (0.30, 0.45, 0.60)
    assert_allclose(Waits().usual(), 0.29 / 0.38)


def test_chance_and_rate_move_with_what_was_seen() -> None:
    pace = learned(25.0, inside=[1.0] * 15, between=[0.0] * 8).pace()
    assert_allclose(pace.inside, 0.45)
    assert_allclose(pace.chance["between"], 0.45 / 2)


def test_one_forgotten_job_slows_no_date_for_a_month() -> None:
    waits = learned(between=[100.0, *[1.0] * 60, 100.0])
    assert waits.longest_h == LONGEST_H
    assert waits.waited_h == 60 + 2 * LONGEST_H
    expected = 6 * USUAL["between"].mean_h + 60 + 2 * LONGEST_H
    assert_allclose(waits.pace().each_h["between"] / waits.pace().chance["between"], expected / 68)


def test_where_long_waits_are_nothing_rare_they_count_as_they_are() -> None:
    waits = learned(between=[1.0, 1.0, 1.0, 1.0, 40.0] * 20)
    assert waits.longest_h == 40.0
    waits.learn(Waited(STEP, "between", 0.0, 300.0))
    assert waits.longest_h == 40.0


def test_only_the_last_waits_are_drawn_again() -> None:
    waits = learned(inside=[1.0] * KEPT + [2.0] * KEPT)
    assert waits.kinds["inside"].last_h == [2.0] * KEPT


def test_a_phase_for_which_hands_are_scarce_is_known_by_its_code() -> None:
    waits = learned(between=[8.0] * 20)
    pace = waits.pace()
    expected = 20 * pace.each_h["between"]
    assert_allclose(waits.factor(STEP, pace), (40 + 160) / (40 + expected))
    assert waits.factor(Step(2, "labour", "OP", "P2"), pace) == 1.0


def test_what_a_job_would_have_waited_is_reckoned_from_its_labour_and_its_occasions() -> None:
    pace, own = Waits().pace(), OwnWaits()
    own.learn(Worked(STEP, 0.0, 10.0), LONGEST_H)
    own.learn(Waited(STEP, "between", 10.0, 13.0), LONGEST_H)
    own.learn(Waited(STEP, "after", 20.0, 20.0), LONGEST_H)
    mean = {kind: usual.mean_h for kind, usual in USUAL.items()}
    assert_allclose(
        pace.expected_h(own), 3.0 * mean["inside"] + 0.45 * mean["between"] + 0.6 * mean["after"]
    )
    assert own.waited_h == 3.0


def test_lately_compares_hours_waited_with_hours_worked() -> None:
    lately = Lately()
    lately.now("A", 0.0, 0.0, None)
    lately.now("A", 10.0, None, 10.0)
    lately.now("A", 14.0, 14.0, None)
    assert_allclose(lately.factor(14.0, 0.8, LONGEST_H), ((40 * 0.8 + 4) / (40 * 0.8 + 8)) ** 0.5)


def test_a_job_that_waits_now_counts_so_far_and_never_more_than_the_cap() -> None:
    lately = Lately()
    lately.now("A", 0.0, None, 0.0)
    assert_allclose(lately.factor(10.0, 0.8, LONGEST_H), ((32 + 10) / 32) ** 0.5)
    assert_allclose(lately.factor(24.0, 0.8, LONGEST_H), ((32 + LONGEST_H) / 32) ** 0.5)
    assert_allclose(lately.factor(60.0, 0.8, LONGEST_H), 1.0)


def test_what_is_long_past_is_not_lately() -> None:
    lately = Lately()
    lately.now("A", 0.0, None, 0.0)
    lately.now("A", 5.0, 5.0, None)
    lately.now("A", 5.0, None, None)
    assert lately.factor(40.0, 0.8, LONGEST_H) == 1.0
    assert lately.waited == []
