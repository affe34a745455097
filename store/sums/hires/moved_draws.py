"""Joint draws of what is to come, at a later moment than they were made for.

What has not happened by then has not: of the draws only those stay in which all of it is still to
come, and each of them stands for more than itself. That is the law of what is left, given what is
known (Cox 1962, Renewal theory: residual life), whatever the draws have in common. Where hardly any
stays, a job is far later than the forecast had it; then what comes next takes an exponential more,
of the mean that the tail has, as in `store.sums.moving`, and everything after it is put off as far.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from store.sums.moving import FOUR_FOLD, NARROWEST

FEWEST = 1 / 20
"""Share of the draws that are enough to draw from again: beyond, quantiles know nothing either."""
GOLDEN = (math.sqrt(5) - 1) / 2
"""Multiples of it, whole parts off, fill the numbers from 0 to 1 evenly (Weyl 1916)."""


@dataclass(frozen=True, slots=True)
class Stands:
    """Which draw stands in one place, and the hours by which all that is to come is put off."""

    draw: int
    later: float = 0.0


def stands(next_h: Sequence[float], passed: float) -> tuple[Stands, ...]:
    """Return what stands for each draw once some hours have passed.

    Draws stay in their order: what is alike in draw k of several jobs stays nearly alike.

    Args:
        next_h: of each draw the hours, when it was made, until the first of what is known not to
            have happened; infinite where nothing of it is to happen.
        passed: hours since then, 0 or more.

    Returns:
        As many as there are draws; in each of them what is next is later than `passed`.

    Raises:
        ValueError: there is no draw, or less than no time passed.
    """
    many = len(next_h)
    if not many or not 0 <= passed < math.inf:
        raise ValueError(f"{many} draws after {passed} hours: one and 0 at least")
    stay = [k for k, hours in enumerate(next_h) if hours > passed]
    if len(stay) >= FEWEST * many:
        return tuple(Stands(stay[(2 * k + 1) * len(stay) // (2 * many)]) for k in range(many))
    more = _tail(sorted(next_h))
    return tuple(
        Stands(k, passed - more * math.log1p(-_level(k)) - hours) if hours < math.inf else Stands(k)
        for k, hours in enumerate(next_h)
    )


def _level(k: int) -> float:
    """Above 0, below 1, in no order that has to do with the draws'."""
    return (k + 0.5) * GOLDEN % 1.0


def _tail(rising: Sequence[float]) -> float:
    """Mean of the exponential past the last draws: between their .80 and their .95 level."""
    known = [one for one in rising if one < math.inf]
    low, high = known[int(0.80 * len(known))], known[int(0.95 * len(known))]
    return max((high - low) / FOUR_FOLD, NARROWEST * high)
