"""Who works at Marsh Lane Works, since when, and how well. Names and people are invented."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

PIN = "2468"
"""Of everybody in the demo shop."""


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody of the workshop.

    Attributes:
        pace: true hours against an average skilled person, gearbox work and engine work.
        known: how often an operation was done before the past begins.
        gearboxes_only: leads no work on engines.
        school: weekday (ISO) at school.
    """

    badge: str
    name: str
    role: Literal["technician", "foreman", "owner"]
    experience: Literal["apprentice 1", "apprentice 2", "skilled", "expert"]
    from_day: date
    until_day: date | None = None
    pace: tuple[float, float] = (1.0, 1.0)
    known: int = 8
    gearboxes_only: bool = False
    school: int | None = None

    @property
    def apprentice(self) -> bool:
        """Learns the trade and signs nothing alone."""
        return self.experience.startswith("apprentice")

    @property
    def at_the_vehicles(self) -> bool:
        """Clocks on jobs all day."""
        return self.role == "technician"


OWNER = Person("A01", "Marit", "owner", "skilled", date(2014, 3, 1))
FOREMAN = Person("A02", "Joost", "foreman", "expert", date(2016, 9, 1), pace=(0.95, 0.95))
INES = Person("B12", "Ines", "technician", "expert", date(2018, 1, 8), pace=(0.97, 0.90), known=14)
KAREL = Person(
    "B17", "Karel", "technician", "expert", date(2019, 5, 6), pace=(0.88, 1.15), known=12,
    gearboxes_only=True,
)  # fmt: skip
RUBEN = Person(
    "B14", "Ruben", "technician", "skilled", date(2021, 2, 1), date(2025, 12, 31),
    pace=(1.04, 1.06), known=6,
)  # fmt: skip
TOMAS = Person(
    "B21", "Tomas", "technician", "skilled", date(2026, 2, 2), pace=(1.10, 1.04), known=0
)
NOOR = Person(
    "B23", "Noor", "technician", "apprentice 1", date(2025, 9, 1), pace=(1.35, 1.35), known=0,
    school=4,
)  # fmt: skip
EVERYBODY = (OWNER, FOREMAN, INES, KAREL, RUBEN, TOMAS, NOOR)

SECOND_YEAR = date(2026, 9, 1)
"""When Noor's second year begins."""
TERMS = ((date(2025, 9, 1), date(2026, 7, 3)), (date(2026, 8, 31), date(2027, 7, 2)))
"""First and last day of the school years."""

QUALIFIED = (
    (FOREMAN, "high voltage", date(2028, 4, 30)),
    (INES, "high voltage", date(2027, 3, 31)),
    (INES, "refrigerant", date(2029, 6, 30)),
    (KAREL, "refrigerant", date(2026, 11, 30)),
    (FOREMAN, "refrigerant", date(2028, 9, 30)),
)
"""Qualifications with their last day."""


def away_on(person: Person, day: date) -> bool:
    """Tell whether an apprentice is at school."""
    return person.school == day.isoweekday() and any(a <= day <= b for a, b in TERMS)
