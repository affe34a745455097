"""What a waiting job lacks before it can come in, and which of them a free lift can take."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from store.rules.lift_fit import carries
from store.views.values import Job, Lane

HELD_WORDS = {
    "approval": "customer's word", "person": "a person", "tool": "tool or kit",
    "reading": "a reading", "place": "a place", "other": "held",
}  # fmt: skip
"""Reasons of a hold as something that lacks; `parts` is one already."""
CUSTOMER = "customer's word"


def with_lacks(jobs: Sequence[Job], lanes: Sequence[Lane]) -> tuple[Job, ...]:
    """Return waiting jobs with what each lacks.

    Args:
        lanes: the lifts, with `Lane.raises` as they are today.
    """
    return tuple(replace(job, lacks=lacks(job, lanes)) for job in jobs)


def lacks(job: Job, lanes: Sequence[Lane]) -> tuple[str, ...]:
    """Return what is known to lack, in words; a lift last."""
    found = [HELD_WORDS.get(job.held, job.held)] if job.held else []
    if job.asked and CUSTOMER not in found:
        found.append(CUSTOMER)
    lift = _lift_lacks(job, lanes)
    return (*found, lift) if lift else tuple(found)


def _lift_lacks(job: Job, lanes: Sequence[Lane]) -> str | None:
    """What kind of lift it waits for; None where one is free for it."""
    fitting = [lane for lane in lanes if lane.raises and carries(lane.rated_kg, job.mass_kg)]
    if any(lane.job is None for lane in fitting):
        return None
    tons = "" if job.mass_kg is None else f" for {job.mass_kg / 1000:.1f} t"
    if not fitting:
        return f"no lift here{tons}"
    weak = any(lane.raises and not carries(lane.rated_kg, job.mass_kg) for lane in lanes)
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
