"""Clocks on phases: what they do to its content, and when the next thing happens."""

from __future__ import annotations

import math

from tests.bench.floors import nature
from tests.bench.floors.world import CALL, WORK, Job, World

TOGETHER = 0.9
"""What each of two on one phase gives of their own rate."""


def start(world: World, who: int, job: Job) -> None:
    """Somebody's clock starts on a job; its phase begins if it had not."""
    settle(world, job)
    if job.base < 0:
        _begin(world, job)
    person = world.people[who]
    person.job, person.since = job.number, world.now
    person.token += 1
    world.plan(world.in_hours(1 / world.shop.small.calls_per_h), CALL, who, person.token)
    job.workers.append(who)
    work_on(world, job)


def stop(world: World, who: int) -> None:
    """Their clock stops; the job goes on with whoever else is on it."""
    person = world.people[who]
    job = world.jobs[person.job]
    settle(world, job)
    job.workers.remove(who)
    if world.log is not None and world.now > person.since:
        world.log.clock(job.number, job.idx, who, person.since, world.now)
    person.last, person.job = job.number, 0
    person.token += 1
    work_on(world, job)


def settle(world: World, job: Job) -> None:
    """Count what was done since the last look."""
    if job.workers:
        job.done = min(job.goal, job.done + (world.now - job.since) * job.rate)
    job.since = world.now


def work_on(world: World, job: Job) -> None:
    """Plan the next thing in the phase: a mishap, which has no memory, or its end."""
    job.token += 1
    if not job.workers:
        return
    step, workers = job.steps[job.idx], world.shop.workers
    rates = [workers[who].rate[step.phase_class] for who in job.workers]
    job.rate = sum(rates) * (TOGETHER if len(rates) > 1 else 1.0)
    job.goal, job.mishap = job.base + job.extra, False
    if step.inside > 0:
        rate = step.inside * nature.trouble(world.shop, job)
        reached = job.done + world.rng.expovariate(rate)
        if reached < job.base:
            job.goal, job.mishap = reached, True
    lasts = max(1, math.ceil((job.goal - job.done) / job.rate))
    world.plan(world.now + lasts, WORK, job.number, job.token)


def _begin(world: World, job: Job) -> None:
    job.base = nature.content(world.shop, job, job.steps[job.idx], world.rng)
    job.done = 0.0
    if world.log is not None:
        world.begun.append((job.number, job.idx))
