"""Two jobs and one kit, in open hours: how likely they clash, and what each way out costs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from store.sums.hire_days import ShopDays
from store.sums.hire_needs import Need

Out = Literal["wait", "swap order", "second kit"]


@dataclass(frozen=True, slots=True)
class Ends:
    """When a job is finished, in the draws of its need, and what was promised.

    Attributes:
        finish: (draws,) epoch seconds.
        promise: epoch seconds; None: nothing was promised.
    """

    finish: Sequence[float]
    promise: float | None = None


@dataclass(frozen=True, slots=True)
class Overlap:
    """Where two needs lie over each other.

    Attributes:
        chance: that both want the kit at one time.
        hours: open hours for which they do, on the average over all draws.
        since, until: epoch seconds, medians of the draws in which they do; None: in none.
    """

    chance: float
    hours: float
    since: float | None = None
    until: float | None = None


@dataclass(frozen=True, slots=True)
class WayOut:
    """One way out of a clash.

    Attributes:
        waits: number of the job that waits; None: nobody does.
        shift_h: open hours by which its finish moves on the average.
        cost: expected money: its lift that waits, or the second kit.
        kept: chance that the promise is kept, of the first and of the second job; None where
            nothing was promised.
    """

    out: Out
    waits: str | None
    shift_h: float
    cost: float
    kept: tuple[float | None, float | None]


def overlap(days: ShopDays, first: Need, second: Need) -> Overlap:
    """How likely two needs lie over each other, and for how long.

    Raises:
        ValueError: draws that differ in number.
    """
    raise NotImplementedError


def ways_out(
    days: ShopDays,
    needs: tuple[Need, Need],
    ends: tuple[Ends, Ends],
    *,
    lift_day: float,
    second_kit: float | None = None,
) -> tuple[WayOut, ...]:
    """Ways out, the cheapest first.

    Args:
        needs: of the job that has the kit or is to have it first, and of the other.
        second_kit: expected cost of a kit for the second alone (`hire_window.best_window`); None:
            nobody hires it out.

    Returns:
        No swapped order where the first has begun.
    """
    raise NotImplementedError
