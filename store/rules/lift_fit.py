"""Whether a vehicle may go on a lift, and what to be warned of.

The lift maker's manual, local codes and a competent or qualified person decide; nothing here says
that a lift is safe.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from store.sums.months import months_later

DUE_SOON = timedelta(days=14)


@dataclass(frozen=True, slots=True)
class Interval:
    """How often a lift is inspected. A shop keeps its own; these are proposals."""

    months: int
    source: str


INTERVALS = (
    Interval(12, "ANSI/ALI ALOIM: by a qualified lift inspector at least once a year"),
    Interval(
        6, "LOLER 1998 reg. 9(3)(a), Great Britain: lifts that also raise people, every 6 months"
    ),
    Interval(12, "LOLER 1998 reg. 9(3)(a), Great Britain: other lifts, every 12 months"),
)
"""What two published rules ask (ALOIM read in a summary, LOLER in its text). Which one holds for a
lift depends on the place, on its use and on its examination scheme: the shop decides."""


@dataclass(frozen=True, slots=True)
class Inspection:
    """The last inspection of a lift and when the next one is due, by which rule."""

    last: date
    months: int
    source: str

    @property
    def due(self) -> date:
        """The last day on which it still holds."""
        return months_later(self.last, self.months)


@dataclass(frozen=True, slots=True)
class Fit:
    """`refused` says why not, None where nothing speaks against it; warnings are sentences."""

    refused: str | None
    warnings: tuple[str, ...]


def carries(rated_kg: float, mass_kg: float | None) -> bool:
    """Tell whether a lift is rated for a vehicle; a mass that is not known is no obstacle."""
    return mass_kg is None or mass_kg <= rated_kg


def lift_fit(
    *,
    lift: str,
    rated_kg: float,
    in_service: bool,
    inspection: Inspection | None,
    overdue_refuses: bool,
    looked_over: date | None,
    mass_kg: float | None,
    today: date,
) -> Fit:
    """Compare a vehicle with a lift.

    Args:
        lift: its code.
        rated_kg: its rated capacity.
        inspection: the last one, None where none is on record.
        overdue_refuses: the owner's rule: an overdue lift is out of service, not only warned of.
        looked_over: the day of the last daily look-over, None for never.
        mass_kg: gross mass of the vehicle, None where it is not known.
        today: local day.

    Raises:
        ValueError: a mass or a capacity is not above 0.
    """
    if not rated_kg > 0 or (mass_kg is not None and not mass_kg > 0):
        raise ValueError(f"mass and capacity must be above 0: {mass_kg}, {rated_kg}")
    overdue = _overdue(lift, inspection, today)
    refused: str | None = None
    if not in_service:
        refused = f"Lift {lift} is out of service: take another one, or return it to service first."
    elif mass_kg is not None and not carries(rated_kg, mass_kg):
        refused = (
            f"The vehicle has {_kg(mass_kg)} and lift {lift} is rated for {_kg(rated_kg)}: "
            "take a lift that carries it."
        )
    elif overdue and overdue_refuses:
        refused = overdue
    warnings = [
        None if refused == overdue else overdue,
        _due_soon(lift, inspection, today),
        _look_over(lift, looked_over, today),
        _mass_unknown(lift, rated_kg) if mass_kg is None else None,
    ]
    return Fit(refused, tuple(warning for warning in warnings if warning))


def _overdue(lift: str, inspection: Inspection | None, today: date) -> str | None:
    if inspection is None:
        return f"Lift {lift} has no inspection on record: enter its date, interval and source."
    if today > inspection.due:
        return (
            f"Inspection was due {_day(inspection.due)}, lift {lift} ({inspection.source}): "
            "have it inspected and enter the date."
        )
    return None


def _due_soon(lift: str, inspection: Inspection | None, today: date) -> str | None:
    if inspection is None or not today <= inspection.due <= today + DUE_SOON:
        return None
    return (
        f"Inspection is due {_day(inspection.due)}, lift {lift} ({inspection.source}): "
        "book the inspector."
    )


def _look_over(lift: str, looked_over: date | None, today: date) -> str | None:
    if looked_over is not None and looked_over >= today:
        return None
    return f"Lift {lift} has not been looked over today: do it before you raise the vehicle."


def _mass_unknown(lift: str, rated_kg: float) -> str:
    return (
        f"The mass of the vehicle is not known and lift {lift} is rated for {_kg(rated_kg)}: "
        "enter the mass."
    )


def _day(day: date) -> str:
    return f"{day.day} {day:%b %Y}"


def _kg(mass: float) -> str:
    """Every digit, so that 4,000.4 kg on a lift for 4,000 kg reads as the reason it is."""
    return f"{mass:,.3f}".rstrip("0").rstrip(".") + " kg"
