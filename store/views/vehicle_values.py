"""What the view of a vehicle gives: who it is, its visits, what was measured and advised."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime

from store.views.desk.values import Comeback


@dataclass(frozen=True, slots=True)
class Measured:
    """Readings of one step: values by position, inside limits or let stand."""

    text: str
    readings: tuple[tuple[str, float], ...]
    in_limits: bool


@dataclass(frozen=True, slots=True)
class Visit:
    """One job of a vehicle.

    Attributes:
        done: names of the phases that were finished.
        odometer: the first reading of the visit, with its unit.
    """

    number: str
    work: str
    complaint: str | None
    state: str
    opened_at: datetime
    closed_at: datetime | None
    odometer: tuple[float, str] | None
    labour_h: float
    done: tuple[str, ...]
    measured: tuple[Measured, ...]
    comeback_of: str | None = None


@dataclass(frozen=True, slots=True)
class AdviceOpen:
    """Work that was advised and not done. `answer`: None, `later` or `declined`."""

    job: str
    text: str
    hours: float | None
    at: datetime
    answer: str | None


@dataclass(frozen=True, slots=True)
class VehicleHistory:
    """A vehicle over its visits, newest first."""

    vehicle: str
    label: str
    family: str
    vin: str | None
    plate: str | None
    engine: str | None
    gearbox: str | None
    mass_kg: float | None
    odometers: tuple[tuple[datetime, float, str], ...]
    visits: tuple[Visit, ...]
    comebacks: tuple[Comeback, ...]
    advice: tuple[AdviceOpen, ...]
    at: datetime = field(compare=False)
