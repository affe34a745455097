"""How lengths of holds are learned: one rule at a time."""

from __future__ import annotations

import math

from numpy.testing import assert_allclose

from store.learn.dates.learned import Learned
from store.learn.dates.lengths import HALF_LIFE_H, Law, Lengths, Prior, said_too
from store.learn.dates.priors import HOLDS
from store.learn.dates.route import Running
from store.learn.dates.seen import HoldLasted
from tests.store.learn.dates.made import HOURS, at

PRIOR = Prior(math.log(7), 1.0, 4.0, 8.0)


def test_before_any_case_the_prior_holds() -> None:
    law = Lengths().law(PRIOR, 0.0)
    assert_allclose(law, (math.log(7), 1.0, 4.0))
    assert_allclose(law.wide, math.sqrt(1.25))


def test_four_cases_stand_half_way_between_prior_and_what_was_seen() -> None:
    seen = Lengths()
    for _ in range(4):
        seen.add(math.log(28), 0.0)
    assert_allclose(math.exp(seen.law(PRIOR, 0.0).m), 14.0)


def test_the_spread_is_that_of_the_conjugate_normal() -> None:
    """v s^2 = v0 s0^2 + scatter + k n / (k + n) (mean - m0)^2; Gelman et al. (2013), 3.3."""
    values = [1.0, 2.0, 4.0]
    seen = Lengths()
    for value in values:
        seen.add(value, 0.0)
    mean = sum(values) / 3
    scatter = sum((value - mean) ** 2 for value in values)
    s2 = (8 * 1.0 + scatter + 4 * 3 / 7 * (mean - math.log(7)) ** 2) / 11
    assert_allclose(seen.law(PRIOR, 0.0).s, math.sqrt(s2))


def test_a_case_weighs_half_after_its_half_life() -> None:
    old, fresh = Lengths(), Lengths()
    old.add(5.0, 0.0)
    old.add(5.0, 0.0)
    fresh.add(5.0, HALF_LIFE_H)
    assert_allclose(old.law(PRIOR, HALF_LIFE_H).m, fresh.law(PRIOR, HALF_LIFE_H).m)


def test_doubt_about_the_middle_leaves_the_mean_length() -> None:
    law = Law(2.0, 0.8, 3.0)
    assert_allclose(math.exp(law.centre + law.wide**2 / 2), law.mean())


def test_what_was_said_counts_by_its_precision() -> None:
    law = said_too(Law(0.0, 1.0, math.inf), math.e**2, Law(0.0, 0.5, math.inf))
    assert_allclose(law.m, 2.0 * 4 / 5)
    assert_allclose(law.s, math.sqrt(1 / 5))


def test_a_reason_nobody_foresaw_is_learned_from_its_own_cases() -> None:
    learned = Learned()
    assert_allclose(learned.length_law("weather", 0.0).m, math.log(HOLDS["place"].middle_h))
    for _ in range(40):
        learned.learn(HoldLasted("weather", 50.0, None), 0.0)
    assert math.exp(learned.length_law("weather", 0.0).m) > 30
    assert_allclose(learned.length_law("parts", 0.0).m, math.log(7))


def test_a_reason_whose_ends_are_always_missed_stretches() -> None:
    learned, trusted = Learned(), Learned()
    for _ in range(30):
        learned.learn(HoldLasted("parts", 24.0, 8.0), 0.0)
        trusted.learn(HoldLasted("parts", 8.0, 8.0), 0.0)
    one = Running(2, "held", "parts", at(0, 8), at(1, 17))
    usual = Law(math.log(7), 1.2, 4.0)
    late, kept = (each.running_law(one, usual, HOURS, 0.0) for each in (learned, trusted))
    assert math.exp(late.m) > 2 * math.exp(kept.m)


def test_an_end_that_was_not_said_costs_nothing() -> None:
    one, usual = Running(2, "held", "parts", at(0, 8)), Law(math.log(7), 1.2, 4.0)
    law = Learned().running_law(one, usual, HOURS, 0.0)
    assert_allclose((law.m, law.wide), (usual.m, usual.wide))
