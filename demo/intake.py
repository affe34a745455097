"""Jobs that come: taken at the desk, promised by feel, brought in when a lift is free."""

from __future__ import annotations

from datetime import datetime, timedelta

from demo.chance import one_in
from demo.desk import rings, terms
from demo.founding import RATE
from demo.gauges import shown
from demo.getting_ready import get_ready
from demo.hiring import ask_for_kits, ask_in_line, hold_for_kits
from demo.pen import minutes
from demo.routes import read_route
from demo.vehicles import small_label
from demo.work import Order, order, small_work
from demo.world import Job, World
from store.actions import jobs, places, steps
from store.file.route_now import steps_of
from store.rules.routes import chosen

LINE = 4
"""So many jobs wait in front of the lifts."""
LONG_WAY = timedelta(days=6)
"""So long before the end nobody rings any more who only comes days later."""
FIT_FOR = {
    "1": {"CL", "RS", "TC", "AO", "CH", "FC", "DF", "EO", "TF"},
    "2": {"CL", "RS", "TC", "AO", "CH", "FC", "DF", "EO", "TF"},
    "3": {"CL", "RS", "TC", "AO", "CH", "FC", "DF", "EO", "TF"},
    "4": {"CL", "RS", "TC", "AO", "TF", "FC"},
    "5": {"IN", "CH"},
}
"""What is done on which lift: engines come out on two posts only."""
HEAVY_KG = 2300.0
USUAL_H = {
    "CL": 10.0, "RS": 10.0, "TC": 13.5, "AO": 11.5, "CH": 14.5, "IN": 7.5, "DF": 11.0, "EO": 23.5,
    "TF": 9.5, "FC": 13.5,
}  # fmt: skip


def take_one(world: World, now: datetime) -> None:
    """Take the next deep job at the desk."""
    if _in_line(world) + world.coming // 3 >= LINE or now >= world.closed_from:
        return
    one = order(world.chance("orders"))
    if world.desk_from <= now < world.closed_from - LONG_WAY:
        rings(world, one, now)
        return
    promise = promised(world, one, now)
    job = _known(world, take_order(world, one, promise, now), one, now)
    job.promise = promise
    world.waiting.append(job)
    get_ready(world, job, now)
    world.at(now + minutes(2), lambda at: bring_in(world, at))


def _in_line(world: World) -> int:
    return sum(not one.parked for one in world.waiting)


def take_order(world: World, one: Order, promise: datetime, now: datetime) -> str:
    """Take a job; return its number."""
    basis, ceiling = terms(one, world)
    done = jobs.take(
        world.shop, world.pen.by(world.leader(), now, "desk"), operations=one.operations,
        family=one.vehicle.family, vehicle=one.vehicle.label, options=one.options,
        grade=one.grade, promise=promise, basis=basis, ceiling=ceiling,
        mass_kg=one.vehicle.mass_kg, complaint=one.complaint,
    )  # fmt: skip
    assert done.job is not None
    return done.job


def usual_ceiling(one: Order) -> float:
    """What a customer with a ceiling pays at most: a third more than is usual, in fifties."""
    return round(_usual_h(one) * 1.35 * RATE / 50) * 50.0


def _usual_h(one: Order) -> float:
    together = 1.0 if len(one.operations) == 1 else 0.7
    return sum(USUAL_H[code] for code in one.operations) * together


def _known(world: World, number: str, one: Order, now: datetime) -> Job:
    job = Job(
        number, one.operations, one.vehicle.family, one.grade, one.vehicle.mass_kg,
        world.chance("condition").normalvariate(), small=False, taken=now,
        options=chosen(world.book, one.operations, one.options), label=one.vehicle.label,
    )  # fmt: skip
    read_route(world, job)
    return job


def promised(world: World, one: Order, now: datetime) -> datetime:
    """By feel: the jobs in front of it, and two and a half times its hours."""
    usual_h, dice = _usual_h(one), world.chance("promises")
    queue_h = len(world.waiting) * 8.0
    when = world.calendar.after(now, queue_h + usual_h * dice.uniform(3.2, 6.2))
    local = when.astimezone(world.calendar.zone)
    return local.replace(hour=dice.choice((12, 15, 16)), minute=0, second=0, microsecond=0)


