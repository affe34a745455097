"""When to have a hired kit here, and until when, at the least expected cost.

In draw k the kit comes on the morning of day A, the delivery day or so many working days later. A
job that starts at s before that waits, and its end e moves by as many open hours:

    wait      w = max(0, open hours from s to the opening on A)
    end       e' = e + w, in open hours
    handed    H = first working day with e' before its cut-off, of the last job; not before A
    cost      charge(A .. max(R, H)) + carriage both ways
              + late day rate max(0, H - max(R, A))                   calendar days begun
              + c sum(w) / h                                          of jobs on a lift

R the return day agreed, c what a waiting lift costs a shop day, h the open hours of a shop day. The
kit is handed over on the return day, or when the last job has done with it, if that is later: until
the day agreed it is booked out and paid. Because the days charged couple both ends, every pair of
delivery and return day is priced; the newsvendor's quantile is what is left where the delivery is
fixed, each day costs the same and no minimum bites (Arrow, Harris and Marschak, Econometrica 19
(1951)).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime

from store.sums.hire_days import ShopDays
from store.sums.hire_needs import Need
from store.sums.hire_terms import Terms

ON_TIME = (1.0,)
"""Chances that a kit comes 0, 1, 2 ... working days late: see `hire_lateness.arrivals`."""
LIFT_DAY = 150.0
"""What a waiting lift costs a shop day, in hours not sold. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Cost:
    """Expected money: `waiting` of lifts that wait for the kit."""

    hire: float
    carriage: float
    late: float
    waiting: float

    @property
    def total(self) -> float:
        """All four."""
        return self.hire + self.carriage + self.late + self.waiting


@dataclass(frozen=True, slots=True)
class Pair:
    """A delivery day and a return day, and what they are expected to cost.

    Attributes:
        needed: chance that the kit is still needed after the cut-off of the return day.
    """

    delivery: date
    back: date
    needed: float
    cost: Cost


@dataclass(frozen=True, slots=True)
class Window:
    """What each pair of days costs, as far as a person checks it.

    Attributes:
        best: the pair with the least expected cost; of equal ones the later delivery, then the
            earlier return.
        by_back: with the best delivery day: every return day, rising.
        by_delivery: with the best return day: every delivery day, rising.
    """

    best: Pair
    by_back: tuple[Pair, ...]
    by_delivery: tuple[Pair, ...]

    @property
    def day_more(self) -> float | None:
        """What going back one working day later costs more; None: it is the last one."""
        return self._aside(1)

    @property
    def day_less(self) -> float | None:
        """What going back one working day earlier costs more; None: it is the first one."""
        return self._aside(-1)

    def _aside(self, days: int) -> float | None:
        at = self.by_back.index(self.best) + days
        if not 0 <= at < len(self.by_back):
            return None
        return self.by_back[at].cost.total - self.best.cost.total


@dataclass(frozen=True, slots=True)
class Asked:
    """What all windows of one shop and one supplier share.

    Attributes:
        days: the shop's days; terms: of the supplier for this kit.
        arrivals: chances that the kit comes 0, 1, 2 ... working days after its day; sum 1.
        lift_day: what a waiting lift costs a shop day.
    """

    days: ShopDays
    terms: Terms
    arrivals: Sequence[float] = ON_TIME
    lift_day: float = LIFT_DAY


def best_window(asked: Asked, needs: Sequence[Need], first: date) -> Window:
    """Price every pair of a delivery day and a return day for a kit that is not here yet.

    Args:
        needs: stretches that one hire is to serve, of one job or of several, draws alike.
        first: the first day on which it can come; a supplier's lead time from now.

    Raises:
        ValueError: no need, or draws that differ in number.
        NeverOpens: the shop has no working day.
    """
    raise NotImplementedError


def by_return_day(
    asked: Asked, needs: Sequence[Need], came: datetime, now: datetime, due: date | None = None
) -> Window:
    """Price every return day from now on for a kit that is here, or is to come at an instant.

    Args:
        needs: stretches still ahead or running; none: nobody needs it any more.
        came: when it came, or is to come.
        now: nothing is handed over before.
        due: the day agreed; days begun after it until now cost the fee whatever is done. A later
            return day is taken as agreed with the supplier: it costs its days and no fee.

    Returns:
        One delivery day; `hire` is of the whole hire, what is spent already taken in.

    Raises:
        ValueError: draws that differ in number.
    """
    raise NotImplementedError
