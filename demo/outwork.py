"""Work that goes to other firms. Firms are invented."""

from __future__ import annotations

from datetime import datetime, timedelta

from demo.pen import minutes
from demo.world import Job, Phase, World
from store.actions import outwork

FIRMS = {
    "AO": "Dwarsgracht gearboxes", "CH": "Molenwerf machine shop", "IN": "Fijnstraal diesel",
    "EO": "Molenwerf machine shop",
}  # fmt: skip
SENT = {
    "AO": "gearbox, to be overhauled", "CH": "cylinder head, to be pressure tested and faced",
    "IN": "four injectors, to be tested", "EO": "short engine, to be measured",
}  # fmt: skip
REPORTS = (
    "within limits",
    "within limits, as delivered",
    "faced, pressure tested",
    "tested, sound",
)


def send(world: World, job: Job, phase: Phase, back: datetime, now: datetime) -> None:
    """Send it away; the firm says when it will be back, and in two of three cases keeps to that."""
    dice = world.chance("outwork")
    said = back + timedelta(days=dice.choice((-2, -1, 0, 0, 0, 1, 1)))
    promised = world.calendar.next_opening(max(said, now + timedelta(days=1)))
    kind = phase.code[:2]
    outwork.send(
        world.shop, world.pen.by(world.leader(), now + minutes(2), "office"), job=job.number,
        phase=phase.phase, what=SENT.get(kind, "the unit"), firm=FIRMS.get(kind, FIRMS["CH"]),
        promised=promised, chase=world.calendar.day_of(promised),
        price=float(dice.randrange(18, 80) * 10),
    )  # fmt: skip


def take_in(world: World, job: Job, phase: Phase, now: datetime) -> None:
    """It is here again, with its report; the phase is finished by it."""
    outwork.receive(
        world.shop, world.pen.by(world.leader(), now, "office"), job=job.number,
        phase=phase.phase, report=world.chance("outwork").choice(REPORTS),
    )  # fmt: skip
