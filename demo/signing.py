"""Hold points, decisions and conditions signed in the demo's past: by whom, with which readings."""

from __future__ import annotations

from datetime import datetime
from typing import Literal

from demo.chance import one_in
from demo.gauges import can_be_out, shown, typed_limits
from demo.pen import minutes
from demo.people import FOREMAN, OWNER
from demo.routes import read_route
from demo.world import Job, Phase, Stop, World
from store.actions import steps
from store.rules.book import Answer, Step

Outcome = Literal["signed", "out", "nobody"]
OUT_ODDS = 0.05
"""How often a reading that can be outside its limits is."""
DATA = "maker's data, sheet {}"


def sign_stop(world: World, job: Job, phase: Phase, stop: Stop, now: datetime) -> Outcome:
    """Sign a step, or say that nobody is here who may, or that the reading is outside its limits.

    Decisions change the route.
    """
    step = stop.step
    assert step is not None
    signers = who_signs(world, job, step)
    if signers is None:
        return "nobody"
    if step.kind == "decision":
        _decide(world, job, phase, stop, signers[0], now)
        return "signed"
    if step.kind == "step":
        _put(world, job, phase, stop, signers[0], now, {})
        return "signed"
    return _hold_point(world, job, phase, stop, signers, now)


def _hold_point(
    world: World, job: Job, phase: Phase, stop: Stop, signers: list[str], now: datetime
) -> Outcome:
    step = stop.step
    assert step is not None
    dice = world.chance("readings")
    _type_limits(world, job, phase, stop, signers[0], now)
    out = can_be_out(step) and not world.calm(now) and one_in(dice, OUT_ODDS)
    readings = shown(dice, step, job.mass_kg, out=out)
    _put(world, job, phase, stop, signers[0], now, readings)
    if out:
        return "out"
    if step.signs == 2:
        _put(world, job, phase, stop, signers[1], now + minutes(0.7), {})
    return "signed"


def _put(
    world: World,
    job: Job,
    phase: Phase,
    stop: Stop,
    badge: str,
    now: datetime,
    readings: dict[str, float],
) -> None:
    steps.sign(
        world.shop, world.pen.by(badge, now, bay(job)), job=job.number, phase=phase.phase,
        step=stop.number, readings=readings,
    )  # fmt: skip


def bay(job: Job) -> str:
    """Return the name of the terminal where a job stands."""
    return f"bay-{job.lift}" if job.lift else "office"


def _type_limits(
    world: World, job: Job, phase: Phase, stop: Stop, badge: str, now: datetime
) -> None:
    assert stop.step is not None
    for reading in stop.step.readings:
        if reading.typed and not stop.reason:
            low, high = typed_limits(reading)
            sheet = world.chance("readings").randrange(1, 40)
            steps.type_limits(
                world.shop, world.pen.by(badge, now, bay(job)), job=job.number, phase=phase.phase,
                step=stop.number, reading=reading.code, low=low, high=high,
                source=DATA.format(sheet),
            )  # fmt: skip


def measure_again(world: World, job: Job, phase: Phase, stop: Stop, now: datetime) -> bool:
    """After a reading outside its limits: measured again inside them, or let stand.

    Returns:
        False where nobody is here who may sign.
    """
    step = stop.step
    assert step is not None
    signers = who_signs(world, job, step)
    if signers is None:
        return False
    dice = world.chance("readings")
    if one_in(dice, 0.3):
        reason = dice.choice(
            ("maker's data allow it for this build", "told the customer, wants it so",
             "wear even all round, seen before, advice written")
        )  # fmt: skip
        steps.sign(
            world.shop, world.pen.by(world.leader(), now, "office"), job=job.number,
            phase=phase.phase, step=stop.number, as_is=reason,
        )  # fmt: skip
    else:
        readings = shown(dice, step, job.mass_kg)
        _put(world, job, phase, stop, signers[0], now, readings)
    if step.signs == 2:
        second = next(one for one in [*signers[1:], world.leader()] if one != signers[0])
        _put(world, job, phase, stop, second, now + minutes(0.7), {})
    return True


def who_signs(world: World, job: Job, step: Step) -> list[str] | None:
    """Return whose names go under a step, in order; None where somebody lacks."""
    here = [
        badge
        for badge, worker in world.workers.items()
        if (worker.here or badge == OWNER.badge) and not worker.person.apprentice
    ]
    if step.needs:
        here = [badge for badge in here if set(step.needs) <= world.qualified.get(badge, set())]
    if step.by == "foreman":
        here = [badge for badge in here if badge in (FOREMAN.badge, OWNER.badge)]
    if step.not_by_fitter and step.signs == 1:
        here = [badge for badge in here if badge not in job.worked]
    first = _first(job, here)
    others = [badge for badge in here if badge != first]
    if first is None or (step.signs == 2 and not others):
        return None
    return [first, *_by_nearness(world, others)]


def _first(job: Job, here: list[str]) -> str | None:
    if job.lead in here:
        return job.lead
    return here[0] if len(here) == 1 else next((one for one in here if one != OWNER.badge), None)


def _by_nearness(world: World, badges: list[str]) -> list[str]:
    """Technicians are asked first, then the foreman, then the owner."""
    rank = {OWNER.badge: 2, FOREMAN.badge: 1}
    return sorted(badges, key=lambda badge: (rank.get(badge, 0), badge))


def _decide(world: World, job: Job, phase: Phase, stop: Stop, badge: str, now: datetime) -> None:
    step = stop.step
    assert step is not None
    answer = _answer(world, step)
    steps.sign(
        world.shop, world.pen.by(badge, now, bay(job)), job=job.number, phase=phase.phase,
        step=stop.number, answer=answer.code,
    )  # fmt: skip
    job.options = {**job.options, **answer.sets}
    job.fails = job.fails or (answer.ends and job.order is not None)
    if answer.sets or answer.ends:
        read_route(world, job)


def _answer(world: World, step: Step) -> Answer:
    """Draw an answer at the book's odds."""
    dice = world.chance("decisions")
    return dice.choices(step.answers, [one.odds for one in step.answers])[0]
