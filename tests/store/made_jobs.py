"""A small shop with a past: plain jobs done from end to end, held, standing and away on the way."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

from store.actions import books, clock, holding, jobs, phases
from tests.store.actions.made import World, make

BOOK = """
name = "Plain work"

[families.engine]
B4 = "petrol, four"

[families.gearbox]
M = "manual"

[families.axles]
F = "front"

[[phase]]
code = "E1"
name = "open"
place = "ground"
class = "strip"
hours = [0.4, 0.6, 1.0]
[[phase.step]]
code = "LOOK"
kind = "decision"
text = "How is the seat?"
[[phase.step.answer]]
code = "sound"
text = "sound"
odds = "9 in 10"
sets = { seat = "sound" }
[[phase.step.answer]]
code = "worn"
text = "worn"
odds = "1 in 10"
sets = { seat = "worn" }

[[phase]]
code = "E2"
name = "mend"
place = "ground"
hours = [1.0, 1.5, 3.0]

[[phase]]
code = "E3"
name = "dry"
kind = "standing"
place = "outside"
hours = 2.0

[[phase]]
code = "EW"
name = "seat made new"
kind = "outwork"
place = "outside"
hours = 8.0

[[phase]]
code = "E4"
name = "shut"
place = "ground"
class = "refit"
hours = 0.5

[[operation]]
code = "EZ"
name = "easy"
route = [
    "E1", "E2", { phase = "EW", when = { option = { seat = "worn" } } }, "E3", "E4",
]
[[operation.option]]
code = "seat"
text = "seat"
values = ["sound", "worn"]
assume = "sound"
[[operation.surprise]]
code = "stud"
phase = "E2"
text = "A stud breaks"
odds = "1 in 5"
hours = 1.0
"""


def plain_shop(folder: Path) -> World:
    """A small shop whose work book holds one plain operation."""
    made = make(folder)
    books.load_workbook(made.shop, made.by("FOR"), source=BOOK)
    return made


def closed_job(
    world: World, day: int, *, mend_h: float = 1.0, worn: bool = False, parts_h: float | None = None
) -> str:
    """A plain job done by T1 and closed on a day from 8 o'clock on.

    Args:
        mend_h: how long its main phase took.
        worn: the seat is sent away.
        parts_h: it waited so long for parts that were said to come within an hour.
    """
    world.to(8, 0, day=day)
    job = world.take("EZ", lift=None)
    work(world, job, "1", 0.5, "worn" if worn else "sound")
    if parts_h is not None:
        _held(world, job, parts_h)
    work(world, job, "2", mend_h)
    for code in ("EW", "E3") if worn else ("E3",):
        world.now += timedelta(minutes=150)
        one = world.phase(job, code).phase
        phases.finish(world.shop, world.by("T1"), job=job, phase=one)
    work(world, job, "4", 0.4)
    jobs.close(world.shop, world.by("FOR"), job=job)
    return job


def _held(world: World, job: str, hours: float) -> None:
    holding.hold(
        world.shop, world.by("T1"), job=job, phase="2", reason="parts",
        until=world.now + timedelta(hours=1),
    )  # fmt: skip
    world.now += timedelta(hours=hours)
    holding.release(world.shop, world.by("T1"), job=job, phase="2")


def work(world: World, job: str, phase: str, hours: float, answer: str | None = None) -> None:
    """Clock T1 on a phase, answer its decision, clock off after so many hours, finish it."""
    world.on("T1", job, phase)
    if answer is not None:
        world.sign("T1", job, "LOOK", answer=answer)
    clock.clock_off(world.shop, world.by("T1", minutes=60 * hours))
    phases.finish(world.shop, world.by("T1"), job=job, phase=phase)
