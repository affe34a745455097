"""Hours of a phase for some families: the most specific pattern wins, and one always does."""

from __future__ import annotations

from dataclasses import replace
from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.edges.workbook.model import load
from store.rules.book import Hours, HoursFor, Phase, Reduction, When
from store.rules.family_hours import clash, fits, hours_for, pattern_of, rank
from store.rules.route_when import holds
from store.rules.routes import lay
from store.trouble import Refused

PARTS = ("S6", "S4", "B4", "S")
parts = st.sampled_from([*PARTS, "S*", "S6*", "*"])
patterns = st.tuples(parts, parts, parts).map("-".join)
families = st.tuples(*[st.sampled_from(PARTS)] * 3).map("-".join)


def phase(*given: tuple[str, float]) -> Phase:
    """A phase of an hour with other hours for some families."""
    own = tuple(HoursFor(family, Hours(h / 2, h, h * 2)) for family, h in given)
    return Phase("P", "work", Hours(0.5, 1, 2), hours_for=own)


def test_the_most_specific_pattern_wins_in_whatever_order_they_stand() -> None:
    given = [("*-*-*", 2.0), ("S*-*-*", 3.0), ("S6-*-*", 4.0), ("S6-*-R", 5.0), ("S6-M-R", 6.0)]
    wanted = {"B4-M-F": 2, "S4-M-F": 3, "S6-M-F": 4, "S6-A-R": 5, "S6-M-R": 6}
    for order in permutations(given):
        found = {family: hours_for(phase(*order), family).middle for family in wanted}
        assert found == wanted


def test_without_a_pattern_that_fits_the_phases_own_hours_hold() -> None:
    assert hours_for(phase(("S6-*-R", 5.0)), "S6-M-F") == Hours(0.5, 1, 2)
    assert hours_for(phase(), "anything at all") == Hours(0.5, 1, 2)


@given(patterns, patterns, families)
def test_where_two_fit_one_says_more_or_the_clash_is_named(
    one: str, other: str, family: str
) -> None:
    both = clash(one, other)
    assert (both is None) == (clash(other, one) is None)
    if fits(one, family) and fits(other, family) and rank(one) == rank(other):
        assert both is not None
    if both is not None:
        example = both.replace("*", "x")
        assert fits(one, example)
        assert fits(other, example)


@given(patterns, families)
def test_a_pattern_fits_as_a_condition_does(pattern: str, family: str) -> None:
    a, b, c = pattern.split("-")
    when = When(engine=(a,), gearbox=(b,), axles=(c,))
    assert fits(pattern, family) == holds(when, family=family, grade=1, options={})


@pytest.mark.parametrize("text", ["", "S6", "S6-M", "S*6-M-R", "*S-M-R", "S6-M-R-X"])
def test_what_is_no_pattern_is_refused_with_the_remedy(text: str) -> None:
    with pytest.raises(Refused, match=r"like B4-M-F|as in"):
        pattern_of(text)


def test_the_route_takes_them_and_what_another_phase_saves_is_saved_of_them() -> None:
    book = load(
        'name = "b"\n[[phase]]\ncode = "A"\nhours = [1, 2, 4]\n'
        'hours_for = [{ family = "S6-*-R", hours = [2.0, 3.0, 5.0] }]\n'
        '[[phase]]\ncode = "B"\nhours = 1\n'
        '[[operation]]\ncode = "OP"\nname = "op"\nroute = ["A", "B"]\n'
    )

    def first(family: str) -> Hours:
        return lay(book, operations=["OP"], family=family, options={}, grade=2)[0].book

    assert first("S6-M-R") == Hours(2, 3, 5)
    assert first("S6-M-F") == Hours(1, 2, 4)
    book = replace(book, reductions=(Reduction("B", ("A",), 0.5, 0.3),))
    assert first("S6-M-R") == Hours(0.8, 1.2, 2.0)  # 3 h x 0.5 - 0.3 h = 1.2 h, 0.4 of 3 h
