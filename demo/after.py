"""The end of a job and the months after: handed over, rung up, now and then back again."""

from __future__ import annotations

from datetime import datetime, time, timedelta
from functools import partial

from demo.chance import one_in
from demo.pen import minutes
from demo.world import Job, World
from store.actions import advice, follow_ups, handing_over
from store.actions.comebacks import Fault
from store.actions.desk import acts as desk
from store.sums.working_time import at_zone
from store.views.follow_ups import FollowUp, follow_ups_of
from store.views.outside import advice as advised

COMES_BACK = 0.03
"""Jobs that return with the same trouble within a year, most of them in the first six weeks."""
NOT_OURS = 0.5
DONE = {"Call": 0.65, "Re-check": 0.4, "Wheels": 0.5}
"""How often what follows a job is really done, by the word that it begins with."""
FORGOTTEN = 0.06
"""Of the rest, how many stay on the list although they are long over."""
NOT_TO_BE = ("did not come", "customer did it elsewhere", "not reached, left word")
OUTCOMES = {
    "Call": ("all well", "all well", "all well, drives as new", "a rattle, will come by"),
    "Re-check": ("dry, nothing loose", "dry, level topped up", "a weep, watched"),
    "Wheels": ("torque right", "one a little loose, tightened"),
}
OLD_PARTS = ("kept", "kept", "returned to the customer", "sent in for their surcharge")
RUN_IN = {
    "CL": "500 km gently, no hard starts", "EO": "1,000 km without full load, then the oil",
    "DF": "500 km gently, then the oil is changed", "TC": None,
}  # fmt: skip
AGAIN = {
    "CL": "judders again", "RS": "oil at the bell housing again", "TC": "rattles again when cold",
    "AO": "shudders again", "CH": "loses coolant again", "IN": "chuffs again",
    "DF": "howls again", "EO": "oil under the engine", "TF": "leaks again",
    "FC": "oil at the pulley again",
}  # fmt: skip
CAUSES: dict[Fault, tuple[str, ...]] = {
    "ours": ("seal not square", "bolt not at its torque", "connector not home", "air in the line"),
    "not ours": ("another pipe", "stone through the cooler", "oil of the wrong kind filled since"),
}


def hand_over(world: World, job: Job, now: datetime) -> None:
    """What was advised is answered, the vehicle goes back, and what follows begins."""
    dice = world.chance("handing over")
    if job.advised:
        _answer(world, job, now)
    again = one_in(dice, COMES_BACK) and bool(job.label)
    if again and job.odometer is None:
        _note_plate(world, job, now)
    odometer = None if job.odometer is None else job.odometer + dice.randrange(8, 40)
    handing_over.hand_over(
        world.shop, world.pen.by(world.leader(), now, "office"), job=job.number,
        odometer=odometer, unit=None if odometer is None else "km", to="customer",
        old_parts=dice.choice(OLD_PARTS), run_in=RUN_IN.get(job.operations[0]),
        warranty_months=12, warranty_distance=20_000.0 if odometer is not None else None,
        kits="all there", follow_ups=None if now >= world.followed_from else (),
    )  # fmt: skip
    if now >= world.followed_from:
        _afterwards(world, job, now)
    if again:
        days = min(200.0, dice.expovariate(1 / 30.0) + 4)
        back = world.calendar.next_opening(now + timedelta(days=days))
        world.at(back + minutes(dice.uniform(5, 200)), partial(_comes_back, world, job))


def _note_plate(world: World, job: Job, now: datetime) -> None:
    """By its plate a vehicle is known again."""
    desk.identify(
        world.shop, world.pen.by(world.leader(), now, "office"), job=job.number,
        plate=plate_of(job.label),
    )  # fmt: skip


def plate_of(label: str) -> str:
    """Return the number plate, which stands last in what a vehicle is called."""
    return " ".join(label.split()[-2:])


def _answer(world: World, job: Job, now: datetime) -> None:
    dice = world.chance("advice answers")
    with world.shop.reading() as db:
        found = [one.finding for one in advised(db, job.number) if one.answer is None]
    for finding in found:
        later = one_in(dice, 0.3)
        advice.answer_advice(
            world.shop, world.pen.by(world.leader(), now, "office"), job=job.number,
            finding=finding, answer="later" if later else "declined",
            risk_told=one_in(dice, 0.9), told_by="customer", means="in person",
        )  # fmt: skip


def _afterwards(world: World, job: Job, now: datetime) -> None:
    """Some of what is to be done is done, a day or two about when it should be."""
    dice = world.chance("follow-ups")
    with world.shop.reading() as db:
        lines = follow_ups_of(db, job.number, now)
    for line in lines:
        if line.due is None or line.due > world.last_day:
            continue
        kind = line.what.split(":")[0].split()[0]
        done = one_in(dice, DONE.get(kind, 0.4))
        if not done and one_in(dice, FORGOTTEN):
            continue
        late = dice.randrange(-1, 3) if done else dice.randrange(4, 18)
        at = at_zone(line.due + timedelta(days=late), time(9), world.calendar.zone)
        at = world.calendar.next_opening(max(at + minutes(dice.uniform(0, 300)), now))
        world.at(at, partial(_done, world, line, OUTCOMES.get(kind, ("done",)) if done else None))


def _done(world: World, line: FollowUp, outcomes: tuple[str, ...] | None, now: datetime) -> None:
    follow_ups.follow_up_done(
        world.shop, world.pen.by(world.leader(), now, "office"), job=line.job, line=line.line,
        outcome=world.chance("follow-ups").choice(outcomes or NOT_TO_BE), dropped=outcomes is None,
    )  # fmt: skip


def _comes_back(world: World, job: Job, now: datetime) -> None:
    """The same trouble again, or so it seems: half of it is not the shop's work."""
    if now >= world.closed_from:
        return
    dice = world.chance("comebacks")
    fault: Fault = "not ours" if one_in(dice, NOT_OURS) else "ours"
    number = world.hooks.small_job(
        world, AGAIN[job.operations[0]], plate_of(job.label), dice.choice((1.0, 1.5, 2.0, 3.0)), now
    )
    desk.come_back(
        world.shop, world.pen.by(world.leader(), now, "desk"), job=number,
        of=job.number, cause=dice.choice(CAUSES[fault]), fault=fault,
        pays="shop" if fault == "ours" else "customer",
    )  # fmt: skip
