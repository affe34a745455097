"""What a supplier asks for a kit: money in the shop's currency, days of the calendar."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import time
from typing import Literal

Counts = Literal["hand-over", "arrival"]
Weekend = Literal["counted", "half", "free"]

NOON = time(12)
"""A kit received on a Friday after noon and sent on Monday has a free week-end, where the supplier
has such a rule. Common practice, no source."""


def _positive(**figures: float) -> None:
    for name, value in figures.items():
        if not 0 <= value < math.inf:
            raise ValueError(f"{name} is 0 or more, not {value}")


@dataclass(frozen=True, slots=True)
class House:
    """How a supplier counts, whatever the kit.

    Attributes:
        cut_off: local time; what is handed to the carrier later goes the next working day.
        counts: the last day that is paid: of the hand-over to the carrier, or of the arrival.
        weekend: days of a week-end: counted, half, or free where the kit was received on Friday
            after noon and is sent on Monday.
        late: each day begun after the day agreed costs this times the day rate besides.
        lead_days: working days from asking to delivery.
        back_days: working days from the carrier to the supplier.
        cleaning: charged for a kit that comes back dirty.

    Raises:
        ValueError: a figure is negative or no number.
    """

    cut_off: time = time(15, 30)
    counts: Counts = "hand-over"
    weekend: Weekend = "counted"
    late: float = 1.5
    lead_days: int = 2
    back_days: int = 1
    cleaning: float = 40.0

    def __post_init__(self) -> None:
        _positive(late=self.late, lead_days=self.lead_days, back_days=self.back_days,
                  cleaning=self.cleaning)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Rates:
    """What one kit costs at one supplier's.

    Attributes:
        day: for a day.
        week, month: for seven and thirty days; None where there is no such rate.
        minimum_days: paid at least.
        carriage: each way.
        deposit: returned after the supplier's check.

    Raises:
        ValueError: a figure is negative or no number, or no day is paid at least.
    """

    day: float
    week: float | None = None
    month: float | None = None
    minimum_days: int = 1
    carriage: float = 0.0
    deposit: float = 0.0

    def __post_init__(self) -> None:
        _positive(day=self.day, week=self.week or 0.0, month=self.month or 0.0,
                  carriage=self.carriage, deposit=self.deposit)  # fmt: skip
        if self.minimum_days < 1:
            raise ValueError(f"at least one day is paid, not {self.minimum_days}")


@dataclass(frozen=True, slots=True)
class Terms:
    """What a supplier asks for one kit, and how the days are counted."""

    rates: Rates
    house: House = House()
