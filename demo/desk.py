"""The desk: who rings, who comes, what the check says, what is quoted, who says yes.

Of two or three calls one becomes a visit; one check in eight to ten fails; one quote in ten is
declined. Rates are common practice, no source. The short way through the desk is `demo.intake`.
"""

from __future__ import annotations

from datetime import date, datetime, timedelta
from functools import partial

from demo.after import plate_of
from demo.callers import FAILED, LOST, caller
from demo.chance import around, one_in
from demo.getting_ready import get_ready
from demo.hiring import all_back
from demo.pen import minutes
from demo.routes import read_route
from demo.signing import bay
from demo.work import Order, order
from demo.world import Job, World
from store.actions.desk import acts as desk
from store.actions.jobs import Basis
from store.rules.routes import chosen

LOST_CALLS = 1.35
"""Calls that lead nowhere for each one that becomes a visit."""
CHECKED_FIRST = 0.3
"""How often the check is done before anything is agreed."""
FAILS = 1 / 9
ROUGH = 0.3
"""How often the range given by voice is written down."""
DECLINED = 0.18
MEANS = ("telephone", "telephone", "in person", "text message")
CONDITIONS = ("if the studs come out", "customer brings the part", "only with new mounts")
LAMPS = ("none", "none", "none", "engine lamp", "oil lamp flickers", "gearbox fault stored")


def rings(world: World, one: Order, now: datetime) -> None:
    """Somebody rings and will come; others ring that day and will not."""
    dice = world.chance("calls")
    whole = int(LOST_CALLS) + one_in(dice, LOST_CALLS % 1)
    for _ in range(whole):
        world.at(now + minutes(dice.uniform(3, 200)), lambda at: _lost_call(world, at))
    number = _enquiry(world, one, now)
    world.coming += 1
    days = dice.choice((0, 1, 1, 2, 3))
    comes = world.calendar.next_opening(
        now + timedelta(days=days) if days else world.calendar.after(now, 1.5)
    ) + minutes(dice.uniform(5, 90))
    if days:
        world.at(now + minutes(4), partial(_booked, world, number, world.calendar.day_of(comes)))
    world.at(comes, partial(_comes, world, number, one))


def _booked(world: World, number: str, day: date, now: datetime) -> None:
    desk.book(world.shop, world.pen.by(world.leader(), now, "desk"), job=number, day=day)


def _enquiry(world: World, one: Order, now: datetime) -> str:
    dice = world.chance("calls")
    who = caller(dice)
    done = desk.enquire(
        world.shop, world.pen.by(world.leader(), now, "desk"), vehicle=one.vehicle.label,
        complaint=one.complaint, customer=(who.name, who.telephone), operations=one.operations,
        family=one.vehicle.family, options=one.options,
    )  # fmt: skip
    assert done.job is not None
    if one_in(dice, ROUGH):
        world.at(now + minutes(2), partial(_roughly, world, done.job, one))
    return done.job


def _roughly(world: World, number: str, one: Order, now: datetime) -> None:
    """A range by voice."""
    desk.quote(
        world.shop, world.pen.by(world.leader(), now, "desk"), job=number,
        ways=[desk.Way(one.operations, one.options)], rough=True, means="telephone",
    )  # fmt: skip


def _lost_call(world: World, now: datetime) -> None:
    """A range by voice, and nobody comes."""
    dice = world.chance("calls")
    number = _enquiry(world, order(world.chance("lost orders")), now)
    later = world.calendar.after(now, dice.uniform(0.1, 40.0))
    world.at(later, partial(_nobody_comes, world, number))


def _nobody_comes(world: World, number: str, now: datetime) -> None:
    dice = world.chance("calls")
    desk.decline(
        world.shop, world.pen.by(world.leader(), now, "desk"), job=number, why=dice.choice(LOST),
        said_by="customer", means="telephone",
    )  # fmt: skip


def _comes(world: World, number: str, one: Order, now: datetime) -> None:
    """The vehicle is here: checked first, or agreed at the desk."""
    world.coming -= 1
    dice = world.chance("desk talk")
    distance = float(round(around(dice, 120_000, 230_000)))
    desk.arrive(
        world.shop, world.pen.by(world.leader(), now, "desk"), job=number, odometer=distance,
        unit="km", grade=one.grade, lamps=dice.choice(LAMPS),
        identity=desk.Identity(plate=plate_of(one.vehicle.label), mass_kg=one.vehicle.mass_kg),
    )  # fmt: skip
    fails = one_in(dice, FAILS)
    if (fails or one_in(dice, CHECKED_FIRST)) and not one.vehicle.family.startswith("H"):
        job = _job(world, number, one, distance, now)
        job.order, job.fails = one, fails
        world.waiting.append(job)
        world.at(now + minutes(2), lambda at: world.hooks.bring_in(world, at))
        return
    if one_in(dice, 0.5):
        world.at(now + minutes(15), partial(quoted, world, number, one))
    world.at(
        now + minutes(dice.uniform(16, 60)), partial(_agreed_at_once, world, number, one, distance)
    )


