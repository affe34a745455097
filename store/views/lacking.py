"""What a job lacks before it can come in, and which of them a free lift can take."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

from store.rules.lift_fit import carries
from store.rules.readiness import Lack, LackKind, Ready
from store.views.values import Job, Lane

HELD: dict[str, tuple[LackKind, str]] = {
    "parts": ("parts", "parts"), "approval": ("agreed", "customer's word"),
    "person": ("person", "a person"), "tool": ("kit", "tool or kit"),
    "reading": ("held", "a reading"), "place": ("held", "a place"), "other": ("held", "held"),
}  # fmt: skip
"""Reasons of a hold as something that lacks; said more exactly where more is known."""
WORD = Lack("agreed", "customer's word")


class LiftNow(NamedTuple):
    """A lift as far as readiness asks: in service and allowed, rated for so many kg, free."""

    raises: bool
    rated_kg: float
    free: bool


def lifts_now(lanes: Iterable[Lane]) -> tuple[LiftNow, ...]:
    """Return the lifts of a floor as far as readiness asks."""
    return tuple(LiftNow(one.raises, one.rated_kg, one.job is None) for one in lanes)


def with_lacks(
    jobs: Sequence[Job], lanes: Sequence[Lane], known: Mapping[str, Sequence[Lack]] | None = None
) -> tuple[Job, ...]:
    """Return jobs that have not come in with what each lacks.

    Args:
        lanes: the lifts, with `Lane.raises` as they are today.
        known: what of checks, parts, kits and people lacks, by number of the job.
    """
    lifts = lifts_now(lanes)
    found = ((job, ready_of(job, lifts, (known or {}).get(job.number, ()))) for job in jobs)
    return tuple(replace(job, ready=ready, lacks=ready.words) for job, ready in found)


def ready_of(job: Job, lifts: Sequence[LiftNow], known: Sequence[Lack] = ()) -> Ready:
    """Return a job's sign: what holds it, what lacks, a lift last."""
    kinds = {one.kind for one in known}
    found: list[Lack] = []
    if job.held:
        kind, words = HELD.get(job.held, ("held", job.held))
        found += [Lack(kind, words)] if kind not in kinds else []
    if job.asked and not {"agreed"} & {*kinds, *(one.kind for one in found)}:
        found.append(WORD)
    lift = _lift_lacks(job, lifts)
    return Ready((*found, *known, *([Lack("lift", lift)] if lift else [])))


def lacks(job: Job, lanes: Sequence[Lane]) -> tuple[str, ...]:
    """Return what is known to lack, in words; a lift last."""
    return ready_of(job, lifts_now(lanes)).words


def _lift_lacks(job: Job, lifts: Sequence[LiftNow]) -> str | None:
    """What kind of lift it waits for; None where one is free for it."""
    fitting = [one for one in lifts if one.raises and carries(one.rated_kg, job.mass_kg)]
    if any(one.free for one in fitting):
        return None
    tons = "" if job.mass_kg is None else f" for {job.mass_kg / 1000:.1f} t"
    if not fitting:
        return f"no lift here{tons}"
    weak = any(one.raises and not carries(one.rated_kg, job.mass_kg) for one in lifts)
    return f"a lift{tons}" if weak else "a lift"


def with_takes(lanes: Sequence[Lane], waiting: Sequence[Job]) -> tuple[Lane, ...]:
    """Return the lifts, the free ones with the waiting jobs that they can take."""
    return tuple(_takes(lane, waiting) for lane in lanes)


def _takes(lane: Lane, waiting: Sequence[Job]) -> Lane:
    if lane.job is not None or not lane.raises:
        return lane
    light = [job for job in waiting if carries(lane.rated_kg, job.mass_kg)]
    heavy = [job for job in waiting if not carries(lane.rated_kg, job.mass_kg)]
    return replace(
        lane, takes=tuple(job.number for job in light if not job.lacks),
        too_heavy=tuple(job.number for job in heavy),
    )  # fmt: skip
