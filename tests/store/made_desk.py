"""What the desk does, for tests: a work book with qualifying checks, and jobs on their way in."""

from __future__ import annotations

from datetime import date

from store.actions import books, comebacks, jobs, phases, places
from store.actions.desk import acts as desk
from tests.store.actions.made import World

BOOK = """
name = "Checked work"

[families.engine]
B4 = "petrol, four"
[families.gearbox]
M = "manual"
[families.axles]
F = "front"

[[phase]]
code = "R0"
name = "reception"
place = "ground"
hours = [0.3, 0.5, 0.8]
always = true

[[phase]]
code = "SQ"
name = "trace the leak"
place = "ground"
after = "drives"
hours = [0.4, 0.6, 1.0]
qualifies = true
[[phase.step]]
code = "fit"
kind = "decision"
text = "Is it the seal?"
[[phase.step.answer]]
code = "yes"
text = "the seal"
odds = "4 in 5"
[[phase.step.answer]]
code = "no"
text = "a cover above it"
odds = "1 in 5"
ends = true

[[phase]]
code = "PQ"
name = "listen to the pump"
place = "ground"
after = "drives"
hours = 0.5
qualifies = true

[[phase]]
code = "S1"
name = "open"
place = "lift"
after = "rolls"
class = "strip"
hours = [1.0, 1.5, 3.0]
[[phase.step]]
code = "seat"
kind = "decision"
text = "How is the seat?"
[[phase.step.answer]]
code = "sound"
text = "sound"
odds = "4 in 5"
sets = { seat = "sound" }
[[phase.step.answer]]
code = "worn"
text = "worn"
odds = "1 in 5"
sets = { seat = "worn" }

[[phase]]
code = "S2"
name = "sleeve"
place = "lift"
hours = 1.0

[[phase]]
code = "S3"
name = "seal in"
place = "lift"
hours = [0.5, 0.8, 1.4]

[[phase]]
code = "P1"
name = "pump"
place = "lift"
hours = [0.8, 1.2, 2.0]

[[phase]]
code = "Z0"
name = "shut and drive"
place = "road"
after = "drives"
class = "refit"
hours = 0.7

[[operation]]
code = "SE"
name = "seal"
route = [
    "R0", "SQ", "S1", { phase = "S2", when = { option = { seat = "worn" } } }, "S3", "Z0",
]
[[operation.option]]
code = "seat"
text = "seat"
values = ["sound", "worn"]
assume = "sound"

[[operation]]
code = "PU"
name = "pump"
route = ["R0", "PQ", "S1", "P1", "Z0"]

[[operation]]
code = "LA"
name = "lamps"
route = ["R0", "Z0"]
"""

KIM = ("Kim Invented", "0123 456789")
FAMILY = "B4-M-F"


def with_checks(world: World) -> World:
    """Load the book with qualifying checks."""
    books.load_workbook(world.shop, world.by("FOR"), source=BOOK)
    return world


def enquiry(
    world: World,
    *operations: str,
    vehicle: str = "blue van",
    customer: tuple[str, str] | None = None,
) -> str:
    """Take an enquiry; return its number."""
    done = desk.enquire(
        world.shop, world.by("T1"), vehicle=vehicle, complaint="oil under it", customer=customer,
        operations=operations, family=FAMILY if operations else "",
    )  # fmt: skip
    assert done.job
    return done.job


def arrived(
    world: World,
    *operations: str,
    vehicle: str = "blue van",
    customer: tuple[str, str] | None = None,
) -> str:
    """An enquiry whose vehicle is here, in the yard; its number."""
    job = enquiry(world, *(operations or ("SE",)), vehicle=vehicle, customer=customer)
    desk.arrive(world.shop, world.by("T1"), job=job, odometer=98_000, unit="km", place="Y")
    return job


def check(world: World, job: str, *, answer: str = "yes") -> None:
    """T1 does the check of a job about a seal."""
    world.do("T1", job, "1")
    world.on("T1", job, "2")
    world.sign("T1", job, "fit", answer=answer)
    phases.finish(world.shop, world.by("T1", minutes=30), job=job, phase="2")


def passed(world: World, job: str) -> None:
    """The check of a job about a seal, done and passed."""
    check(world, job)
    desk.judge_check(world.shop, world.by("FOR"), job=job, result="pass")


def agreed(world: World, job: str) -> None:
    """The customer agreed to a job."""
    desk.agree(
        world.shop, world.by("FOR"), job=job, basis="fixed price", said_by="the customer",
        means="telephone",
    )  # fmt: skip


def closed(world: World, job: str) -> None:
    """Do all that is left of a job about a seal, on lift 2, and close it."""
    places.move(world.shop, world.by("FOR"), job=job, place="2", lift=True)
    world.on("T1", job, "3")
    world.sign("T1", job, "seat", answer="sound")
    world.finish("T1", job, "3")
    world.do("T1", job, "4")
    world.do("T1", job, "5")
    jobs.close(world.shop, world.by("FOR"), job=job)


def at_the_desk(world: World) -> None:
    """Rows for every table of the desk, in a shop whose book has no checks: of `made.busy_shop`."""
    shop = world.shop
    first = desk.enquire(
        shop, world.by("T1"), vehicle="grey estate", complaint="noise", customer=KIM,
        operations=["WP"], family=FAMILY,
    ).job or ""  # fmt: skip
    desk.quote(shop, world.by("FOR"), job=first, rough=True, means="telephone")
    desk.book(shop, world.by("T1"), job=first, day=date(2026, 10, 14), note="spare key", deposit=50)
    desk.arrive(
        shop, world.by("T1"), job=first, odometer=61_000, unit="miles", lamps="none",
        photographs="card 4", place="Y", identity=desk.Identity(vin="1" * 17, plate="ab 12"),
    )  # fmt: skip
    desk.quote(shop, world.by("FOR"), job=first, basis="ceiling", ceiling=900, means="telephone")
    again = desk.arrive(shop, world.by("T1"), vehicle="blue estate").job or ""
    comebacks.come_back(
        shop, world.by("FOR"), job=again, of=_closed_of(world, again), cause="bulb again",
        fault="ours", pays="shop",
    )  # fmt: skip


def _closed_of(world: World, job: str) -> str:
    found = world.one(
        "select old.job from job as old join job as new using (vehicle) where new.job = ? "
        "and old.state = 'closed'",
        job,
    )
    assert isinstance(found, str)
    return found
