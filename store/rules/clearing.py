"""What it takes to clear a lift of what stands on it, and in a word whether it pays.

Hours and people are common practice, no source; the maker's manuals of vehicle and lift, local
codes and a qualified person decide how a vehicle is lowered and moved.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

Standing = Literal["drives", "rolls", "fixed"]
Verdict = Literal["pays", "may pay", "does not pay", "nobody is ready", "no place", "stays"]
EVEN = 0.5
"""A hold that outlasts the break-even less often pays only by its rare long cases."""


@dataclass(frozen=True, slots=True)
class Cost:
    """What one way off the lift, or back onto it, takes: open hours, and so many people."""

    low_h: float
    high_h: float
    people: int

    @property
    def middle_h(self) -> float:
        """Half-way: what is reckoned with."""
        return (self.low_h + self.high_h) / 2


COSTS: Mapping[Standing, Cost] = {
    "drives": Cost(0.0, 0.0, 1), "rolls": Cost(0.4, 0.8, 2), "fixed": Cost(1.5, 4.0, 2),
}  # fmt: skip
"""A vehicle that sits fixed is closed far enough that it rolls, and opened again. Common practice,
no source; two people are taken for a fixed one as for one that rolls."""


def verdict(
    *, leaves: bool, place: bool, comes: bool, value_h: float, longer: float
) -> Verdict:  # fmt: skip
    """Return in a word what clearing comes to.

    Args:
        leaves: the vehicle can leave; place: there is one for it; comes: a ready job needs the
            lift.
        value_h: hours of labour gained on the average.
        longer: the chance that the hold outlasts the break-even.
    """
    if not leaves:
        return "stays"
    if not place:
        return "no place"
    if not comes:
        return "nobody is ready"
    if value_h <= 0:
        return "does not pay"
    return "pays" if longer >= EVEN else "may pay"
