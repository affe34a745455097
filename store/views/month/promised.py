"""Promises of a month's jobs, and what changed their agreed hours, each with the way down."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime

from store.sums.month.jobs import Cause, Clocked, JobJudged, PhaseJudged
from store.sums.ranged import of_count
from store.views.month.said import promises_say
from store.views.month.values import ChangesAgreed, PromisesKept
from store.views.month.way import Way


def promises_of(jobs: Sequence[JobJudged]) -> PromisesKept:
    """Return whether work was finished by what its customer had been told."""
    told = [(one, one.ready_at, one.promised) for one in jobs]
    last = [(job, ready, at) for job, ready, at in told if ready is not None and at is not None]
    held = [ready <= at for _, ready, at in last]
    first = [
        one.ready_at <= one.first_promised
        for one in jobs
        if one.ready_at is not None and one.first_promised is not None
    ]
    chances = [
        (kept, job.chance) for kept, (job, _, _) in zip(held, last, strict=True) if job.chance
    ]
    kept, by_first = of_count(sum(held), len(held)), of_count(sum(first), len(first))
    likely = of_count(sum(one for one, _ in chances), len(chances))
    due = sum(chance for _, chance in chances) / len(chances) if chances else None
    late = [_late(job, ready, at) for job, ready, at in last if ready > at]
    return PromisesKept(
        kept, by_first, likely, due,
        tuple(sorted(late, key=lambda way: (-(way.value or 0.0), way.job or ""))),
        promises_say(kept, by_first, likely, due),
    )  # fmt: skip


def _late(job: JobJudged, ready: datetime, promised: datetime) -> Way:
    """`value`: hours by the clock on the wall, nights included."""
    return Way(job.work, (ready - promised).total_seconds() / 3600, job=job.job, at=promised)


def changes_of(jobs: Sequence[JobJudged]) -> ChangesAgreed:
    """Return what changed the hours agreed after they were frozen, by cause."""
    return ChangesAgreed(
        sum(one.extra_h for one in jobs), sum(one.route_h for one in jobs),
        sum(one.other_h for one in jobs), _changes(jobs, ("supplement",)),
        _changes(jobs, ("route",)), _changes(jobs, ("other", "agreed")),
    )  # fmt: skip


def _changes(jobs: Sequence[JobJudged], causes: Sequence[Cause]) -> tuple[Way, ...]:
    return tuple(
        Way(change.says, change.added_h, job=job.job, at=change.at, events=(change.seq,))
        for job in jobs
        for change in job.changes[1:]
        if change.cause in causes
    )


def ways_of(jobs: Sequence[JobJudged], closing: Mapping[str, int]) -> tuple[Way, ...]:
    """Return the way down from a month's labour: jobs, their phases, their clocks.

    Args:
        closing: the entry that closed each job.
    """
    return tuple(
        Way(
            job.work, job.labour_h, job=job.job, badge=job.lead, at=job.closed_at,
            events=(closing[job.job],) if job.job in closing else (),
            ways=tuple(_phase(one) for one in job.phases if one.clocks),
        )
        for job in jobs
    )  # fmt: skip


def _phase(one: PhaseJudged) -> Way:
    return Way(
        one.name, one.labour_h, job=one.job, phase=one.phase, badge=one.badge, at=one.finished_at,
        ways=tuple(_clock(one, clock) for clock in one.clocks),
    )  # fmt: skip


def _clock(phase: PhaseJudged, clock: Clocked) -> Way:
    """A learner's clock is told and adds nothing."""
    learner = clock.part == "learner"
    return Way(
        f"{clock.badge} as {clock.part}", 0.0 if learner else clock.hours, job=phase.job,
        phase=phase.phase, badge=clock.badge, at=clock.since, events=(clock.seq,),
    )  # fmt: skip
