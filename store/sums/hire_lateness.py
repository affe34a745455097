"""How often a supplier comes late, by how much, and how often a kit comes incomplete or wrong.

What one supplier did is pooled with what is usual in the trade, as if that had been seen so many
times: chance = (a + seen) / (a + b + looked), the mean of a beta law after binomial counts. Days
late are geometric with a rate that is beta itself, so that what is next follows the beta-geometric
law:  P(J = j) = B(a + n, b + s - n + j - 1) / B(...)  with n late ones that were s days late in all.

Source: Gelman and others, Bayesian Data Analysis (3rd ed. 2013), chapters 2 and 3; Johnson, Kemp and
Kotz, Univariate Discrete Distributions (3rd ed. 2005), chapter 6. Prior: common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass


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


def late_chance(seen: Seen) -> float:
    """Chance that the next delivery is a working day late or more."""
    raise NotImplementedError


def faulty_chance(seen: Seen) -> float:
    """Chance that the next kit comes incomplete or of the wrong variant."""
    raise NotImplementedError


def mean_days_late(seen: Seen) -> float:
    """Working days by which a late one is late, on the average."""
    raise NotImplementedError


def arrivals(seen: Seen, lead_days: int) -> tuple[float, ...]:
    """Chances that a whole kit is here 0, 1, 2 ... working days after its day; they sum to 1.

    A kit that is found wanting on the day it comes is as good as one that comes `lead_days` later.
    """
    raise NotImplementedError
