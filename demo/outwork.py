"""Work that goes to other firms. Firms are invented."""

from __future__ import annotations

from datetime import datetime, timedelta

from demo.world import Job, Phase, World
from store.actions import outwork

EXCHANGE = ("Kolkwijk exchange units", "exchange unit, to be delivered", (
    "unit as ordered, seals new", "unit as ordered", "right ratio, seals new",
))  # fmt: skip
FIRMS = {
    "AO": ("Dwarsgracht gearboxes", "gearbox, to be overhauled", (
        "clutches and seals new, tested on the bench", "valve body new too, tested on the bench",
    )),
    "CH": ("Molenwerf machine shop", "cylinder head, to be pressure tested and faced", (
        "faced, pressure tested", "faced, two guides new, pressure tested", "flat within .03 mm",
    )),
    "IN": ("Fijnstraal diesel", "four injectors, to be tested", (
        "tested, all within the maker's figures", "one renewed, tested",
    )),
}  # fmt: skip
"""By kind of work: the firm, what goes there, what it says; all else is an exchange unit."""


def send(world: World, job: Job, phase: Phase, back: datetime, now: datetime) -> None:
    """Send it away; the firm says when it will be back, and in two of three cases keeps to that."""
    dice = world.chance("outwork")
    said = back + timedelta(days=dice.choice((-2, -1, 0, 0, 0, 1, 1)))
    promised = world.calendar.next_opening(max(said, now + timedelta(days=1)))
    firm, what, _ = FIRMS.get(phase.code[:2], EXCHANGE)
    outwork.send(
        world.shop, world.pen.by(world.leader(), now, "office"), job=job.number,
        phase=phase.phase, what=what, firm=firm,
        promised=promised, chase=world.calendar.day_of(promised),
        price=float(dice.randrange(18, 80) * 10),
    )  # fmt: skip


def take_in(world: World, job: Job, phase: Phase, now: datetime) -> None:
    """It is here again, with its report; the phase is finished by it."""
    _, _, reports = FIRMS.get(phase.code[:2], EXCHANGE)
    outwork.receive(
        world.shop, world.pen.by(world.leader(), now, "office"), job=job.number,
        phase=phase.phase, report=world.chance("outwork").choice(reports),
    )  # fmt: skip
