"""Streams of dice, and the numbers drawn from them."""

from __future__ import annotations

from math import isclose
from random import Random
from statistics import median

import pytest

from demo.chance import Chance, around, between


def test_a_stream_does_not_feel_what_another_one_draws() -> None:
    one, other = Chance(1), Chance(1)
    for _ in range(100):
        other("holds").random()
    assert [one("hours").random() for _ in range(5)] == [other("hours").random() for _ in range(5)]


def test_another_seed_draws_otherwise() -> None:
    assert Chance(1)("hours").random() != Chance(2)("hours").random()


def test_half_lie_below_the_middle_and_one_in_ten_above_the_tenth() -> None:
    dice = Random(7)
    drawn = sorted(around(dice, 7.0, 32.0) for _ in range(20_000))
    assert isclose(median(drawn), 7.0, rel_tol=0.04)
    assert isclose(drawn[18_000], 32.0, rel_tol=0.05)


@pytest.mark.parametrize(("z", "hours"), [(0.0, 2.4), (1.2815515655, 4.0), (-1.2815515655, 1.7)])
def test_low_and_high_of_the_book_lie_a_tenth_from_either_end(z: float, hours: float) -> None:
    assert isclose(between((1.7, 2.4, 4.0), z), hours, rel_tol=1e-9)
