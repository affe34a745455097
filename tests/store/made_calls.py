"""Work of another firm, calls and the customer's word: a job of the busy shop, and its book."""

from __future__ import annotations

from datetime import date

from store.actions import advice, books, calls, ceilings, holding, jobs, outwork
from store.actions.undo import taking_back as undo
from tests.store.actions.made import BOOK, World

AWAY = """
# A head that goes to a machine shop; what comes back decides the route.
[[phase]]
code = "M1"
name = "head off"
hours = [0.8, 1.0, 1.6]
place = "ground"
after = "rolls"
[[phase]]
code = "M2"
name = "machine shop"
days = [2, 4, 8]
[[phase.step]]
code = "FLAT"
kind = "hold point"
text = "Head back: thick and flat enough"
blocks = [">"]
[[phase.step.reading]]
code = "thick"
text = "thickness"
unit = "mm"
positions = ["left", "right"]
low = 120.0
[[phase.step]]
code = "HEAD"
kind = "decision"
text = "What became of the head?"
[[phase.step.answer]]
code = "sound"
text = "refaced"
odds = "3 in 4"
sets = { head = "sound" }
[[phase.step.answer]]
code = "cracked"
text = "exchange head"
odds = "1 in 4"
sets = { head = "cracked" }
[[phase]]
code = "M3"
name = "head on"
hours = [1.0, 1.5, 2.4]
place = "ground"
after = "rolls"
[[phase]]
code = "M4"
name = "exchange head built up"
hours = [1.5, 2.0, 3.0]
place = "bench"

[[operation]]
code = "MS"
name = "cylinder head"
route = [
    "G0", "M1", "M2",
    { phase = "M4", when = { option = { head = "cracked" } } },
    "M3", "Z1", "Z2",
]
[[operation.option]]
code = "head"
text = "head"
values = ["sound", "cracked"]
assume = "sound"
"""


def load_away(world: World) -> None:
    """Load the book with the work of another firm."""
    books.load_workbook(world.shop, world.by("OWN"), source=BOOK + AWAY)


def take_away(world: World, **terms: object) -> str:
    """A job whose head is to go away; its first two phases are done by T2."""
    job = jobs.take(
        world.shop, world.by("FOR"), operations=["MS"], family="B4-M-F",
        vehicle=f"truck {world.acts}", lift=None, mass_kg=1900, **terms,  # type: ignore[arg-type]
    ).job  # fmt: skip
    assert job is not None
    return job


def to_firm(world: World, job: str) -> None:
    """Done as far as the work of the other firm, which has begun."""
    world.do("T2", job, "1")
    world.do("T2", job, "2")


def told_outside(world: World) -> str:
    """In the busy shop: a call, a new ceiling, outwork away and back, advice answered."""
    shop = world.shop
    load_away(world)
    job = take_away(world, basis="ceiling", ceiling=900)
    advised = holding.find(
        shop, world.by("T2"), job=job, phase="1", kind="advice", text="hoses hard", hours=0.4
    ).recorded[0]
    more = holding.find(
        shop, world.by("T2"), job=job, phase="1", kind="advice", text="mounts soft"
    ).recorded[0]
    calls.note_call(
        shop, world.by("FOR"), job=job, means="telephone", reached=False, text="nobody",
        again=world.now.replace(hour=15),
    )  # fmt: skip
    calls.note_call(shop, world.by("FOR"), job=job, means="letter", reached=True)
    undo.undo(shop, world.by("FOR"))
    ceilings.set_ceiling(
        shop, world.by("FOR"), job=job, ceiling=1400, told_by="Robin Invented", means="in writing"
    )
    ceilings.set_ceiling(
        shop, world.by("FOR"), job=job, ceiling=1500, told_by="customer", means="telephone"
    )
    undo.undo(shop, world.by("FOR"))
    advice.answer_advice(
        shop, world.by("FOR"), job=job, finding=advised, answer="declined", risk_told=True,
        told_by="Robin Invented", means="telephone",
    )  # fmt: skip
    advice.answer_advice(
        shop, world.by("FOR"), job=job, finding=more, answer="agreed", hours=0.5, phase="2"
    )
    _away(world, job)
    return job


def _away(world: World, job: str) -> None:
    """To the firm, asked after, back; then away once more and not back yet."""
    shop = world.shop
    world.sign("T2", job, "G0:1")
    to_firm(world, job)
    outwork.send(
        shop, world.by("T2"), job=job, phase="3", what="head to be refaced", firm="Facing Works",
        promised=world.at(16, day=4), chase=date(2026, 10, 15), price=210,
    )  # fmt: skip
    outwork.chase(
        shop, world.by("T2"), job=job, phase="3", said="one day later", promised=world.at(9, day=5)
    )
    outwork.receive(
        shop, world.by("T2"), job=job, phase="3", report="2 valves too", price=260,
        readings={"left": 121.0, "right": 120.9, "hardness": 88.0}, answers={"": "cracked"},
    )  # fmt: skip
