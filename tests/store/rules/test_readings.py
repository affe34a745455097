"""Readings against their limits. The limits are common practice, no source."""

from __future__ import annotations

import math
from collections.abc import Mapping
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from store.rules.book import LIFT_RATED_KG, Reading
from store.rules.readings import (
    Limits,
    NotMeasured,
    Verdict,
    judge,
    known_limits,
    limits_text,
    names_of,
)

FOUR = ("front", "right", "rear", "left")
BACKLASH = Reading("backlash", "backlash", "mm", FOUR, low=0.1, high=0.2, spread=0.05)
END_FLOAT = Reading("end-float", "end float", "mm", low=0.05, high=0.3)
DEVIATION = Reading("deviation", "deviation", "degrees", high=3)
LEVEL = Reading("level", "level", "mm", ("front", "rear"), difference_low=0, difference_high=2.5)
GROSS = Reading("gross", "gross mass", "kg", high_is=LIFT_RATED_KG)
PROTRUSION = Reading("protrusion", "liner protrusion", "mm", ("1", "2"), spread=0.04, typed=True)
NO_LIMITS: Mapping[str, Limits] = {}


def verdict(
    *readings: Reading,
    given: Mapping[str, float],
    limits: Mapping[str, Limits] = NO_LIMITS,
    lift_rated_kg: float | None = None,
) -> Verdict:
    return judge(readings, given, limits=limits, lift_rated_kg=lift_rated_kg)


def four(front: float, right: float, rear: float, left: float) -> dict[str, float]:
    return dict(zip(FOUR, (front, right, rear, left), strict=True))


def test_all_inside_is_all_right() -> None:
    assert verdict(BACKLASH, given=four(0.12, 0.14, 0.15, 0.13)) == Verdict(True, (), (), ())


def test_a_value_outside_is_named_with_its_place_and_limits() -> None:
    found = verdict(BACKLASH, given=four(0.40, 0.41, 0.42, 0.15))
    assert not found.ok
    assert found.faults == (
        "backlash 0.4 mm at front: 0.1 to 0.2 mm allowed",
        "backlash 0.41 mm at right: 0.10 to 0.20 mm allowed",
        "backlash 0.42 mm at rear: 0.10 to 0.20 mm allowed",
        "backlash 0.27 mm between the places: at most 0.05 mm allowed",
    )


@pytest.mark.parametrize(
    ("value", "ok"), [(0.05, True), (0.30, True), (0.3000001, False), (0.0499, False), (0.1, True)]
)
def test_both_ends_are_allowed(value: float, ok: bool) -> None:
    assert verdict(END_FLOAT, given={"end-float": value}).ok is ok


def test_a_spread_of_exactly_the_limit_is_allowed() -> None:
    """In floats .20 - .15 is a little more than .05, and .15 - .10 a little less."""
    assert 0.20 - 0.15 > 0.05
    assert verdict(BACKLASH, given=four(0.15, 0.20, 0.18, 0.16)).ok
    found = verdict(BACKLASH, given=four(0.15, 0.20, 0.149, 0.16))
    assert found.faults == ("backlash 0.051 mm between the places: at most 0.050 mm allowed",)


@pytest.mark.parametrize(
    ("front", "rear", "fault"),
    [
        (10, 12.5, None),
        (10, 10, None),
        (10, 12.6, "level 2.6 mm rear less front: 0.0 to 2.5 mm allowed"),
        (10, 9.9, "level -0.1 mm rear less front: 0.0 to 2.5 mm allowed"),
    ],
)
def test_the_difference_is_the_last_place_less_the_first(
    front: float, rear: float, fault: str | None
) -> None:
    found = verdict(LEVEL, given={"front": front, "rear": rear})
    assert found.faults == (() if fault is None else (fault,))


def test_what_is_missing_and_what_belongs_nowhere_is_named() -> None:
    found = verdict(BACKLASH, LEVEL, given={"right": 0.15, "top": 1, "backlash.rear": 0.15})
    assert found.missing == ("backlash.front", "left", "level.front", "level.rear")
    assert found.unknown == ("top",)
    assert found.faults == ()
    assert not found.ok


def test_a_reading_in_one_place_is_also_the_value() -> None:
    assert verdict(END_FLOAT, given={"value": 0.1}).ok
    assert verdict(BACKLASH, END_FLOAT, given={**four(0.1, 0.1, 0.1, 0.1), "value": 0.1}).ok
    two = verdict(END_FLOAT, DEVIATION, given={"value": 0.1})
    assert two.missing == ("end-float", "deviation")
    assert two.unknown == ("value",)


def test_a_value_given_under_two_names_is_refused() -> None:
    found = verdict(END_FLOAT, given={"value": 0.1, "end-float": 0.2})
    assert found.unknown == ("value",)
    assert not found.ok


