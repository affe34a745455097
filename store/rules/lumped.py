"""When the hours of two neighbouring phases cannot be told apart: nobody changed the clock.

Their sum is true, the split is not. Common practice, no source: at the boundary of two phases one
person in ten goes on working without a word to the clock.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

NEAR_NOTHING = 0.15
"""Labour below this share of the book, next to a phase that went over: the one swallowed it."""
BOTH_DONE = 0.5
"""Of the book of both; below it the hours are not in the neighbour's clock either."""
WELL_INSIDE_S = 900.0
"""A signature so far inside the neighbour's clock was not just a clock pressed a little late."""


@dataclass(frozen=True, slots=True)
class Stint:
    """A finished phase as far as its neighbours ask. Hours; instants in POSIX seconds.

    Attributes:
        clocks: start and end of each clock on it, by person.
        signed: who put a name under its hold points, and when.
    """

    seq: int
    technician: str
    book_h: float
    labour_h: float
    clocks: Mapping[str, Sequence[tuple[float, float]]]
    signed: Sequence[tuple[str, float]] = ()


def lumped(stints: Sequence[Stint]) -> dict[int, int]:
    """Tell which phases of one job cannot be told apart from a neighbour.

    Args:
        stints: the job's phases with labour, in the order of the route.

    Returns:
        `seq` of the neighbour by `seq`, both ways; the first neighbour found is kept.
    """
    found: dict[int, int] = {}
    for one, other in pairwise(stints):
        if one.technician == other.technician and (
            _swallowed(one, other)
            or _swallowed(other, one)
            or _signed_inside(one, other)
            or _signed_inside(other, one)
        ):
            found.setdefault(one.seq, other.seq)
            found.setdefault(other.seq, one.seq)
    return found


def _swallowed(small: Stint, large: Stint) -> bool:
    """One has next to no labour, its neighbour too much, and together they have enough."""
    return (
        small.labour_h < NEAR_NOTHING * small.book_h
        and large.labour_h > large.book_h
        and small.labour_h + large.labour_h > BOTH_DONE * (small.book_h + large.book_h)
    )


def _signed_inside(one: Stint, other: Stint) -> bool:
    """Somebody signed a hold point of one phase well inside their own clock on the other."""
    return any(
        since + WELL_INSIDE_S < at < until - WELL_INSIDE_S
        for person, at in one.signed
        if person == one.technician
        for since, until in other.clocks.get(person, ())
    )
