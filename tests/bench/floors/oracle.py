"""Who knows every parameter, the whole floor, roster and line, and runs it forward.

What nobody can know is drawn anew: the nature of each vehicle given all that was seen of it, what
is left of each phase and wait given how long it has lasted, illness, customers, all that comes in.
"""

from __future__ import annotations

import random
from dataclasses import dataclass

from tests.bench.floors import nature
from tests.bench.floors.clocks import work_on
from tests.bench.floors.laws import later
from tests.bench.floors.open_time import HOUR
from tests.bench.floors.people import next_arrival
from tests.bench.floors.run import run, step
from tests.bench.floors.shop import Shop
from tests.bench.floors.world import (
    BACK,
    CALL,
    COME,
    DAY,
    GO,
    READY,
    RELEASE,
    RETURN,
    SEEN,
    SMALL,
    Job,
    World,
)


@dataclass(frozen=True, slots=True)
class Seen:
    """The true law of one moment: sorted draws of the open hours to the job's finish.

    Attributes:
        job, seq: as in the files, seq 0 at `booked`.
    """

    job: str
    seq: int
    moment: str
    draws: tuple[float, ...]


def oracle(shop: Shop, seed: int, jobs: int, rows: int, clones: int) -> list[Seen]:
    """The true laws of some rows of a past's dates, drawn without regard to what became of them.

    The floor is run once to see its rows and once more, with the same chances, to stand still at
    those drawn.
    """
    begun: list[tuple[int, int, str]] = []
    run(shop, seed, jobs, lambda _, number, idx: begun.append((number, idx, "started")))
    begun += [(number, 0, "booked") for number in range(1, jobs + 1)]
    rng = random.Random(f"oracle {seed}")
    wanted = set(rng.sample(begun, min(rows, len(begun))))
    found: list[Seen] = []

    def look(world: World, number: int, idx: int) -> None:
        moments = [one for one in ("booked", "started") if (number, idx, one) in wanted]
        if moments:
            draws = forward(world, number, clones, rng)
            found.extend(
                Seen(str(number), 0 if one == "booked" else idx + 1, one, draws) for one in moments
            )

    run(shop, seed, jobs, look)
    return found


def forward(world: World, number: int, clones: int, rng: random.Random) -> tuple[float, ...]:
    """Open hours to a job's finish in so many futures of a floor, sorted."""
    hours: list[float] = []
    for _ in range(clones):
        future = anew(world, rng)
        while number in future.jobs:
            step(future)
        hours.append((future.now - world.now) / HOUR)
    return tuple(sorted(hours))


def anew(world: World, rng: random.Random) -> World:
    """The same floor with everything drawn anew that nobody in it can know."""
    new = world.copy(rng)
    for who in range(len(new.people)):
        _plan_person(new, who)
    time = new.shop.time
    new.plan(time.days[new.day + 1], DAY, new.day + 1)
    for job in new.line:
        job.nature = nature.drawn(new.shop, job.grade, rng)
    for job in new.jobs.values():
        nature.draw_anew(new.shop, job, rng)
        _plan_job(new, job)
    new.plan(new.in_hours(1 / new.shop.small.per_h), SMALL)
    next_arrival(new)
    return new


def _plan_person(world: World, who: int) -> None:
    person, shop = world.people[who], world.shop
    if person.coming:
        if not person.present:
            span = shop.workers[who].span(shop.time, world.day)
            world.plan(max(world.now, span[0] if span else 0), COME, who)
        world.plan(person.out, GO, who)
    if person.job:
        world.plan(world.in_hours(1 / shop.small.calls_per_h), CALL, who, person.token)
    if person.away:
        least = max(0, person.away_since + int(person.away_least) - world.now)
        world.plan(world.in_hours(person.away_mean) + least, BACK, who, person.token)


def _plan_job(world: World, job: Job) -> None:
    shop, rng = world.shop, world.rng
    for one in job.holds:
        if one.law is not None:
            world.plan(later(shop, rng, one.law, world.now), RELEASE, job.number, one.name)
    if job.law is not None:
        world.plan(later(shop, rng, job.law, world.now), RETURN, job.number)
    elif job.workers:
        work_on(world, job)
    elif job.mode == READY and not job.seen and not job.blocked:
        world.plan(world.in_hours(shop.notice_h), SEEN, job.number, job.token)
