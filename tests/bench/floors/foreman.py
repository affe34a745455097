"""Who does what next: one rule a kind of shop, so that no two kinds work alike."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal

from tests.bench.floors.clocks import start
from tests.bench.floors.people import small_job
from tests.bench.floors.route import reach
from tests.bench.floors.shop import RuleName
from tests.bench.floors.world import READY, Job, World

Choice = Job | Literal["new"] | None
Rule = Callable[[World, int, list[Job]], Choice]


def hand_out(world: World) -> None:
    """Everybody who is free and in gets something to do, if there is something for them."""
    now = world.now
    free = [
        who
        for who, one in enumerate(world.people)
        if one.present and not one.job and not one.away and one.out > now
    ]
    if not free:
        return
    workable = [job for job in world.jobs.values() if _has_room_for_one(job)]
    if workable or world.small or _room(world):
        for who in free:
            _serve(world, who, workable)


def can_go_on(world: World, who: int, job: Job) -> bool:
    """Whether they could start on it now."""
    return _has_room_for_one(job) and _has_skill(world, who, job)


def _has_room_for_one(job: Job) -> bool:
    return (
        not job.blocked
        and job.seen
        and job.mode == READY
        and len(job.workers) < job.steps[job.idx].crew
    )


def _has_skill(world: World, who: int, job: Job) -> bool:
    skill = job.steps[job.idx].skill
    return not skill or skill in world.shop.workers[who].skills


def _serve(world: World, who: int, workable: list[Job]) -> None:
    if world.small and world.rng.random() < world.shop.small_first:
        small_job(world, who)
        return
    open_jobs = [
        job
        for job in workable
        if len(job.workers) < job.steps[job.idx].crew and _has_skill(world, who, job)
    ]
    if not open_jobs and not world.small and not _room(world):
        return
    choice = _goes_on(world, who, open_jobs) or RULES[world.shop.rule](world, who, open_jobs)
    if choice == "new":
        _bring_in(world, who)
    elif choice is not None:
        start(world, who, choice)
    elif world.small:
        small_job(world, who)


def _goes_on(world: World, who: int, open_jobs: list[Job]) -> Job | None:
    last = world.people[who].last
    for job in open_jobs:
        if job.number == last and world.rng.random() < world.shop.sticks:
            return job
    return None


def _room(world: World) -> bool:
    return bool(world.line) and len(world.jobs) < world.shop.lifts


def _bring_in(world: World, who: int) -> None:
    """The first in the line on a lift; whoever brought it in begins, if they can."""
    job = world.line.pop(0)
    world.jobs[job.number] = job
    job.owner = who
    if world.log is not None:
        world.log.brought_in(job)
    reach(world, job)
    if can_go_on(world, who, job):
        start(world, who, job)


def _own(world: World, who: int, open_jobs: list[Job]) -> Choice:
    """One person a job, from first to last; others only while that one is not in."""
    mine = [job for job in open_jobs if job.owner == who and not job.workers]
    if mine:
        return min(mine, key=_by_due)
    if _room(world):
        held = sum(job.owner == who for job in world.jobs.values())
        if held < 1 + world.shop.lifts // len(world.people):
            return "new"
    orphans = [job for job in open_jobs if not world.people[job.owner].coming]
    orphans += [job for job in open_jobs if job.steps[job.idx].skill and job not in orphans]
    return min(orphans, key=_by_due, default=None)


def _urgent(world: World, who: int, open_jobs: list[Job]) -> Choice:
    """Whoever is free takes what is nearest to breaking its promise."""
    if open_jobs:
        alone = [job for job in open_jobs if not job.workers] or open_jobs
        return min(alone, key=lambda job: job.due - 2.5 * job.left_s())
    return "new" if _room(world) else None


def _shifts(world: World, who: int, open_jobs: list[Job]) -> Choice:
    """What the other shift has begun is finished first, the oldest first."""
    if open_jobs:
        return min(open_jobs, key=lambda job: (len(job.workers), job.base < 0, job.number))
    return "new" if _room(world) else None


def _parttime(world: World, who: int, open_jobs: list[Job]) -> Choice:
    """Few people: whoever shouted loudest today."""
    if len(open_jobs) > 1 or (open_jobs and not _room(world)):
        return max(open_jobs, key=lambda job: job.shout)
    return "new" if _room(world) else None


def _outwork(world: World, who: int, open_jobs: list[Job]) -> Choice:
    """The job with least left first, so that a lift gets free."""
    if open_jobs:
        return min(open_jobs, key=lambda job: (len(job.workers), job.left_s()))
    return "new" if _room(world) else None


def _parts(world: World, who: int, open_jobs: list[Job]) -> Choice:
    """Open every vehicle early, so that what is to be ordered is known early."""
    stripping = [job for job in open_jobs if job.steps[job.idx].phase_class == "strip"]
    if stripping:
        return min(stripping, key=lambda job: job.number)
    if _room(world):
        return "new"
    return min(open_jobs, key=lambda job: job.number, default=None)


def _relay(world: World, who: int, open_jobs: list[Job]) -> Choice:
    """Each has their trade; what only they can do comes first, then first come."""
    if open_jobs:
        return min(open_jobs, key=lambda job: (not job.steps[job.idx].skill, job.due))
    return "new" if _room(world) else None


def _by_due(job: Job) -> int:
    return job.due


RULES: dict[RuleName, Rule] = {
    "own": _own,
    "urgent": _urgent,
    "shifts": _shifts,
    "parttime": _parttime,
    "outwork": _outwork,
    "parts": _parts,
    "relay": _relay,
}
