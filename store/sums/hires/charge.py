"""What a hire costs by its supplier's rules: days counted, rates mixed, carriage, lateness."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date, datetime
from functools import lru_cache

from store.sums.hires.days import SATURDAY, ShopDays
from store.sums.hires.terms import NOON, House, Rates, Terms

WEEK, MONTH = 7, 30
"""Days that a week's and a month's rate pay for. Common practice, no source."""
FRIDAY = 4
MONDAY_AHEAD = 3
"""Days from a Friday to the Monday next."""


@dataclass(frozen=True, slots=True)
class Mixture:
    """Rates that pay for some days: so many months, weeks and days (halves occur)."""

    months: int
    weeks: int
    days: float
    cost: float


@dataclass(frozen=True, slots=True)
class Charge:
    """What a hire comes to.

    Attributes:
        days: counted by the supplier's rules; halves occur.
        rates: that pay for them, or for the least number of days.
        carriage: both ways.
        late: fee for the days begun after the day agreed.
    """

    days: float
    rates: Mixture
    carriage: float
    late: float = 0.0

    @property
    def hire(self) -> float:
        """Money for the days."""
        return self.rates.cost

    @property
    def total(self) -> float:
        """Money for days, carriage and lateness."""
        return self.hire + self.carriage + self.late


def charge(
    terms: Terms, came: datetime, handed: date, days: ShopDays, *, due: date | None = None
) -> Charge:
    """What a hire comes to that came at an instant and goes back on a day.

    Args:
        handed: the day that the hand-over counts for: see `ShopDays.handed`.
        due: the day agreed; None: any day is in time.

    Raises:
        ValueError: handed over before it came.
    """
    local = came.astimezone(days.calendar.zone)
    counted = counted_days(terms.house, local.date(), handed, days, after_noon=local.time() >= NOON)
    rates = terms.rates
    late = 0.0 if due is None else late_fee(terms, due, handed)
    return Charge(
        counted, cheapest(rates, max(counted, rates.minimum_days)), 2 * rates.carriage, late
    )


def counted_days(
    house: House, came: date, handed: date, days: ShopDays, *, after_noon: bool = False
) -> float:
    """Days that are paid: from the day it came to the day of the hand-over, or of the arrival.

    Both ends count. Where they count by half, each Saturday and Sunday between is half a day; where
    a week-end is free, that is the one between a Friday after noon and the Monday next.

    Args:
        house: how the supplier counts.
        after_noon: whether it came after noon.

    Raises:
        ValueError: handed over before it came.
    """
    if handed < came:
        raise ValueError(f"handed over on {handed}, before it came on {came}")
    free = _free(house, came, handed) if after_noon else 0
    return _counted(house, came, last_paid(house, handed, days)) - free


def last_paid(house: House, handed: date, days: ShopDays) -> date:
    """The last day that is paid, by the day of the hand-over."""
    return days.after(handed, house.back_days) if house.counts == "arrival" else handed


def _counted(house: House, came: date, last: date) -> float:
    whole = (last - came).days + 1
    return whole - week_end_days(came, last) / 2 if house.weekend == "half" else whole


def _free(house: House, came: date, handed: date) -> int:
    monday_next = came.weekday() == FRIDAY and (handed - came).days == MONDAY_AHEAD
    return 2 if house.weekend == "free" and monday_next else 0


class Hiring:
    """Money for the days of many hires at one supplier's: what two of them share is summed once."""

    def __init__(self, terms: Terms, days: ShopDays) -> None:
        self._terms, self._days = terms, days
        self._last: dict[date, date] = {}
        self._cost: dict[float, float] = {}

    def money(self, came: date, handed: date, *, after_noon: bool = False) -> float:
        """What `charge` asks for the days, handed over on the day it came or later."""
        house = self._terms.house
        last = self._last.get(handed)
        if last is None:
            last = self._last[handed] = last_paid(house, handed, self._days)
        counted = _counted(house, came, last)
        if after_noon:
            counted -= _free(house, came, handed)
        cost = self._cost.get(counted)
        if cost is None:
            rates = self._terms.rates
            cost = self._cost[counted] = cheapest(rates, max(counted, rates.minimum_days)).cost
        return cost


def week_end_days(first: date, last: date) -> int:
    """Saturdays and Sundays from one day to another, both of them taken in."""
    weeks, rest = divmod((last - first).days + 1, WEEK)
    left = ((first.weekday() + n) % WEEK for n in range(rest))
    return 2 * weeks + sum(day >= SATURDAY for day in left)


def late_fee(terms: Terms, due: date, handed: date) -> float:
    """What lateness costs beside the days themselves: each day begun after the day agreed."""
    return max(0, (handed - due).days) * terms.house.late * terms.rates.day


@lru_cache(maxsize=4096)
def cheapest(rates: Rates, days: float) -> Mixture:
    """The cheapest mixture of month, week and day rates that covers some days.

    The least m M + w W + d D with 30 m + 7 w + d >= days. With m given, the cost is linear in w as
    long as 7 w stays within what is left, so that w is nothing, the most that fits, or one more.

    Args:
        days: 0 or more; halves are paid by half a day's rate.

    Raises:
        ValueError: `days` is below 0 or no number.
    """
    if not 0 <= days < math.inf:
        raise ValueError(f"days are 0 or more, not {days}")
    months = range(1 if rates.month is None else math.ceil(days / MONTH) + 1)
    ways = [
        _priced(rates, month, week, days)
        for month in months
        for week in _weeks(rates, max(0.0, days - MONTH * month))
    ]
    return min(ways, key=lambda way: (way.cost, way.months + way.weeks + way.days))


def _weeks(rates: Rates, days: float) -> set[int]:
    return {0} if rates.week is None else {0, int(days // WEEK), math.ceil(days / WEEK)}


def _priced(rates: Rates, months: int, weeks: int, days: float) -> Mixture:
    left = max(0.0, days - MONTH * months - WEEK * weeks)
    cost = months * (rates.month or 0.0) + weeks * (rates.week or 0.0) + left * rates.day
    return Mixture(months, weeks, left, cost)
