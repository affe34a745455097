"""Jobs at their end: everything done and signed, handed over, followed up."""

from __future__ import annotations

from datetime import timedelta

from store.actions import books, follow_ups, handing_over
from store.rules.follow_ups import ToDo
from tests.store.actions.made import BOOK, World

WITH_KITS = (
    BOOK.replace('name = "locking set"\nowned = false', 'name = "locking set"\nowned = true\n'
                 'contains = ["crank pin", "two cam locks"]')
    .replace('code = "W2"\nname = "hoses"\n', 'code = "W2"\nname = "hoses"\nkit = ["locks"]\n')
    .replace('name = "coolant pump"\n', 'name = "coolant pump"\nrun_in = "100 km gently."\n')
    + '[[operation.follow_up]]\nwhat = "Coolant level cold"\ndays = 14\ndistance = 500\n'
)  # fmt: skip
"""The small shop's book with a kit of two pieces to count, and something that follows."""


def with_kits(world: World) -> None:
    """Load a book that has a kit to count."""
    books.load_workbook(world.shop, world.by("FOR"), source=WITH_KITS)


def all_signed(world: World, lift: str = "2", *, but_final: bool = False) -> str:
    """A coolant pump, all phases finished and signed, by T2; its number.

    Args:
        but_final: the final check is not signed and its phase not finished.
    """
    job = world.take("WP", lift)
    world.do("T2", job, "1")
    world.on("T2", job, "2")
    world.sign("T2", job, "HL", readings={"gross": 2000})
    world.sign("T2", job, "W1:1")
    world.sign("T2", job, "W1:2")
    world.finish("T2", job, "2")
    world.do("T2", job, "3")
    world.finish("T2", job, "4")
    world.on("T2", job, "5")
    world.sign("T2", job, "HF", readings={"litres": 0})
    world.sign("FOR", job, "HF")
    world.sign("T2", job, "fire")
    world.finish("T2", job, "5")
    world.on("T2", job, "6")
    world.sign("T2", job, "Z2:1")
    if not but_final:
        world.sign("OWN", job, "HX", readings={"open": 0})
        world.finish("T2", job, "6")
    return job


def handed_over(world: World, lift: str = "2") -> str:
    """A job handed over with all that can be said of it, its follow-ups touched; its number."""
    job = all_signed(world, lift)
    shop = world.shop
    handing_over.hand_over(
        shop, world.by("FOR"), job=job, odometer=123_500, unit="km", to="Kim Invented",
        old_parts="returned to the customer", fluids=["coolant, 6.5 l"],
        faults_before="P0118 stored", faults_after="none", run_in="200 km gently",
        warranty_months=12, warranty_distance=20_000, kits="all there",
        photographs="folder of the job",
    )  # fmt: skip
    day = (world.now + timedelta(days=40)).date()
    follow_ups.set_follow_ups(
        shop, world.by("T1"), job=job, lines=[ToDo("level seen again", "shop", day, 800)]
    )
    follow_ups.move_follow_up(
        shop, world.by("FOR"), job=job, line=2, day=day, why="away on holiday"
    )
    follow_ups.follow_up_done(shop, world.by("FOR"), job=job, line=1, outcome="tight")
    follow_ups.follow_up_done(
        shop, world.by("FOR"), job=job, line=3, outcome="sold the car", dropped=True
    )
    return job
