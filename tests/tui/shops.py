"""A small invented shop in a file, made by the actions that everybody uses."""

from __future__ import annotations

import atexit
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from functools import wraps
from pathlib import Path
from shutil import copyfile, rmtree
from tempfile import mkdtemp

from store.actions import books, clock, jobs, people, places, steps
from store.actions.founding import LiftPlan, ShopPlan, found_shop
from store.edges.events.base import Experience, Role
from store.edges.events.shop import WeekSpan
from store.file.shop import By, Shop
from store.views.ledger import ledger
from tests.store.actions.made import quick_secret

WEEK = [1, 2, 3, 4, 5]
BOOK = Path(__file__).parents[2] / "demo" / "workbook.toml"
MORNING = datetime(2026, 10, 14, 5, 30, tzinfo=UTC)
"""Wednesday, half past seven in the shop's zone."""
ZONE = "Europe/Amsterdam"
PIN = "2468"


@dataclass(slots=True)
class Pen:
    """Writes entries one minute after another, always with the same keys for the same place."""

    now: datetime = MORNING
    terminal: str = "made"
    made: int = 0

    def by(self, badge: str = "OWN", minutes: float = 1) -> By:
        """Who acts, some minutes after the last act."""
        self.now += timedelta(minutes=minutes)
        self.made += 1
        return By(badge, self.terminal, self.now, pin=PIN, key=f"{self.made:024x}")


Making = Callable[[Path, Pen, str, list[int]], Shop]


def kept(make: Making) -> Callable[..., Shop]:
    """Make a shop once in this process, and copy its file for whoever asks for the same again."""
    made: dict[object, tuple[Path, Pen]] = {}
    folder = Path(mkdtemp(prefix="shops-"))
    atexit.register(rmtree, folder, ignore_errors=True)

    @wraps(make)
    def copied(path: Path, pen: Pen, zone: str = ZONE, days: list[int] = WEEK) -> Shop:
        asked = (pen.now, pen.terminal, pen.made, zone, tuple(days))
        if asked not in made:
            own, first = replace(pen), folder / f"{make.__name__}-{len(made)}.shop"
            make(first, own, zone, days).close()
            made[asked] = (first, own)
        first, then = made[asked]
        for end in ("", "-wal"):
            if (beside := first.with_name(first.name + end)).exists():
                copyfile(beside, path.with_name(path.name + end))
        pen.now, pen.made = then.now, then.made
        return Shop(path)

    return copied


@kept
def founded(path: Path, pen: Pen, zone: str = ZONE, days: list[int] = WEEK) -> Shop:
    """A shop with three lifts, a book, a foreman, two technicians and an apprentice."""
    plan = ShopPlan(
        "Marsh Lane Works", zone, "EUR",
        [WeekSpan(days=days, start="07:30", end="16:30")],
        [WeekSpan(days=days, start="12:00", end="12:45")],
        [LiftPlan("1", "two-post", 4000), LiftPlan("2", "two-post", 4000),
         LiftPlan("3", "scissor", 3000)],
        "OWN", "Olga", PIN, rate_per_hour=90,
        from_day=(pen.now - timedelta(days=9)).date(),
    )  # fmt: skip
    secret = quick_secret(PIN)
    shop = found_shop(path, pen.by(), plan, secret=secret)
    books.load_workbook(shop, pen.by(), source=BOOK.read_text("utf-8"))
    staff: tuple[tuple[str, str, Role, Experience], ...] = (
        ("F01", "Ruth", "foreman", "expert"), ("B12", "Ines", "technician", "skilled"),
        ("B13", "Tomas", "technician", "expert"), ("B14", "Per", "technician", "apprentice 2"),
    )  # fmt: skip
    for badge, name, role, years in staff:
        people.add_person(
            shop, pen.by(), badge=badge, name=name, role=role, experience=years,
            from_day=(pen.now - timedelta(days=9)).date(),
        )  # fmt: skip
        people.set_pin(shop, pen.by(), badge=badge, pin=PIN, secret=secret)
    places.add_place(shop, pen.by(), code="yard", kind="yard")
    return shop


@kept
def worked_on(path: Path, pen: Pen, zone: str = ZONE, days: list[int] = WEEK) -> Shop:
    """The same with three jobs: one under way with Ines, one on a lift, one that waits."""
    shop = founded(path, pen, zone, days)
    jobs.take(
        shop, pen.by(), operations=["CL"], family="B4-M-F", vehicle="panel van, long", lift="1",
        mass_kg=2100, promise=pen.now + timedelta(days=2),
    )  # fmt: skip
    jobs.take(
        shop, pen.by(), operations=["TC"], family="B4-M-F", vehicle="estate, grey", lift="2",
        mass_kg=1700, promise=pen.now + timedelta(days=1),
    )  # fmt: skip
    jobs.take(shop, pen.by(), operations=["IN"], family="D4-M-R", vehicle="farm pick-up")
    clock.clock_on(shop, pen.by("B12", 2), job="1001", phase="1")
    return shop


def first_steps(shop: Shop, pen: Pen, job: str, phase: str, many: int, badge: str = "B12") -> None:
    """Sign plain steps of a phase in their order."""
    for step in range(1, many + 1):
        steps.sign(shop, pen.by(badge), job=job, phase=phase, step=str(step))


def kinds(shop: Shop, since: int = 0) -> list[str]:
    """What was written after an entry."""
    return [line.kind for line in ledger(shop) if line.seq > since]


def last(shop: Shop) -> int:
    """The last entry."""
    return max(line.seq for line in ledger(shop))
