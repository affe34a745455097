"""How often a supplier comes late, by how much, and how often a kit comes incomplete or wrong.

What one supplier did is pooled with what is usual in the trade, as if that had been seen so many
times: with a prior beta law (a, b) the chance after n of N is (a + n) / (a + b + N). Days late are
geometric with a rate that is beta (a, b) itself; after n late ones, s days late together, a = 5 + n
and b = 2 + s - n, and the next one is late by j days with the chance

    P(1) = a / (a + b),  P(j + 1) = P(j) (b + j - 1) / (a + b + j),  mean (a + b - 1) / (a - 1)

Source: Gelman and others, Bayesian Data Analysis (3rd ed. 2013), chapter 2; the beta-geometric law:
Johnson, Kemp and Kotz, Univariate Discrete Distributions (3rd ed. 2005), chapter 6. What is usual:
common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass

LATE = (1.0, 7.0)
"""One in eight, worth eight deliveries."""
FAULTY = (1.0, 24.0)
"""One in twenty-five, worth twenty-five."""
RATE = (5.0, 2.0)
"""A late one is a day and a half late on the average, worth a handful of late ones."""
LATEST = 10
"""Working days; whoever is later still is taken as this late."""


@dataclass(frozen=True, slots=True)
class Seen:
    """What one supplier did, over all kits.

    Attributes:
        deliveries: that came, or are overdue to come.
        late: of them, a working day late or more.
        days_late: working days late, of all late ones together.
        checked: looked through on receipt.
        faulty: of them, incomplete or of the wrong variant.

    Raises:
        ValueError: a count is below 0, or more than it is a part of.
    """

    deliveries: int = 0
    late: int = 0
    days_late: int = 0
    checked: int = 0
    faulty: int = 0

    def __post_init__(self) -> None:
        parts = 0 <= self.late <= self.deliveries and 0 <= self.faulty <= self.checked
        if not parts or self.days_late < self.late or (self.late == 0 and self.days_late):
            raise ValueError(f"these counts do not fit each other: {self}")


def late_chance(seen: Seen) -> float:
    """Chance that the next delivery is a working day late or more."""
    return (LATE[0] + seen.late) / (sum(LATE) + seen.deliveries)


def faulty_chance(seen: Seen) -> float:
    """Chance that the next kit comes incomplete or of the wrong variant."""
    return (FAULTY[0] + seen.faulty) / (sum(FAULTY) + seen.checked)


def mean_days_late(seen: Seen) -> float:
    """Working days by which a late one is late, on the average."""
    a, b = _rate(seen)
    return (a + b - 1) / (a - 1)


def days_late(seen: Seen) -> tuple[float, ...]:
    """Chances that a late one is 1, 2 ... `LATEST` working days late or more; they sum to 1."""
    a, b = _rate(seen)
    found = [a / (a + b)]
    for j in range(1, LATEST - 1):
        found.append(found[-1] * (b + j - 1) / (a + b + j))
    return (*found, max(0.0, 1 - sum(found)))


def arrivals(seen: Seen, lead_days: int) -> tuple[float, ...]:
    """Chances that a whole kit is here 0, 1, 2 ... working days after its day; they sum to 1.

    A kit that is found wanting on the day it comes is as good as one that comes `lead_days` later:
    another one is asked for at once, and the days until then are not charged.
    """
    late, faulty = late_chance(seen), faulty_chance(seen)
    comes = (1 - late, *(late * chance for chance in days_late(seen)))
    nothing = (0.0,) * lead_days
    whole, again = (*comes, *nothing), (*nothing, *comes)
    return tuple(
        (1 - faulty) * one + faulty * other for one, other in zip(whole, again, strict=True)
    )


def _rate(seen: Seen) -> tuple[float, float]:
    return RATE[0] + seen.late, RATE[1] + seen.days_late - seen.late