def bring_in(world: World, now: datetime) -> None:
    """Bring waiting jobs in, as far as lifts are free that fit them."""
    ask_in_line(world, now)
    for job in list(world.waiting):
        if not job.parked and (world.calm(now) or _too_late(world, job, now)):
            continue
        lift = _lift_for(world, job)
        if lift is not None:
            _set_on(world, job, lift, now)
        elif job.operations == ("IN",) and sum(one.place is not None for one in world.live) < 2:
            _to_yard(world, job, now)


def _too_late(world: World, job: Job, now: datetime) -> bool:
    """Long jobs that would not end before the past does stay outside."""
    return world.calm(now + timedelta(days=8)) and "EO" in job.operations


def _lift_for(world: World, job: Job) -> str | None:
    order_of_lifts = (
        ("3", "1", "2", "4", "5") if job.mass_kg > HEAVY_KG else ("1", "2", "4", "5", "3")
    )
    for lift in order_of_lifts:
        if world.on[lift] is not None or job.mass_kg + 80 > world.lifts[lift]:
            continue
        if "EO" in job.operations and job.mass_kg > HEAVY_KG and lift != "3":
            continue
        if all(code in FIT_FOR[lift] for code in job.operations if code != "IN" or lift == "5"):
            return lift
    return None


def _set_on(world: World, job: Job, lift: str, now: datetime) -> None:
    places.move(
        world.shop, world.pen.by(world.leader(), now, "office"), job=job.number, place=lift,
        lift=True,
    )  # fmt: skip
    world.waiting.remove(job)
    world.on[lift] = job
    job.lift = lift
    if job.parked:
        job.parked, job.waits = False, None
        _raised_again(world, job, now)
    _live(world, job, now)


def _raised_again(world: World, job: Job, now: datetime) -> None:
    """What died when the vehicle left its lift is signed anew on the next one."""
    with world.shop.reading() as db:
        dead = [
            one
            for one in steps_of(db, job.number, gates_only=True)
            if one.void_on_lift and one.state == "open"
        ]
    for one in dead:
        badge = next(
            (b for b, w in world.workers.items() if w.here and w.person.role == "technician"
             and not w.person.apprentice), world.leader(),
        )  # fmt: skip
        steps.sign(
            world.shop, world.pen.by(badge, now, f"bay-{job.lift}"), job=job.number,
            phase=one.phase, step=one.step,
            readings=shown(world.chance("readings"), one.spec, job.mass_kg),
        )  # fmt: skip


def _to_yard(world: World, job: Job, now: datetime) -> None:
    places.move(
        world.shop, world.pen.by(world.leader(), now, "office"), job=job.number, place="Y",
        lift=False,
    )  # fmt: skip
    world.waiting.remove(job)
    job.place = "Y"
    _live(world, job, now)


def _live(world: World, job: Job, now: datetime) -> None:
    if job not in world.live:
        world.live.append(job)
    if job.order is None:
        ask_for_kits(world, job, now)
        hold_for_kits(world, job, now)
    idle = [one for one in world.workers.values() if one.here and one.idle]
    world.free(idle, now + minutes(0.4))


def take_small(world: World, now: datetime) -> None:
    """Take a small job: half a day of somebody's, estimated in half hours."""
    dice = world.chance("small")
    text, usual = small_work(dice)
    hours = None if one_in(dice, 0.15) else round(usual * dice.uniform(1.6, 2.4)) / 2
    small_job(world, text, small_label(dice), hours, now)


def small_job(world: World, text: str, label: str, hours: float | None, now: datetime) -> str:
    """Take a small job of somebody's own words; return its number."""
    dice = world.chance("small")
    done = jobs.take_small(
        world.shop, world.pen.by(world.leader(), now, "desk"), text=text, vehicle=label, hours=hours
    )
    assert done.job is not None
    job = Job(done.job, ("small",), "", 2, 1500.0, dice.normalvariate(), small=True, taken=now)
    read_route(world, job)
    world.small.append(job)
    world.live.append(job)
    idle = [one for one in world.workers.values() if one.here and one.idle]
    world.free(idle, now + minutes(0.4))
    return done.job