def _job(world: World, number: str, one: Order, distance: float, now: datetime) -> Job:
    job = Job(
        number, one.operations, one.vehicle.family, one.grade, one.vehicle.mass_kg,
        world.chance("condition").normalvariate(), small=False, taken=now,
        options=chosen(world.book, one.operations, one.options), label=one.vehicle.label,
        odometer=distance,
    )  # fmt: skip
    read_route(world, job)
    return job


def quoted(world: World, number: str, one: Order, now: datetime) -> None:
    """What it takes, told to the customer."""
    basis, ceiling = terms(one, world)
    until: date = world.calendar.day_of(now) + timedelta(days=30)
    desk.quote(
        world.shop, world.pen.by(world.leader(), now, "desk"), job=number,
        ways=[desk.Way(one.operations, one.options)], basis=basis, ceiling=ceiling, until=until,
        means=world.chance("desk talk").choice(MEANS),
    )  # fmt: skip


def terms(one: Order, world: World) -> tuple[Basis, float | None]:
    """Who pays an overrun, and the most that the customer pays."""
    if one.basis == "ceiling":
        return "ceiling", world.hooks.ceiling(one)
    return ("time" if one.basis == "time" else "fixed price"), None


def _agreed_at_once(
    world: World, number: str, one: Order, distance: float, now: datetime
) -> None:  # fmt: skip
    agreed(world, number, one, now)
    job = _job(world, number, one, distance, now)
    job.promise = world.hooks.promise(world, one, now)
    world.waiting.append(job)
    get_ready(world, job, now)
    world.at(now + minutes(2), lambda at: world.hooks.bring_in(world, at))


def agreed(world: World, number: str, one: Order, now: datetime) -> None:
    """The customer's word."""
    dice = world.chance("desk talk")
    basis, ceiling = terms(one, world)
    desk.agree(
        world.shop, world.pen.by(world.leader(), now, "desk"), job=number, basis=basis,
        ceiling=ceiling, said_by="customer", means=dice.choice(MEANS),
        free_hand=100.0 if one_in(dice, 0.3) else None,
        promise=world.hooks.promise(world, one, now),
    )  # fmt: skip


def checked(world: World, job: Job, now: datetime) -> None:
    """The check is done: it waits for the foreman's judgement."""
    job.waits = "approval"
    world.at(now + minutes(5), partial(_judged, world, job))


def _judged(world: World, job: Job, now: datetime) -> None:
    """Passed and quoted, or failed and turned away."""
    dice = world.chance("desk talk")
    one = job.order
    assert one is not None
    act = world.pen.by(world.leader(), now, bay(job))
    if job.fails:
        why = FAILED[job.operations[0]]
        desk.judge_check(world.shop, act, job=job.number, result="fail", text=why)
        world.at(now + minutes(40), partial(_goes_back, world, job, why))
        return
    within = one_in(dice, 1 / 6)
    desk.judge_check(
        world.shop, act, job=job.number, result="pass with conditions" if within else "pass",
        text=dice.choice(CONDITIONS) if within else None,
    )  # fmt: skip
    world.at(now + minutes(7), partial(quoted, world, job.number, one))
    answer = world.calendar.after(now, 0.3 + around(dice, 1.0, 6.0))
    if one_in(dice, DECLINED) and not world.calm(now):
        world.at(answer, partial(_goes_back, world, job, None))
    else:
        world.at(answer, partial(_says_yes, world, job))


def _goes_back(world: World, job: Job, failed: str | None, now: datetime) -> None:
    """A paid check, and a vehicle to give back."""
    all_back(world, job, now)
    dice = world.chance("desk talk")
    act = world.pen.by(world.leader(), now, "desk")
    if failed is not None and one_in(dice, 0.6):
        desk.turn_away(world.shop, act, job=job.number, why=failed)
    else:
        desk.decline(
            world.shop, act, job=job.number, why=failed or dice.choice(LOST), said_by="customer",
            means=dice.choice(MEANS),
        )  # fmt: skip
    job.done = True
    world.live.remove(job)
    world.hooks.free_lift(world, job, now)


def _says_yes(world: World, job: Job, now: datetime) -> None:
    assert job.order is not None
    agreed(world, job.number, job.order, now)
    job.promise = world.hooks.promise(world, job.order, now)
    job.order = None
    read_route(world, job)
    get_ready(world, job, now)
    world.hooks.goes_on(world, job, now)
