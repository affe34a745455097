"""A shop as its foreman finds it on a Thursday morning, twenty to eight.

Lift 1 is held: Ines found a broken stud yesterday, and the customer has not said yes. On lift 2
stands a tipper of 3.4 t. Lift 3 is free and takes 3.0 t. Lift 4 is free and takes 4.0 t; its
inspection ran out last week. Lift 5 is free. Two jobs wait. Tomas, who is ill today, forgot his
clock.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

from store.actions import clock, holding, jobs, people, places
from store.file.shop import Shop
from tests.tui.driver import Hands
from tests.tui.shops import MORNING, PIN, Pen
from tests.tui.taught import taught
from tui.learner import take_in

NOW = datetime(2026, 10, 15, 5, 40, tzinfo=UTC)
EVENING = MORNING.replace(hour=12, minute=30)
"""Wednesday, half past two in the shop's zone."""
YEAR_MONTHS = 12


def made(path: Path) -> Shop:
    """The shop, its forecasts those of the morning."""
    pen = Pen()
    shop = taught(path, pen)
    _lifts(shop, pen)
    _jobs(shop, pen)
    pen.now = EVENING
    _evening(shop, pen)
    pen.now = NOW - timedelta(minutes=10)
    _morning(shop, pen)
    take_in(shop, Hands(NOW))
    return shop


def _lifts(shop: Shop, pen: Pen) -> None:
    """Two more lifts; all were inspected, one of them too long ago."""
    for code, kg in (("4", 4000), ("5", 3500)):
        places.add_place(
            shop, pen.by(), code=code, kind="lift", lift_kind="two-post", rated_kg=kg
        )  # fmt: skip
    ago = {"1": 100, "2": 100, "3": 100, "4": 373, "5": 100}
    for code, days in ago.items():
        places.inspect_lift(
            shop, pen.by(), code=code, day=(NOW - timedelta(days=days)).date(),
            months=YEAR_MONTHS, source="made up", inspector="somebody",
        )  # fmt: skip


def _jobs(shop: Shop, pen: Pen) -> None:
    """The estate makes room for a tipper that is too heavy for lift 3; a saloon waits."""
    places.move(shop, pen.by(), job="1002", place="yard", lift=False)
    jobs.take(
        shop, pen.by(), operations=["RS"], family="B4-M-F", vehicle="tipper", lift="2",
        mass_kg=3400, promise=NOW + timedelta(days=4),
    )  # fmt: skip
    jobs.take(
        shop, pen.by(), operations=["CL"], family="B4-M-F", vehicle="old saloon", mass_kg=1500
    )


def _evening(shop: Shop, pen: Pen) -> None:
    """Tomas goes on with the tipper and home without a key; a stud breaks under Ines."""
    clock.clock_on(shop, pen.by("B13"), job="1004", phase="1")
    holding.find(
        shop, pen.by("B12"), job="1001", phase="1", kind="surprise", text="stud broken", hours=2.0
    )


def _morning(shop: Shop, pen: Pen) -> None:
    """Tomas is ill; the lifts in use were looked over."""
    people.set_absence(
        shop, pen.by("F01"), badge="B13", since=NOW - timedelta(hours=2),
        until=NOW + timedelta(hours=9), why="ill",
    )  # fmt: skip
    people.add_person(
        shop, pen.by("OWN"), badge="F02", name="Mara", role="foreman", experience="expert"
    )
    people.set_pin(shop, pen.by("OWN"), badge="F02", pin=PIN)
    for code in "12345":
        places.look_over(shop, pen.by("B12"), code=code)
