"""A lift's open time in an owner's month, each moment counted once. Epoch seconds."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from store.sums.spans import Stretch, common, merged, without


@dataclass(frozen=True, slots=True)
class Stood:
    """A job on a lift.

    Attributes:
        stays: when it stood there.
        worked: when somebody worked on it, here or at the bench.
        held: when it was held.
    """

    job: str
    stays: Sequence[Stretch]
    worked: Sequence[Stretch]
    held: Sequence[Stretch]


@dataclass(frozen=True, slots=True)
class LiftTime:
    """Open hours of a lift: worked + out + held + dead + empty = open.

    Attributes:
        worked: somebody worked on the vehicle that stood on it.
        out: out of service, and nobody worked.
        held: a vehicle on it that was held, nobody there.
        dead: a vehicle on it that nothing held, and nobody there.
    """

    open_h: float
    worked_h: float
    out_h: float
    held_h: float
    dead_h: float
    empty_h: float


def lift_time(open_: Sequence[Stretch], out: Sequence[Stretch], stood: Iterable[Stood]) -> LiftTime:
    """Return how a lift's open time was spent.

    Args:
        open_: merged; when the shop was open and had the lift.
        out: when it was out of service.
    """
    jobs = list(stood)
    worked = common(open_, merged(_each(jobs, "worked")))
    left = without(open_, worked)
    off = common(left, merged(out))
    left = without(left, off)
    held = common(left, merged(_each(jobs, "held")))
    left = without(left, held)
    dead = common(left, merged(stay for one in jobs for stay in one.stays))
    empty = without(left, dead)
    return LiftTime(*(_hours(one) for one in (open_, worked, off, held, dead, empty)))


def _each(jobs: Iterable[Stood], what: str) -> list[Stretch]:
    """What happened to each job while it stood there."""
    return [
        both
        for one in jobs
        for both in common(merged(one.stays), merged(one.worked if what == "worked" else one.held))
    ]


def _hours(stretches: Iterable[Stretch]) -> float:
    return sum(end - start for start, end in stretches) / 3600
