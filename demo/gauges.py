"""What the gauges show at hold points in the demo's past."""

from __future__ import annotations

from random import Random

from store.rules.book import LIFT_RATED_KG, Reading, Step
from store.rules.readings import names_of

TYPED = {"torque": (58.0, 62.0), "angle": (88.0, 92.0), "thickness": (126.4, 127.2)}
"""Limits typed from a maker's data sheet; invented."""
OPEN_ENDED = {
    "minutes": (11.0, 26.0), "bar": (1.3, 2.6), "flow": (1.1, 1.5), "rating": (1.4, 2.2),
    "grams": (380.0, 720.0), "hours": (2.5, 14.0),
}  # fmt: skip
"""What is usual where the book gives a least value only."""


def typed_limits(reading: Reading) -> tuple[float, float]:
    """Return the limits that somebody types for this job."""
    return TYPED.get(reading.code, (9.0, 11.0))


def shown(dice: Random, step: Step, mass_kg: float, *, out: bool = False) -> dict[str, float]:
    """Return what is read at a hold point, by the names it asks for.

    Args:
        out: one of the readings lies outside its limits, where one can.
    """
    names = iter(names_of(step.readings))
    found: dict[str, float] = {}
    for reading in step.readings:
        values = _values(dice, reading, mass_kg)
        if out and _can_be_out(reading):
            values[-1] = _outside(dice, reading)
            out = False
        for value in values:
            found[next(names)] = value
    return found


def can_be_out(step: Step) -> bool:
    """Tell whether a reading outside its limits would be believable there."""
    return any(_can_be_out(one) for one in step.readings)


def _can_be_out(reading: Reading) -> bool:
    return (
        not reading.typed
        and reading.high is not None
        and reading.low is not None
        and reading.high > reading.low
        and reading.high_is is None
    )


def _outside(dice: Random, reading: Reading) -> float:
    assert reading.low is not None
    assert reading.high is not None
    wide = reading.high - reading.low
    return round(reading.high + dice.uniform(0.1, 0.4) * wide, _digits(wide))


def _values(dice: Random, reading: Reading, mass_kg: float) -> list[float]:
    if reading.high_is == LIFT_RATED_KG:
        return [mass_kg + 10 * dice.randrange(0, 7)]
    low, high = _usual(reading)
    wide = high - low
    middle = low + wide * dice.betavariate(3, 3)
    digits = _digits(wide)
    if not reading.positions:
        return [round(middle, digits)]
    swing = min(wide, reading.spread if reading.spread is not None else wide) * 0.3
    middle = min(max(middle, low + swing), high - swing)
    return [round(middle + dice.uniform(-swing, swing), digits) for _ in reading.positions]


def _usual(reading: Reading) -> tuple[float, float]:
    if reading.typed:
        return typed_limits(reading)
    if reading.low is not None and reading.high is not None:
        return reading.low, reading.high
    if reading.code in OPEN_ENDED:
        return OPEN_ENDED[reading.code]
    edge = reading.low if reading.low is not None else reading.high or 0.0
    return (edge, edge * 1.3 + 1.0) if reading.low is not None else (edge * 0.5, edge)


def _digits(wide: float) -> int:
    return 3 if wide < 0.1 else 2 if wide < 1 else 1 if wide < 20 else 0
