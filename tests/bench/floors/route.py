"""A job along its route: phases reached, finished, stood through, sent out."""

from __future__ import annotations

from tests.bench.floors import nature
from tests.bench.floors.clocks import stop, work_on
from tests.bench.floors.holds import (
    hold,
    lacks_somebody,
    some_reason,
    unnoticed,
    wait_for_somebody,
)
from tests.bench.floors.laws import Away, sent_out, until
from tests.bench.floors.laws import Standing as Cure
from tests.bench.floors.open_time import HOUR
from tests.bench.floors.world import OUTWORK, READY, RETURN, STANDING, Job, World

LATER = 0.15
"""Share of mishaps that keep a later phase and not the one they are met in."""


def worked(world: World, number: int, token: int) -> None:
    """A clock has come to the next thing in its phase."""
    job = world.jobs.get(number)
    if job is None or job.token != token:
        return
    job.done, job.since = job.goal, world.now
    if job.mishap:
        _mishap(world, job)
    elif not job.read and _out_of_limits(world, job):
        job.extra += world.rng.uniform(0.1, 0.6) * HOUR
        hold(world, job, job.idx, "reading")
    else:
        _finish(world, job)


def came_back(world: World, number: int, _token: int) -> None:
    """A cure is over, or the outwork is here."""
    job = world.jobs[number]
    if world.log is not None:
        world.log.away_ends(number, world.now)
    job.law = None
    if not _next(world, job) and job.mode == READY and not job.blocked:
        unnoticed(world, job)


def seen(world: World, number: int, token: int) -> None:
    """Somebody notices that a job can go on."""
    job = world.jobs.get(number)
    if job is not None and job.token == token:
        job.seen = True


def reach(world: World, job: Job) -> None:
    """The job has come to a phase: it stands, goes out, lacks something or can be begun."""
    step = job.steps[job.idx]
    job.base, job.done, job.extra, job.read, job.seen = -1.0, 0.0, 0.0, False, True
    job.mode = READY
    if world.log is not None:
        world.log.reached(job.number, job.idx, world.now)
    if step.kind != "labour":
        _leave_alone(world, job)
        return
    if nature.chance(world.shop, job, world.rng, step.before):
        hold(world, job, job.idx, some_reason(world, step))
    if lacks_somebody(world, job):
        wait_for_somebody(world, job)
    job.blocked = any(one.idx <= job.idx for one in job.holds)


def _mishap(world: World, job: Job) -> None:
    nature.met_mishap(world.shop, job)
    reason = some_reason(world, job.steps[job.idx])
    ahead = _labour_ahead(job)
    if ahead and world.rng.random() < LATER:
        hold(world, job, world.rng.choice(ahead[:3]), reason)
        work_on(world, job)
    else:
        hold(world, job, job.idx, reason)


def _out_of_limits(world: World, job: Job) -> bool:
    job.read = True
    return nature.chance(world.shop, job, world.rng, job.steps[job.idx].reading)


def _finish(world: World, job: Job) -> None:
    step = job.steps[job.idx]
    for who in list(job.workers):
        stop(world, who)
    nature.phase_done(world.shop, job, step)
    if world.log is not None:
        world.log.finished(job.number, job.idx, world.now)
    ahead = _labour_ahead(job)
    if ahead and nature.chance(world.shop, job, world.rng, step.orders):
        hold(world, job, world.rng.choice(ahead[:4]), "parts")
    _next(world, job)


def _next(world: World, job: Job) -> bool:
    """On to the next phase; True where there is none and the job is done."""
    job.idx += 1
    if job.idx < len(job.steps):
        reach(world, job)
        return False
    del world.jobs[job.number]
    return True


def _leave_alone(world: World, job: Job) -> None:
    step = job.steps[job.idx]
    law: Away | Cure
    if step.kind == "standing":
        job.mode, law = STANDING, Cure(world.now, step.stands_h)
    else:
        job.mode, law = OUTWORK, sent_out(world.shop, world.rng, world.now)
    job.law = law
    job.end = until(world.shop, world.rng, law)
    if world.log is not None:
        world.log.away_begins(job.number, job.idx, law, world.now)
    world.plan(job.end, RETURN, job.number)


def _labour_ahead(job: Job) -> list[int]:
    """Indices of the labour phases after this one."""
    return [i for i in range(job.idx + 1, len(job.steps)) if job.steps[i].kind == "labour"]
