"""People and the day: who comes and goes, who is called away, and what work comes in."""

from __future__ import annotations

import math

from tests.bench.floors import nature
from tests.bench.floors.clocks import stop
from tests.bench.floors.holds import lacks_somebody, release, wait_for_somebody
from tests.bench.floors.open_time import HOUR
from tests.bench.floors.world import (
    ARRIVE,
    BACK,
    COME,
    DAY,
    GO,
    READY,
    SMALL,
    Job,
    World,
)

LEAST_SMALL_H = 0.3
LEAST_CALL_H = 0.1


def begin_day(world: World, day: int, _token: int) -> None:
    """Roll call; the week's weather; what waited for somebody who is in again can go on."""
    time = world.shop.time
    another_week = time.weeks[day] != time.weeks[world.day]
    world.day = day
    if another_week:
        _new_week(world)
    for who in range(len(world.people)):
        _roll_call(world, who)
    for job in list(world.jobs.values()):
        job.shout = world.rng.random()
        _who_is_in(world, job)
    world.plan(time.days[day] + time.length(day), DAY, day + 1)


def come(world: World, who: int, _token: int) -> None:
    """They begin their day."""
    world.people[who].present = True


def go(world: World, who: int, _token: int) -> None:
    """They go home; a small job not done is somebody's tomorrow."""
    person = world.people[who]
    if person.job:
        stop(world, who)
    if person.away and person.away_least > LEAST_CALL_H * HOUR:
        world.small += 1
    person.away = person.present = person.coming = False
    person.token += 1


def called(world: World, who: int, token: int) -> None:
    """Somebody on a job is called away for a while."""
    if world.people[who].token == token:
        send_away(world, who, LEAST_CALL_H, world.shop.small.call_h)


def back(world: World, who: int, token: int) -> None:
    """They are free again."""
    if world.people[who].token == token:
        world.people[who].away = False


def send_away(world: World, who: int, least_h: float, mean_h: float) -> None:
    """Off whatever they are on, for `least_h` and a wait without memory."""
    person = world.people[who]
    if person.job:
        stop(world, who)
    person.token += 1
    person.away, person.away_since = True, world.now
    person.away_least, person.away_mean = least_h * HOUR, mean_h
    world.plan(world.in_hours(mean_h) + int(least_h * HOUR), BACK, who, person.token)


def small_job(world: World, who: int) -> None:
    """They take the small job that has waited longest."""
    world.small -= 1
    send_away(world, who, LEAST_SMALL_H, world.shop.small.mean_h)


def small_arrives(world: World, _whom: int, _token: int) -> None:
    """A small job comes in; now and then somebody is taken off a lift for it at once."""
    small = world.shop.small
    world.small += 1
    at_work = [who for who, person in enumerate(world.people) if person.job]
    if at_work and world.rng.random() < small.at_once:
        small_job(world, world.rng.choice(at_work))
    world.plan(world.in_hours(1 / small.per_h), SMALL)


def arrives(world: World, _whom: int, token: int) -> None:
    """A job is agreed, unless the line is so long that the customer goes elsewhere."""
    if token == world.shop.time.weeks[world.day]:
        if len(world.line) < world.shop.patience:
            world.line.append(_new_job(world))
        next_arrival(world)


def next_arrival(world: World) -> None:
    """Plan the next one, at this week's rate."""
    shop = world.shop
    factor = math.exp(world.mood - shop.busy_sd**2 / 2)
    day_h = shop.time.length(world.day) / HOUR
    week = shop.time.weeks[world.day]
    world.plan(world.in_hours(day_h / (shop.per_day * factor)), ARRIVE, 0, week)


def _new_week(world: World) -> None:
    shop = world.shop
    fresh = shop.busy_sd * (1 - shop.busy_keeps**2) ** 0.5
    world.mood = shop.busy_keeps * world.mood + world.rng.gauss(0, fresh)
    next_arrival(world)


def _roll_call(world: World, who: int) -> None:
    shop, person = world.shop, world.people[who]
    if person.ill:
        person.ill = world.rng.random() >= shop.ill_ends
    else:
        person.ill = world.rng.random() < shop.ill
    span = None if person.ill else shop.workers[who].span(shop.time, world.day)
    person.coming = span is not None
    if span is not None:
        person.out = span[1]
        world.plan(span[0], COME, who)
        world.plan(span[1], GO, who)


def _who_is_in(world: World, job: Job) -> None:
    if job.mode != READY:
        return
    lacks = lacks_somebody(world, job)
    waits = [one for one in job.holds if one.law is None]
    if lacks and not job.blocked:
        wait_for_somebody(world, job)
    if not lacks:
        for one in waits:
            release(world, job, one)


def _new_job(world: World) -> Job:
    shop, rng = world.shop, world.rng
    world.number += 1
    operation = rng.choices(shop.operations, [one.weight for one in shop.operations])[0]
    family = rng.choice(list(shop.families))
    grade = rng.choices((1, 2, 3, 4), shop.grades)[0]
    job = Job(world.number, operation, family, grade, nature.drawn(shop, grade, rng), 0)
    waiting = len(world.line) / max(0.2, shop.per_day)
    day_s = shop.time.length(world.day)
    stay = shop.stay_factor * operation.content_s * rng.uniform(0.7, 1.5)
    job.due = world.now + int(waiting * day_s + stay)
    return job
