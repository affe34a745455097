"""Distances on a vehicle: they only grow, whatever unit they are read in."""

from __future__ import annotations

from typing import Literal, cast

from store.trouble import Refused

Unit = Literal["km", "miles"]
UNITS: tuple[Unit, ...] = ("km", "miles")
KM_A_MILE = 1.609344
"""The international mile of 1959: 5,280 feet of 0.3048 m (BIPM, SI Brochure, non-SI units)."""
MOST = 1e7


def in_unit(value: float, unit: str, wanted: str) -> float:
    """Return a distance in another unit, `km` or `miles`."""
    if unit == wanted:
        return value
    return value * KM_A_MILE if unit == "miles" else value / KM_A_MILE


def known_unit(text: str) -> Unit:
    """Return the unit that was typed.

    Raises:
        Refused: it is neither.
    """
    found = {"km": "km", "mi": "miles", "mile": "miles", "miles": "miles"}.get(text.casefold())
    if found is None:
        raise Refused(f"An odometer reads km or miles, not {text}.")
    return cast("Unit", found)


def refuse_backwards(value: float, unit: str, last: tuple[float, str] | None) -> None:
    """Refuse an odometer that runs backwards, or that nothing could have driven.

    Args:
        last: the newest reading of the vehicle and its unit; None where there is none. In another
            unit it was rounded, so that half of one may lack.

    Raises:
        Refused: with both figures.
    """
    if not 0 <= value <= MOST:
        raise Refused(f"An odometer reads 0 to {MOST:,.0f} {unit}. Read it again.")
    if last is None:
        return
    then = in_unit(last[0], last[1], unit)
    if value < then - 0.5 * (unit != last[1]):
        raise Refused(
            f"The odometer ran backwards: {value:,.0f} {unit} now, {then:,.0f} {unit} before. "
            "Read it again; a new instrument is said in a note."
        )
