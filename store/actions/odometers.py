"""The odometer of a vehicle, read at arrival and at the hand-over."""

from __future__ import annotations

import sqlite3

from store.actions.acting import Acting
from store.edges.events.jobs import OdometerRead
from store.rules.odometer import known_unit, refuse_backwards

USUAL = "km"


def last_reading(db: sqlite3.Connection, vehicle: str) -> tuple[float, str] | None:
    """Return the newest reading of a vehicle and its unit; None where there is none."""
    row = db.execute(
        "select value, unit from odometer where vehicle = ? order by seq desc limit 1", [vehicle]
    ).fetchone()
    return None if row is None else (row["value"], row["unit"])


def read_odometer(doing: Acting, vehicle: str, value: float | None, unit: str | None) -> None:
    """Write a reading down; None was not read.

    Raises:
        Refused: as `checked` does.
    """
    found = checked(doing, vehicle, value, unit)
    if found is not None:
        doing.record(found)


def checked(
    doing: Acting, vehicle: str, value: float | None, unit: str | None
) -> OdometerRead | None:
    """Return a reading to be written down; None where none was read.

    Args:
        unit: `km` or `miles`; None is that of the reading before, else km.

    Raises:
        Refused: it runs backwards, or the unit is neither.
    """
    if value is None:
        return None
    last = last_reading(doing.db, vehicle)
    said = known_unit(unit) if unit else known_unit(last[1] if last else USUAL)
    refuse_backwards(value, said, last)
    return OdometerRead(vehicle=vehicle, value=value, unit=said)