def test_the_same_places_of_two_readings_carry_their_code() -> None:
    assert names_of([LEVEL, BACKLASH]) == (
        "level.front",
        "level.rear",
        "backlash.front",
        "right",
        "backlash.rear",
        "left",
    )
    assert names_of([BACKLASH, DEVIATION]) == (*FOUR, "deviation")


def test_limits_typed_for_the_job_take_the_place_of_the_books() -> None:
    given = {"end-float": 0.35}
    assert not verdict(END_FLOAT, given=given).ok
    assert verdict(END_FLOAT, given=given, limits={"end-float": (0.1, 0.35)}).ok
    assert verdict(END_FLOAT, given={"end-float": 9.0}, limits={"end-float": (0.1, None)}).ok
    found = verdict(END_FLOAT, given={"end-float": 0.05}, limits={"end-float": (0.1, None)})
    assert found.faults == ("end float 0.05 mm: at least 0.10 mm allowed",)


@pytest.mark.parametrize("limits", [NO_LIMITS, {"protrusion": (None, None)}])
def test_limits_that_must_be_typed_and_are_not_are_a_fault(limits: Mapping[str, Limits]) -> None:
    given = {"1": 0.05, "2": 0.06}
    found = verdict(PROTRUSION, given=given, limits=limits)
    assert found.faults == (
        "liner protrusion: type its limits for this job first, with their source",
    )
    assert verdict(PROTRUSION, given=given, limits={"protrusion": (0.01, 0.08)}).ok


@pytest.mark.parametrize(
    ("rated", "fault"),
    [
        (4000, None),
        (2000, None),
        (1999, "gross mass 2000 kg: at most 1999 kg allowed"),
        (None, "gross mass: the vehicle is on no lift with a rated capacity. Move it first"),
    ],
)
def test_the_lift_sets_the_limit(rated: float | None, fault: str | None) -> None:
    found = verdict(GROSS, given={"gross": 2000}, lift_rated_kg=rated)
    assert found.faults == (() if fault is None else (fault,))


def test_limits_typed_too_high_do_not_raise_that_of_the_lift() -> None:
    assert known_limits(GROSS, {"gross": (None, 9000)}, 4000).high == 4000
    assert known_limits(GROSS, {"gross": (None, 3000)}, 4000).high == 3000


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_no_gauge_can_show_is_refused(value: float) -> None:
    with pytest.raises(NotMeasured, match=r"^rear: .* is no measured value. Type the number"):
        verdict(BACKLASH, given=four(0.1, 0.1, value, 0.1))


def test_a_hold_point_without_readings_asks_for_nothing() -> None:
    assert verdict(given={}) == Verdict(True, (), (), ())
    assert verdict(given={"value": 1}).unknown == ("value",)


@pytest.mark.parametrize(
    ("reading", "text"),
    [
        (END_FLOAT, "0.05 to 0.30 mm"),
        (DEVIATION, "at most 3 degrees"),
        (BACKLASH, "0.10 to 0.20 mm, spread at most 0.05 mm"),
        (LEVEL, "rear less front 0.0 to 2.5 mm"),
        (GROSS, "at most the lift's rated capacity"),
        (PROTRUSION, "spread at most 0.04 mm, limits typed for each job"),
        (Reading("v", "voltage", "V", low=0, high=0), "exactly 0 V"),
        (Reading("p", "oil pressure", "bar", low=0.5), "at least 0.5 bar"),
        (Reading("s", "spread", "mm", ("a", "b"), spread=0.05), "spread at most 0.05 mm"),
        (Reading("n", "faults", "", high=0), "at most 0"),
        (Reading("x", "anything", "mm"), "no limits"),
    ],
)
def test_limits_in_words(reading: Reading, text: str) -> None:
    assert limits_text(reading) == text


hundredths = st.integers(-1000, 1000)


def _hundredth(n: int) -> float:
    return float(Decimal(n) / 100)


@settings(deadline=None)
@given(hundredths, hundredths, hundredths, st.lists(hundredths, min_size=4, max_size=4))
def test_the_verdict_is_that_of_whole_numbers(
    one: int, other: int, spread: int, measured: list[int]
) -> None:
    low, high = sorted([one, other])
    reading = Reading(
        "r",
        "reading",
        "mm",
        FOUR,
        low=_hundredth(low),
        high=_hundredth(high),
        spread=_hundredth(abs(spread)),
        difference_high=_hundredth(spread),
    )
    inside = all(low <= n <= high for n in measured)
    even = max(measured) - min(measured) <= abs(spread)
    level = measured[-1] - measured[0] <= spread
    found = verdict(reading, given=four(*map(_hundredth, measured)))
    assert found.ok is (inside and even and level)
