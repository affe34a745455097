"""What keeps a job: begun, ended, and when somebody notices that it can go on."""

from __future__ import annotations

from tests.bench.floors.clocks import stop
from tests.bench.floors.laws import arranged, until
from tests.bench.floors.open_time import HOUR
from tests.bench.floors.shop import REASONS, Reason, Step
from tests.bench.floors.world import READY, RELEASE, SEEN, Hold, Job, World

ORDER_FOLLOWS = 0.3
"""Chance that a yes of the customer's is followed by an order."""


def some_reason(world: World, step: Step) -> Reason:
    """Why something does not go on, by class of phase."""
    return world.rng.choices(REASONS, world.shop.reasons[step.phase_class])[0]


def hold(world: World, job: Job, idx: int, reason: Reason) -> None:
    """A phase is held; where the job has come to it, all clocks on it stop."""
    law = arranged(world.shop, world.rng, reason, world.now)
    end = until(world.shop, world.rng, law)
    said = law.due if world.rng.random() < world.shop.says[reason] else None
    _keep(world, job, Hold(world.serial, idx, reason, law, end), said)
    world.plan(end, RELEASE, job.number, job.holds[-1].name)


def lacks_somebody(world: World, job: Job) -> bool:
    """Whether nobody who can do its phase is in today or still to come."""
    skill = job.steps[job.idx].skill
    return skill > 0 and not any(
        person.coming and skill in worker.skills
        for person, worker in zip(world.people, world.shop.workers, strict=True)
    )


def wait_for_somebody(world: World, job: Job) -> None:
    """Held until somebody with the skill is in: no law but the roster's."""
    if not any(one.law is None for one in job.holds):
        said = _next_in(world, job.steps[job.idx].skill)
        _keep(world, job, Hold(world.serial, job.idx, "person", None, -1), said)


def released(world: World, number: int, name: int) -> None:
    """A hold ends by its law."""
    job = world.jobs[number]
    release(world, job, next(one for one in job.holds if one.name == name))


def release(world: World, job: Job, one: Hold) -> None:
    """A hold ends; a yes brings work, and now and then an order."""
    job.holds.remove(one)
    if world.log is not None:
        world.log.hold_ends(job.number, one.name, world.now)
    if one.reason == "approval" and one.idx == job.idx:
        job.extra += world.rng.uniform(0.2, 1.2) * HOUR
        if world.rng.random() < ORDER_FOLLOWS:
            hold(world, job, job.idx, "parts")
    if job.blocked:
        look_again(world, job)


def look_again(world: World, job: Job) -> None:
    """Whether it is still kept; if not, that has to be noticed first."""
    job.blocked = any(one.idx <= job.idx for one in job.holds)
    if not job.blocked and job.mode == READY:
        unnoticed(world, job)


def unnoticed(world: World, job: Job) -> None:
    """It can go on and nobody knows yet."""
    job.seen = False
    job.token += 1
    world.plan(world.in_hours(world.shop.notice_h), SEEN, job.number, job.token)


def _keep(world: World, job: Job, one: Hold, said: int | None) -> None:
    world.serial += 1
    job.holds.append(one)
    if one.idx <= job.idx:
        job.blocked = True
        for who in list(job.workers):
            stop(world, who)
    if world.log is not None:
        world.log.hold_begins(job.number, one, world.now, said)


def _next_in(world: World, skill: int) -> int | None:
    """When somebody with the skill is in again by the plan; None: ill, nobody knows."""
    shop = world.shop
    for day in range(world.day + 1, world.day + 40):
        for person, worker in zip(world.people, shop.workers, strict=True):
            if skill in worker.skills and not person.ill and (span := worker.span(shop.time, day)):
                return span[0]
    return None
