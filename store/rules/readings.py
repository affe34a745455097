"""Whether what was measured at a hold point lies inside its limits, to the last digit typed."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import lru_cache

from store.rules.book import LIFT_RATED_KG, Reading
from store.trouble import Refused

Limits = tuple[float | None, float | None]
"""Least and greatest allowed value; None leaves an end open."""
VALUE = "value"
"""Another name for the one reading of a hold point that is taken in one place."""


class NotMeasured(Refused):
    """NaN or infinity: nothing that a gauge can show."""

    def __init__(self, name: str, value: float) -> None:
        self.name, self.value = name, value
        super().__init__(f"{name}: {value} is no measured value. Type the number that was read.")


@dataclass(frozen=True, slots=True)
class Verdict:
    """What is wrong with the readings of a hold point.

    Attributes:
        ok: everything was given and lies inside its limits; nothing is unknown.
        faults: a sentence for each value outside its limits, or whose limits are not known.
        missing: names of what was not given.
        unknown: names that belong to no reading, or to one that was given already.
    """

    ok: bool
    faults: tuple[str, ...]
    missing: tuple[str, ...]
    unknown: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Place:
    """One value that is asked for: its reading, its position and its names, the first preferred."""

    reading: int
    position: str | None
    names: tuple[str, ...]


def judge(
    readings: Sequence[Reading],
    given: Mapping[str, float],
    *,
    limits: Mapping[str, Limits],
    lift_rated_kg: float | None,
) -> Verdict:
    """Compare values with limits; both ends of a limit are allowed.

    Args:
        readings: those of one hold point.
        given: values by name. The names are what `names_of` gives; `code.position` always works.
        limits: limits typed for this job, by code of the reading; they take the place of the
            book's least and greatest value.
        lift_rated_kg: rated capacity of the lift under the vehicle, None off the lifts.

    Raises:
        NotMeasured: a value is NaN or infinite.
    """
    for name, value in given.items():
        if not math.isfinite(value):
            raise NotMeasured(name, value)
    places = _places(tuple(readings))
    found = {place: _first_given(place, given) for place in places}
    used = {name for name in found.values() if name is not None}
    missing = tuple(place.names[0] for place, name in found.items() if name is None)
    unknown = tuple(name for name in given if name not in used)
    faults: list[str] = []
    for n, reading in enumerate(readings):
        values = {
            place.position: Decimal(repr(float(given[name])))
            for place, name in found.items()
            if place.reading == n and name is not None
        }
        faults += _faults(known_limits(reading, limits, lift_rated_kg), values)
    return Verdict(not (faults or missing or unknown), tuple(faults), missing, unknown)


def names_of(readings: Sequence[Reading]) -> tuple[str, ...]:
    """The name of each value that a hold point asks for, in order.

    A reading with positions is given by them, or as `code.position` where another reading of the
    same hold point has that name too; one without positions by its code.
    """
    return tuple(place.names[0] for place in _places(tuple(readings)))


def known_limits(
    reading: Reading, limits: Mapping[str, Limits], lift_rated_kg: float | None
) -> Reading:
    """The reading with the limits of this job and this lift put in, as far as they are known."""
    if reading.code in limits and limits[reading.code] != (None, None):
        low, high = limits[reading.code]
        reading = replace(reading, low=low, high=high, typed=False)
    if reading.high_is == LIFT_RATED_KG and lift_rated_kg is not None:
        high = lift_rated_kg if reading.high is None else min(reading.high, lift_rated_kg)
        reading = replace(reading, high=high, high_is=None)
    return reading


def limits_text(reading: Reading) -> str:
    """The limits of a reading in words: `0.05 to 0.30 mm, spread at most 0.05 mm`."""
    digits = _digits(
        reading.low, reading.high, reading.spread, reading.difference_low, reading.difference_high
    )
    parts: list[str] = []
    if reading.low is not None or reading.high is not None:
        parts.append(_range(reading.low, reading.high, reading.unit, digits))
    if reading.high_is == LIFT_RATED_KG:
        parts.append("at most the lift's rated capacity")
    if reading.spread is not None:
        parts.append(f"spread {_range(None, reading.spread, reading.unit, digits)}")
    if reading.difference_low is not None or reading.difference_high is not None:
        allowed = _range(reading.difference_low, reading.difference_high, reading.unit, digits)
        parts.append(f"{_difference_name(reading)} {allowed}")
    if reading.typed:
        parts.append("limits typed for each job")
    return ", ".join(parts) or "no limits"


@lru_cache(maxsize=512)
def _places(readings: tuple[Reading, ...]) -> tuple[_Place, ...]:
    shared = Counter(name for reading in readings for name in reading.positions or (reading.code,))
    single = sum(not reading.positions for reading in readings) == 1 and VALUE not in shared
    return tuple(
        _Place(n, position, _names(reading, position, shared, single))
        for n, reading in enumerate(readings)
        for position in reading.positions or (None,)
    )


def _names(
    reading: Reading, position: str | None, shared: Counter[str], single: bool
) -> tuple[str, ...]:
    if position is None:
        return (reading.code, VALUE) if single else (reading.code,)
    full = f"{reading.code}.{position}"
    return (full,) if shared[position] > 1 else (position, full)


def _first_given(place: _Place, given: Mapping[str, float]) -> str | None:
    return next((name for name in place.names if name in given), None)


def _faults(reading: Reading, values: Mapping[str | None, Decimal]) -> Iterator[str]:
    if reading.typed:
        yield f"{reading.text}: type its limits for this job first, with their source"
    if reading.high_is is not None:
        yield f"{reading.text}: the vehicle is on no lift with a rated capacity. Move it first"
    for position, value in values.items():
        if not _inside(value, reading.low, reading.high):
            where = f" at {position}" if position else ""
            yield _sentence(reading, value, where, (reading.low, reading.high))
    if len(values) > 1 and reading.spread is not None:
        spread = max(values.values()) - min(values.values())
        if not _inside(spread, None, reading.spread):
            yield _sentence(reading, spread, " between the places", (None, reading.spread))
    yield from _difference_fault(reading, values)


def _difference_fault(reading: Reading, values: Mapping[str | None, Decimal]) -> Iterator[str]:
    """Last position less first, where both were given."""
    bounds = reading.difference_low, reading.difference_high
    ends = reading.positions[:1] + reading.positions[-1:]
    if bounds == (None, None) or not ends or not all(end in values for end in ends):
        return
    difference = values[ends[-1]] - values[ends[0]]
    if not _inside(difference, *bounds):
        yield _sentence(reading, difference, f" {_difference_name(reading)}", bounds)


def _difference_name(reading: Reading) -> str:
    return f"{reading.positions[-1]} less {reading.positions[0]}" if reading.positions else ""


def _inside(value: Decimal, low: float | None, high: float | None) -> bool:
    return (low is None or value >= _exact(low)) and (high is None or value <= _exact(high))


def _sentence(reading: Reading, value: Decimal, where: str, bounds: Limits) -> str:
    digits = max(_digits(*bounds), _decimals(value))
    measured = _number(value, reading.unit, _decimals(value))
    return f"{reading.text} {measured}{where}: {_range(*bounds, reading.unit, digits)} allowed"


def _range(low: float | None, high: float | None, unit: str, digits: int) -> str:
    if low is None:
        return f"at most {_number(_exact(high or 0), unit, digits)}"
    if high is None:
        return f"at least {_number(_exact(low), unit, digits)}"
    if low == high:
        return f"exactly {_number(_exact(low), unit, digits)}"
    return f"{_exact(low):.{digits}f} to {_number(_exact(high), unit, digits)}"


def _number(value: Decimal, unit: str, digits: int) -> str:
    return f"{value:.{digits}f} {unit}".rstrip()


def _exact(value: float) -> Decimal:
    """The number as it was typed: 0.3 is three tenths, not the float next to it."""
    return Decimal(repr(float(value)))


def _digits(*values: float | None) -> int:
    return max((_decimals(_exact(value)) for value in values if value is not None), default=0)


def _decimals(value: Decimal) -> int:
    exponent = value.normalize().as_tuple().exponent
    return max(0, -exponent) if isinstance(exponent, int) else 0
