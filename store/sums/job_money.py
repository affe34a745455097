"""Money of a job under way: used up so far, expected at the end, and what of a limit is left.

Money is in the shop's currency; hours are labour hours. Nothing here rounds but `cents`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


def cents(money: float) -> float:
    """Return money to the hundredth, halves away from zero as people count them."""
    sign = -1.0 if money < 0 else 1.0
    return sign * int(abs(money) * 100 + 0.5 + 1e-9) / 100


def labour_money(worked: Iterable[tuple[float, float | None]]) -> float:
    """Return what labour comes to: sum of hours x rate.

    Args:
        worked: hours and the rate of their day; a day without a rate costs nothing.
    """
    return sum(hours * rate for hours, rate in worked if rate is not None)


def beside_labour(lines: Iterable[tuple[float | None, float, float | None]]) -> float:
    """Return what extra work was agreed at beside its hours: sum of money - hours x rate.

    Below 0 where it was agreed for less than its hours cost.

    Args:
        lines: money that was agreed (None: none was said), hours, and the rate of the day on
            which it was asked.
    """
    return sum(money - hours * (rate or 0.0) for money, hours, rate in lines if money is not None)


@dataclass(frozen=True, slots=True)
class Used:
    """What was used up so far.

    Attributes:
        labour: worked, at the rate of its days.
        outwork: of other firms, back again, where it is known.
        parts: here or fitted, where their price is known.
        extra: what extra work was agreed at beside its hours; may be below 0.
    """

    labour: float = 0.0
    outwork: float = 0.0
    parts: float = 0.0
    extra: float = 0.0

    @property
    def total(self) -> float:
        """All of it."""
        return self.labour + self.outwork + self.parts + self.extra


@dataclass(frozen=True, slots=True)
class Reckoned:
    """Used so far, and what is still to come.

    Attributes:
        still: prices that are known of what is ordered or away.
        left_h: middle and cautious hours of labour to go.
        rate: money for an hour from now on; None where none was set.
    """

    used: Used
    still: float = 0.0
    left_h: tuple[float, float] = (0.0, 0.0)
    rate: float | None = None

    @property
    def expected(self) -> tuple[float, float] | None:
        """Middle and cautious money at the end: used + still to come + hours left x rate.

        None where an hour has no price.
        """
        if self.rate is None:
            return None
        known = self.used.total + self.still
        return known + self.left_h[0] * self.rate, known + self.left_h[1] * self.rate


def over(limit: float, expected: float, more: float = 0.0) -> float:
    """Return by how much a limit is passed, 0 where it is kept.

    Args:
        expected: money without what is to be added.
        more: what is to be added.
    """
    return max(0.0, cents(expected + more) - cents(limit))


def free_left(limit: float | None, used: Iterable[float]) -> float | None:
    """Return what is left of a sum up to which nobody need be asked; None where none was agreed.

    Args:
        used: money of what was approved under it.
    """
    return None if limit is None else max(0.0, cents(limit) - cents(sum(used)))
