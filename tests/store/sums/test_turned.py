"""Shares and turns of yes and no beside published values, brute force and their own promise."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import product
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as some

from store.sums.turned import at_least, more_often, turned, two_sided


def test_fishers_tea() -> None:
    # Fisher, The Design of Experiments (1935): of 8 cups all 4 told right 1 in 70, 3 or 4 17 in 70.
    assert more_often(4, 4, 0, 4) == pytest.approx(1 / 70)
    assert more_often(3, 4, 1, 4) == pytest.approx(17 / 70)


def test_a_binomial_tail_of_a_table() -> None:
    # Ten throws of a fair coin: 8 or more heads 56 in 1024 (Feller, volume 1, chapter 6).
    assert at_least(8, 10, 0.5) == pytest.approx(56 / 1024)
    assert at_least(0, 10, 0.3) == pytest.approx(1)
    with pytest.raises(ValueError, match="3 of 2"):
        at_least(3, 2, 0.5)


def test_a_binomial_tail_of_ten_years() -> None:
    # scipy.stats.binom.sf(1079, 4000, 0.25) and (2599, 9000, 0.25), scipy 1.17.1.
    assert at_least(1080, 4000, 0.25) == pytest.approx(0.00198032573374, rel=1e-9)
    assert at_least(2600, 9000, 0.25) == pytest.approx(2.78022925525e-17, rel=1e-9)
    assert [at_least(yes, 3, share) for yes in (0, 3) for share in (0, 1)] == [1, 1, 0, 1]


@given(some.integers(0, 6), some.integers(0, 6), some.integers(1, 6), some.integers(1, 6))
def test_fishers_chance_is_a_count_of_ways(yes: int, others: int, of: int, of_others: int) -> None:
    yes, others = min(yes, of), min(others, of_others)
    ways = [
        sum(way[:of]) for way in product((0, 1), repeat=of + of_others) if sum(way) == yes + others
    ]
    counted = sum(one >= yes for one in ways) / len(ways)
    assert more_often(yes, of, others, of_others) == pytest.approx(counted)


def test_a_turn_is_found_and_dated() -> None:
    found = turned([False] * 20 + [True] * 10, 5)
    assert found is not None
    assert (found.place, found.before, found.after) == (20, 0.0, 1.0)
    assert found.early <= 20 <= found.late
    assert found.chance < 1e-5


@given(some.lists(some.booleans(), min_size=6, max_size=9))
def test_the_chance_of_a_turn_is_a_count_of_orders(row: list[bool]) -> None:
    found = turned(row, 2)
    assert found is not None
    orders = {order for order in product((False, True), repeat=len(row)) if sum(order) == sum(row)}
    loudest = loudest_of(row)
    as_loud = sum(loudest_of(order) <= loudest * (1 + 1e-9) for order in orders)
    assert found.chance == pytest.approx(as_loud / len(orders))


def loudest_of(row: Sequence[bool]) -> float:
    return min(
        two_sided(sum(row[:place]), place, sum(row), len(row)) for place in range(2, len(row) - 1)
    )


def test_a_row_too_short_says_nothing() -> None:
    assert turned([True] * 9, 5) is None


@given(some.lists(some.booleans(), min_size=10, max_size=40))
def test_yes_and_no_may_be_swapped(row: list[bool]) -> None:
    found, swapped = turned(row, 5), turned([not one for one in row], 5)
    assert found is not None
    assert swapped is not None
    assert found.chance == pytest.approx(swapped.chance)
    if found.place == swapped.place:  # of equals rounding may take another
        assert found.before == pytest.approx(1 - swapped.before)


def test_a_row_of_luck_turns_no_more_often_than_promised() -> None:
    dice = Random(8)
    rows = [[dice.random() < 0.3 for _ in range(30)] for _ in range(300)]
    loud = sum(found.chance <= 0.05 for row in rows if (found := turned(row, 5)) is not None)
    # At most 1 in 20; four deviations of 300 throws above that would be luck no more.
    assert loud <= 300 * 0.05 + 4 * math.sqrt(300 * 0.05 * 0.95)
