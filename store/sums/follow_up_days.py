"""The day on which something falls due that is due by a day, by a distance driven, or by both."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

ASSUMED_KM_A_MONTH = 1200.0
"""What a vehicle is taken to be driven until its odometer is seen again (common practice, no
source)."""
DAYS_A_MONTH = 365.2425 / 12
"""Mean month of the Gregorian calendar: 146,097 days in 400 years."""
FARTHEST = timedelta(days=36_525)
"""A vehicle that is hardly driven is not looked for later than this."""


@dataclass(frozen=True, slots=True)
class Seen:
    """An odometer read on a day, in km."""

    day: date
    km: float


def km_a_day(readings: Sequence[Seen], since: date) -> float:
    """Return how far a vehicle is driven a day: by two readings, else as it is assumed.

    With a reading v0 of day d0, the last one up to `since`, and the newest one v1 of day d1 after
    it, the rate is (v1 - v0) / (d1 - d0).

    Args:
        readings: in the order of time.
        since: local day from which is counted.

    Returns:
        km a day, above 0.
    """
    before = [one for one in readings if one.day <= since][-1:]
    after = [one for one in readings if one.day > since][-1:]
    if before and after and after[0].km > before[0].km:
        return (after[0].km - before[0].km) / (after[0].day - before[0].day).days
    return ASSUMED_KM_A_MONTH / DAYS_A_MONTH


def day_of_distance(target_km: float, readings: Sequence[Seen], since: date) -> date:
    """Return the day on which an odometer is likely to reach a distance.

    Args:
        target_km: on the odometer.
        readings: in the order of time; none has the vehicle stand at 0 on `since`.

    Returns:
        The last whole day before it is driven on, never before the newest reading.
    """
    newest = readings[-1] if readings else Seen(since, 0.0)
    left = max(0.0, target_km - newest.km)
    days = min(math.floor(left / km_a_day(readings, since)), FARTHEST.days)
    return newest.day + timedelta(days=days)


def day_after_driving(km: float, since: date) -> date:
    """Return the day on which a distance is driven at the assumed rate, where no odometer says."""
    return day_of_distance(km, (), since)


def falls_due(
    day: date | None, target_km: float | None, readings: Sequence[Seen], since: date
) -> date | None:
    """Return the earlier of a day and the day of a distance; None where there is neither."""
    found = [day] if day is not None else []
    if target_km is not None:
        found.append(day_of_distance(target_km, readings, since))
    return min(found, default=None)
