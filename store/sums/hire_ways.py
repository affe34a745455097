"""One long hire or two short ones; a running hire: extend, hire again, let another use it first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Literal

from store.sums.hire_needs import Need
from store.sums.hire_window import Asked, Cost, Window

Way = Literal["extend", "return and hire again", "use first"]


@dataclass(frozen=True, slots=True)
class LongOrShort:
    """Two stretches of need: one hire over both, or one for each."""

    long: Window
    short: tuple[Window, Window]

    @property
    def short_total(self) -> float:
        """Expected money of both short ones."""
        return sum(each.best.cost.total for each in self.short)

    @property
    def saved(self) -> float:
        """What two short ones save against the long one; below 0 they cost more."""
        return self.long.best.cost.total - self.short_total


@dataclass(frozen=True, slots=True)
class Option:
    """One way to go on with a hire that runs.

    Attributes:
        cost: expected money of all hires and waits that it leads to, from the delivery on, the
            other job's own hire taken in where the way leaves it to hire for itself.
        back: the day to hand it over.
        again: the next delivery day, where it is hired again.
        shift_h: open hours by which the job's need moves on the average.
    """

    way: Way
    cost: Cost
    back: date
    again: date | None = None
    shift_h: float = 0.0


def long_or_short(asked: Asked, first: Need, second: Need, ready: date) -> LongOrShort:
    """Weigh one hire over two stretches of a job, or of two, against one for each.

    Args:
        first, second: in the order of their use; where the first waits for its kit and is of the
            same job, the second moves by as much.
        ready: the first day on which a kit can come.

    Raises:
        ValueError: draws that differ in number.
    """
    raise NotImplementedError


def going_on(
    asked: Asked,
    needs: Sequence[Need],
    came: datetime,
    now: datetime,
    *,
    due: date | None = None,
    other: Need | None = None,
) -> tuple[Option, ...]:
    """Ways to go on with a hire that is here, the cheapest first.

    A kit that is fixed on an open unit can only be extended.

    Args:
        needs: stretches of the job that has it, still ahead or running.
        came, due: as `by_return_day` takes them.
        other: a stretch of another job that could use it first.

    Raises:
        ValueError: no need, or draws that differ in number.
    """
    raise NotImplementedError
