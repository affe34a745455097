"""The arithmetic of what a shop without a past is taken to be."""

from __future__ import annotations

import math

from numpy.testing import assert_allclose

from store.learn.dates import priors


def test_shares_of_a_stay_and_of_the_held_hours_are_whole() -> None:
    assert_allclose(priors.WORKED + priors.HELD + priors.WAITING, 1.0)
    assert_allclose(sum(one.share for one in priors.HOLDS.values()), 1.0)


def test_middle_and_tenth_are_those_of_the_log_normal_law() -> None:
    parts = priors.HOLDS["parts"]
    over = 0.5 * math.erfc(math.log(32 / 7) / parts.log_sd / math.sqrt(2))
    assert_allclose(over, 0.1, rtol=1e-9)
    assert_allclose(parts.mean_h, 7 * math.exp(parts.log_sd**2 / 2))


def test_holds_per_labour_hour_are_the_hours_held_by_the_mean_length() -> None:
    expected = {
        "parts": 0.021, "approval": 0.027, "outwork": 0.004, "person": 0.024, "tool": 0.006,
        "reading": 0.010, "place": 0.004,
    }  # fmt: skip
    found = {reason: round(priors.holds_per_labour_h(reason), 3) for reason in priors.HOLDS}
    assert found == expected


def test_held_hours_come_back_from_rates_and_lengths() -> None:
    held = sum(priors.holds_per_labour_h(r) * one.mean_h for r, one in priors.HOLDS.items())
    assert_allclose(held, priors.HELD / priors.WORKED)


def test_holds_fall_before_inside_and_on_later_phases() -> None:
    found = [round(one, 3) for one in (priors.BEFORE_PHASE, priors.INSIDE_H, priors.LATER_H)]
    assert found == [0.086, 0.038, 0.008]
    assert round(priors.WAITING_H, 2) == 0.76
