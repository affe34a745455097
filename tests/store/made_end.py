"""Jobs at their end: everything done and signed, handed over, followed up."""

from __future__ import annotations

from datetime import timedelta

from store.actions import (
    advice,
    books,
    follow_ups,
    handing_over,
    holding,
    parts,
    phases,
    places,
    steps,
    supplements,
)
from store.actions.desk import acts as desk
from store.rules.follow_ups import ToDo
from store.rules.part_states import PartState
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


def whole_job(world: World) -> str:
    """A job from the first call to the hand-over with all that can happen on its way; its number.

    A reading out of limits and measured again, a cover opened again, limits typed, a decision that
    changes the route, extra work agreed and refused, parts with their batch, advice declined.
    """
    shop = world.shop
    job = desk.enquire(
        shop, world.by("FOR"), vehicle="tall van", complaint="rattles when cold",
        customer=("Kim Invented", "0123 456"), operations=["TC"], family="B4-M-F",
    ).job or ""  # fmt: skip
    desk.arrive(
        shop, world.by("FOR"), job=job, odometer=120_000, unit="km", grade=3, lamps="oil lamp",
        photographs="folder 12",
        identity=desk.Identity(
            vin="1M8GDM9AXKP042788", plate="KFS 73-40", engine="E4", gearbox="G5"
        ),
    )  # fmt: skip
    desk.quote(shop, world.by("FOR"), job=job, basis="ceiling", ceiling=2500, means="telephone")
    desk.agree(
        shop, world.by("FOR"), job=job, basis="ceiling", ceiling=2500, said_by="Kim Invented",
        means="telephone", free_hand=100,
    )  # fmt: skip
    places.move(shop, world.by("FOR"), job=job, place="1", lift=True)
    _strip(world, job)
    _covers(world, job)
    _refit(world, job)
    advised = world.one("select seq from finding where job = ? and kind = 'advice'", job)
    assert isinstance(advised, int)
    advice.answer_advice(
        shop, world.by("FOR"), job=job, finding=advised, answer="declined", risk_told=True,
        told_by="Kim's brother", means="in person",
    )  # fmt: skip
    handing_over.hand_over(
        shop, world.by("FOR"), job=job, odometer=120_009, to="Kim's brother", kits="all there",
        old_parts="kept here", fluids=["engine oil, 5.1 l"], faults_before="P0016",
        faults_after="none", run_in="no full load for 500 km", warranty_months=12,
        warranty_distance=20_000, photographs="folder 12",
    )  # fmt: skip
    return job


def _strip(world: World, job: str) -> None:
    world.do("T1", job, "1")
    world.on("T1", job, "2")
    world.sign("T1", job, "HL", readings={"value": 1980})
    world.sign("T1", job, "GB-off:1")
    world.sign("T1", job, "LK", readings={"a": 0.1, "b": 0.5})
    world.sign("T1", job, "LK", readings={"a": 0.1, "b": 0.15})
    world.sign("T2", job, "LK")
    world.sign("T1", job, "GB-off:3")
    world.finish("T1", job, "2")
    phases.reopen(world.shop, world.by("FOR"), job=job, phase="2", why="a pin slipped")
    world.on("T1", job, "2")
    world.sign("T1", job, "HL", readings={"value": 1980})
    world.sign("T1", job, "LK", readings={"a": 0.12, "b": 0.14})
    world.sign("T2", job, "LK")
    world.finish("T1", job, "2")


def _covers(world: World, job: str) -> None:
    shop = world.shop
    world.on("T1", job, "3")
    world.sign("T1", job, "B1:1")
    world.sign("T1", job, "BU", answer="B")
    for text, approve in (("stud breaks", True), ("seat worn", False)):
        holding.find(
            shop, world.by("T1"), job=job, phase="3", kind="surprise", text=text, hours=0.7
        )
        supplements.answer_supplement(
            shop, world.by("FOR"), job=job, approve=approve, told_by="Kim Invented",
            means="telephone",
        )  # fmt: skip
    holding.find(shop, world.by("T1"), job=job, phase="3", kind="advice", text="discs worn")
    world.on("T1", job, "3")
    world.sign("T1", job, "B1:3")
    world.finish("T1", job, "3")
    lines = world.all("select line, text from part where job = ? order by line", job)
    guides = next(line for line, text in lines if text == "guides")
    assert isinstance(guides, int)
    fates: tuple[tuple[PartState, str | None], ...] = (("here", "B-77"), ("fitted", None))
    for state, batch in fates:
        parts.move_parts(
            shop, world.by("T1"), job=job, lines=[guides], state=state, batch=batch,
            supplier="Parts Ltd",
        )  # fmt: skip
    world.on("T1", job, "4b")
    world.sign("T1", job, "B2b:1")
    world.finish("T1", job, "4b")


def _refit(world: World, job: str) -> None:
    world.on("T2", job, "5")
    world.sign("T2", job, "GR", readings={"grams": 300})
    world.finish("T2", job, "5")
    world.on("T2", job, "6")
    world.sign("FOR", job, "SEEN")
    world.finish("T2", job, "6")
    world.finish("T2", job, "7")
    steps.type_limits(
        world.shop, world.by("T2"), job=job, phase="8", step="1", reading="nm", low=80, high=120,
        source="maker's data, sheet 4",
    )  # fmt: skip
    world.on("T2", job, "8")
    world.sign("FOR", job, "TQ", readings={"nm": 100})
    world.finish("T2", job, "8")
    world.on("T2", job, "9")
    world.sign("T2", job, "HF", readings={"litres": 1})
    world.sign("FOR", job, "HF")
    world.sign("T2", job, "fire")
    world.finish("T2", job, "9")
    world.on("T2", job, "10")
    world.sign("T2", job, "Z2:1")
    world.sign("OWN", job, "HX", readings={"open": 0})
    world.finish("T2", job, "10")
