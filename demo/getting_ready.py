"""Parts of a job: ordered when it is agreed, here before it comes in or while it waits for them."""

from __future__ import annotations

from datetime import datetime
from functools import partial

from demo.chance import around, one_in
from demo.pen import minutes
from demo.world import Job, World
from store.actions import parts
from store.rules.part_states import PartState

SUPPLIERS = ("parts counter", "north depot", "maker's store", "night courier")
WRONG = 1 / 14
"""How often one of a job's parts is wrong when it comes: common practice, no source."""


def get_ready(world: World, job: Job, now: datetime) -> None:
    """Order what is renewed every time, and let it come."""
    world.at(now + minutes(10), partial(_ordered, world, job))


def _ordered(world: World, job: Job, now: datetime) -> None:
    with world.shop.reading() as db:
        rows = parts.lines_of(db, job.number)
    lines = [row["line"] for row in rows if row["state"] == "wanted"]
    if not lines or job.done:
        return
    dice = world.chance("parts")
    act = world.pen.by(world.leader(), now, "desk")
    comes = world.calendar.after(world.pen.now, max(1.0, around(dice, 4.0, 14.0)))
    parts.move_parts(
        world.shop, act, job=job.number, lines=lines, state="ordered", expected=comes,
        supplier=dice.choice(SUPPLIERS),
    )  # fmt: skip
    wrong = dice.choice(lines) if one_in(dice, WRONG) else None
    world.at(comes, partial(_here, world, job, [one for one in lines if one != wrong]))
    if wrong is not None:
        world.at(comes + minutes(30), partial(_wrong, world, job, wrong))


def _move(world: World, job: Job, lines: list[int], state: PartState, at: datetime) -> None:
    if job.done or not lines:
        return
    parts.move_parts(
        world.shop, world.pen.by(world.leader(), at, "desk"), job=job.number, lines=lines,
        state=state,
    )  # fmt: skip


def _here(world: World, job: Job, lines: list[int], now: datetime) -> None:
    _move(world, job, lines, "here", now)


def _wrong(world: World, job: Job, line: int, now: datetime) -> None:
    _move(world, job, [line], "wrong", now)
    later = world.calendar.after(now, around(world.chance("parts"), 7.0, 20.0))
    world.at(later, partial(_here, world, job, [line]))
