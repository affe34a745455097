"""A small shop to do things in: founded once for each process, then copied."""

from __future__ import annotations

import shutil
import tempfile
from datetime import timedelta
from functools import lru_cache
from pathlib import Path

from store.actions import jobs
from store.actions.hires import suppliers
from store.file.shop import Shop
from tests.store.actions.made import MONDAY, PIN, ROLES, World, make

PEOPLE: tuple[str, ...] = tuple(ROLES)
"""Badges of everybody in it: an owner, a foreman, two technicians, an apprentice."""
JOBS = 6
START = MONDAY + timedelta(hours=1, minutes=30)
"""An instant at which the shop is at work, later than everything in it: 8:30 on a Monday."""


def small_shop(folder: Path, name: str = "small.shop") -> Shop:
    """Open a fresh copy: five people with PINs, three lifts, a work book, six jobs taken.

    Its last entry lies before `START`.
    """
    path = folder / name
    shutil.copy(_template(), path)
    return Shop(path)


@lru_cache(maxsize=1)
def _template() -> Path:
    world = make(Path(tempfile.mkdtemp(prefix="hoistbook-test-")))
    world.to(8, 0)
    _jobs(world)
    world.shop.close()
    assert world.now < START
    return world.shop.path


def _jobs(world: World) -> None:
    for n in range(JOBS):
        world.take(("TC", "WP")[n % 2], str(n + 1) if n < 3 else None)
    jobs.take_small(world.shop, world.by("T2"), text="Bulb", vehicle="blue estate", hours=0.3)
    suppliers.know(world.shop, world.by("FOR"), name="Loan", late=2)


__all__ = ["PEOPLE", "PIN", "START", "small_shop"]
