"""A shop that keeps its hires here: a kit in use that is due back, and a job that has none yet."""

from __future__ import annotations

from datetime import time
from pathlib import Path

from store.actions.hires import asked as hires
from store.actions.hires import suppliers
from tests.store.actions.made import World, make
from tests.store.views.test_ready import using_the_link


def kits_shop(folder: Path) -> World:
    """The link tool is in use on one job and due this afternoon; another needs it as well."""
    world = make(folder)
    world.to(8, 0)
    suppliers.know(world.shop, world.by("FOR"), name="Loan", cut_off=time(15, 30), lead_days=1)
    suppliers.offer(world.shop, world.by("FOR"), kit="link", supplier="Loan", day=24, carriage=12)
    job = world.take()
    hires.ask(
        world.shop, world.by("FOR"), kit="link", job=job, expected=world.at(8, 10),
        due=world.at(15, 30),
    )  # fmt: skip
    hires.receive(world.shop, world.by("T1"), kit="link")
    using_the_link(world, job)
    world.take(lift="2")
    return world
