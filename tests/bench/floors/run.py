"""The floor's events one after another."""

from __future__ import annotations

import random
from collections.abc import Callable
from heapq import heappop

from tests.bench.floors import holds, people, route
from tests.bench.floors.foreman import hand_out
from tests.bench.floors.log import Log
from tests.bench.floors.shop import Shop
from tests.bench.floors.world import (
    ARRIVE,
    BACK,
    CALL,
    COME,
    DAY,
    GO,
    RELEASE,
    RETURN,
    SEEN,
    SMALL,
    WORK,
    World,
)

HANDLERS: dict[int, Callable[[World, int, int], None]] = {
    DAY: people.begin_day,
    COME: people.come,
    GO: people.go,
    WORK: route.worked,
    CALL: people.called,
    BACK: people.back,
    RELEASE: holds.released,
    RETURN: route.came_back,
    SEEN: route.seen,
    ARRIVE: people.arrives,
    SMALL: people.small_arrives,
}

Look = Callable[[World, int, int], None]
"""Called with the floor, the job's number and the index of the phase that has just begun."""


def step(world: World) -> None:
    """One event, and what the foreman makes of it."""
    world.now, _, what, whom, token = heappop(world.heap)
    HANDLERS[what](world, whom, token)
    hand_out(world)


def opened(shop: Shop, seed: int, log: Log) -> World:
    """The floor on its first morning: empty, nobody in yet."""
    world = World(shop, random.Random(seed), log)
    world.plan(0, DAY, 0)
    world.plan(0, SMALL)
    people.next_arrival(world)
    return world


def run(shop: Shop, seed: int, jobs: int, look: Look | None = None) -> Log:
    """Run a shop until the first so many of its jobs are finished.

    Others come behind them to the end, so that the last ones meet a floor as busy as the first.
    """
    log = Log(jobs)
    world = opened(shop, seed, log)
    while log.awaited:
        step(world)
        for number, idx in world.begun:
            if look is not None and number <= jobs:
                look(world, number, idx)
        world.begun.clear()
    return log
