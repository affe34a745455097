"""How long it takes to find what helps most, on a floor of 24 lifts and 200 jobs.

    python -m tests.bench.helping [--jobs 200]

Processor time of this process, so that other work on the machine counts less; ratios are to one
look at the floor in the same run.
"""

from __future__ import annotations

import argparse
import random
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

from store.actions import holding, jobs, places
from store.file.learned.due import LIVE
from store.file.learned.forecaster import ShopForecaster
from store.file.learned.help_due import promised
from store.file.learned.helping import Helping
from store.file.learned.kept import parts
from store.file.learned.moment import moment
from store.file.learned.own import VERSIONS
from store.rules.acts import MOVES
from store.views.as_if import tried
from store.views.floor import floor
from store.views.helps import helps
from store.views.needs import needs
from store.views.why import why
from tests.store.actions.made import World, make
from tests.store.made_acts import acts, learner

LIFTS = 24
Found = TypeVar("Found")


def main() -> None:
    """Print the table."""
    asked = argparse.ArgumentParser()
    asked.add_argument("--jobs", type=int, default=200)
    world = busy_floor(Path(tempfile.mkdtemp()), asked.parse_args().jobs)
    _, first = timed(learner(world).keep_up, 1)
    _, look = timed(lambda: floor(world.shop, world.now))
    print(f"{'one look at the floor':44}{look:9.1f} ms")
    said("first turn: all forecasts, what helps most", first, look)
    with world.shop.reading() as db:
        known = ShopForecaster(parts(db, VERSIONS, whole=True))
        live = [row[0] for row in db.execute(LIVE)]
        here, ms = timed(lambda: moment(db, live, world.now))
        due = promised(db)
    said("the moment", ms, look)
    every, ms = timed(lambda: acts(world))
    said(f"{len(every)} open acts", ms, look)
    touched = {one.job for one in every if one.kind in MOVES and one.job is not None}
    outlook, ms = timed(lambda: known.outlook(here, touched))
    said("the whole shop as it is", ms, look)
    assert outlook is not None
    helping = Helping(here, outlook, due)
    found, ms = timed(lambda: helping.help(every, lambda: True))
    assert found is not None
    said(f"{len(found.helped)} acts tried, each", ms / max(1, len(found.helped)), look)
    said("all of them", ms, look)
    lines, ms = timed(lambda: helps(world.shop, world.now, every=True))
    said("helps, as a screen reads it", ms, look)
    said("needs", timed(lambda: needs(world.shop, world.now))[1], look)
    said("why", timed(lambda: why(world.shop, world.now))[1], look)
    name = lines.lines[0].need.act.name
    said("try it", timed(lambda: tried(world.shop, world.now, name))[1], look)


def said(what: str, ms: float, look: float) -> None:
    """Print one line."""
    print(f"{what:44}{ms:9.1f} ms{ms / look:8.1f}")


def timed(run: Callable[[], Found], times: int = 3) -> tuple[Found, float]:
    """What it gives, and the least milliseconds of processor time that it took."""
    least: float | None = None
    while True:
        begun = time.process_time()
        found = run()
        took = time.process_time() - begun
        least = took if least is None else min(least, took)
        times -= 1
        if times == 0:
            return found, 1e3 * least


def busy_floor(folder: Path, many: int) -> World:
    """Lifts all taken, half of them held, and a long line."""
    dice, world = random.Random(1), make(folder)
    world.to(8, 0)
    for code in range(4, LIFTS + 1):
        places.add_place(
            world.shop, world.by("OWN", minutes=0.1), code=str(code), kind="lift",
            lift_kind="two-post", rated_kg=4000,
        )  # fmt: skip
    for number in range(many):
        work = dice.choice(["WP", "TC"])
        lift = str(number + 1) if number < LIFTS else None
        job = jobs.take(
            world.shop, world.by("FOR", minutes=0.1), operations=[work], family="B4-M-F",
            vehicle=f"van {number}", lift=lift, mass_kg=1500,
        ).job or ""  # fmt: skip
        if dice.random() < 0.7:
            at = world.at(14, day=dice.choice([0, 1, 2, 3, 4, 7, 8, 9, 10, 11]))
            jobs.promise(world.shop, world.by("FOR", minutes=0.1), job=job, at=at)
        if number < 18:
            begin(world, job, number)
    world.to(11, 0, day=1)
    return world


def begin(world: World, job: str, number: int) -> None:
    """Its first phase done; two in three are held."""
    world.on("T1", job, "1")
    world.finish("T1", job, "1")
    if number < 12:
        reasons: tuple[holding.Reason, ...] = ("parts", "tool", "person")
        holding.hold(
            world.shop, world.by("T2", minutes=0.1), job=job, phase=None if number % 2 else "2",
            reason=reasons[number % 3],
        )  # fmt: skip


if __name__ == "__main__":
    main()
