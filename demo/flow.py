"""A job's way through the shop: in, held, waiting without hands, on again, ended, handed over."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import cast

from demo.after import hand_over
from demo.chance import around, one_in
from demo.desk import checked
from demo.hiring import all_back, give_back, hold_for_kits, is_stopped
from demo.outwork import send, take_in
from demo.pen import minutes
from demo.routes import read_route
from demo.signing import bay, sign_stop
from demo.working import all_off
from demo.world import Job, Phase, World, current
from store.actions import holding, jobs, phases, places
from store.actions.holding import Reason

NEXT_MOVE = {
    "parts": ("supplier", "parts desk", "supplier, courier"), "approval": ("customer",),
    "person": ("foreman", "Ines", "Karel"), "tool": ("supplier", "foreman"),
    "place": ("foreman",), "other": ("foreman", "insurer"), "reading": ("foreman",),
}  # fmt: skip
TEXTS = {
    "parts": ("flywheel bolts not delivered", "wrong seal came", "gasket set short", "parts for "
              "tomorrow's van", "bearing damaged in its box", "hose broke when touched"),
    "person": ("gearbox person on another job", "second signature", "specialist ill", "two people "
               "needed to let it down"),
    "tool": ("locking set late", "puller on another job", "hired press incomplete"),
    "place": ("bench full", "lift needed for a breakdown", "lamp and air out in the bay"),
    "other": ("insurer wants to see it", "customer fetches things from the boot"),
}  # fmt: skip


def hold(world: World, job: Job, phase: Phase, reason: str, hours: float, now: datetime) -> None:
    """Hold a phase for so many working hours; what was said of its end may be wrong."""
    dice = world.chance("held")
    ends = world.wait_ends(now, hours, 1.0)
    badge = next((b for b, part in phase.hands.items() if part == "lead"), world.leader())
    expected = _expected(world, now, hours)
    holding.hold(
        world.shop, world.pen.by(badge, now, bay(job)), job=job.number, phase=phase.phase,
        reason=cast("Reason", reason), until=expected, next_move=dice.choice(NEXT_MOVE[reason]),
        text=dice.choice(TEXTS[reason]),
    )  # fmt: skip
    job.waits = reason
    freed = all_off(world, phase, now)
    if expected is not None and expected < ends - timedelta(hours=4):
        world.at(
            world.calendar.next_opening(expected), lambda at: _missed(world, job, reason, ends, at)
        )
    release_later(world, job, phase, ends)
    world.free(freed, now + minutes(0.4))


def _expected(world: World, now: datetime, hours: float) -> datetime | None:
    """One in six says no end; the others are right more often than not."""
    dice = world.chance("held")
    if one_in(dice, 1 / 6):
        return None
    said = hours * around(dice, 0.95, 1.6)
    when = world.calendar.after(now, max(0.4, said))
    return when.replace(minute=when.minute // 15 * 15, second=0, microsecond=0) + minutes(15)


def _missed(world: World, job: Job, reason: str, ends: datetime, now: datetime) -> None:
    """The expected end has passed: the foreman asks and says a new one."""
    phase = current(job)
    if job.waits != reason or phase is None or job.done:
        return
    now = max(now, world.pen.now)
    expected = max(ends, now + timedelta(hours=1)) + minutes(30)
    holding.hold(
        world.shop, world.pen.by(world.leader(), now, "office"), job=job.number,
        phase=phase.phase, reason=cast("Reason", reason),
        until=expected.replace(second=0, microsecond=0), next_move="supplier asked again",
    )  # fmt: skip


def release_later(world: World, job: Job, phase: Phase, when: datetime) -> None:
    """Release it at an instant."""
    world.at(when, lambda at: _release(world, job, phase, at))


def _release(world: World, job: Job, phase: Phase, now: datetime) -> None:
    holding.release(
        world.shop, world.pen.by(world.leader(), now, "office"), job=job.number, phase=phase.phase
    )
    goes_on(world, job, now)


def goes_on(world: World, job: Job, now: datetime) -> None:
    """A job can be worked on again: whoever has nothing better comes."""
    job.waits = None
    hold_for_kits(world, job, now)
    wake(world, now)


def wake(world: World, now: datetime) -> None:
    """Those who only wait look again for work."""
    idle = [one for one in world.workers.values() if one.here and one.idle]
    world.free(idle, now + minutes(0.4))


def after_phase(world: World, job: Job, now: datetime) -> None:
    """What comes after a phase: another one, a wait without hands, or the end."""
    following = current(job)
    give_back(world, job, now)
    if any(is_stopped(world, one) for one in world.live if not one.waits):
        wake(world, now)
    if following is None and job.order is not None:
        checked(world, job, now)
    elif following is None:
        ended(world, job, now)
    elif following.kind != "labour":
        wait_for(world, job, following, now)
    else:
        hold_for_kits(world, job, now)


def wait_for(world: World, job: Job, phase: Phase, now: datetime) -> None:
    """A phase without labour has begun by itself: it takes its time."""
    job.waits = phase.kind
    dice = world.chance("waits")
    hours = around(dice, phase.book[1], phase.book[2])
    if phase.kind == "standing":
        hours = max(phase.book[0], hours)
        when = world.calendar.next_opening(now + timedelta(hours=hours)) + minutes(
            dice.uniform(3, 25)
        )
    else:
        when = world.wait_ends(now, hours, 6.0)
        send(world, job, phase, when, now)
        clear_lift(world, job, hours, now)
    world.at(when, lambda at: _waited(world, job, phase, at))


def clear_lift(world: World, job: Job, hours: float, now: datetime) -> None:
    """While work is done elsewhere a vehicle that rolls gives its lift to the next one."""
    dice = world.chance("clearing")
    if hours < 12 or job.lift is None or not world.waiting or job.operations[0] != "CH":
        return
    if not one_in(dice, 0.85):
        return
    act = world.pen.by(world.leader(), now, "office")
    places.move(world.shop, act, job=job.number, place="Y", lift=False)
    job.parked = True
    free_lift(world, job, now)


def _waited(world: World, job: Job, phase: Phase, now: datetime) -> None:
    for stop in list(phase.stops):
        if sign_stop(world, job, phase, stop, now) == "nobody":
            world.at(world.calendar.after(now, 2.0), lambda at: _waited(world, job, phase, at))
            return
        phase.stops.remove(stop)
    if phase.kind == "outwork":
        take_in(world, job, phase, now)
    else:
        act = world.pen.by(world.leader(), now, "office")
        phases.finish(world.shop, act, job=job.number, phase=phase.phase)
    read_route(world, job)
    job.waits = None
    after_phase(world, job, now)
    if job.parked and job.waits is None and not job.done:
        job.waits = "place"
        world.waiting.insert(0, job)
        world.at(now + minutes(5), lambda at: world.hooks.bring_in(world, at))
        return
    if job.waits is None:
        wake(world, now)


def ended(world: World, job: Job, now: datetime) -> None:
    """All phases are done: handed over soon, or the vehicle waits in the yard for its owner."""
    job.done = True
    if job.small:
        world.small.remove(job)
    dice = world.chance("closing")
    later = dice.uniform(0.05, 0.3) if job.small else dice.uniform(0.2, 1.2)
    when = world.calendar.after(now, later)
    if world.calm(now):
        when = world.calendar.after(now, 0.05)
    elif not job.small and one_in(dice, 0.35):
        world.at(when, lambda at: _to_yard(world, job, at))
        when = world.calendar.after(when, dice.uniform(2.0, 14.0))
    world.at(when, lambda at: _close(world, job, at))


def _to_yard(world: World, job: Job, now: datetime) -> None:
    if job.lift is None:
        return
    places.move(
        world.shop, world.pen.by(world.leader(), now, "office"), job=job.number, place="Y",
        lift=False,
    )  # fmt: skip
    free_lift(world, job, now)


def free_lift(world: World, job: Job, now: datetime) -> None:
    """The lift is free: the next one that is ready comes in."""
    if job.lift is not None:
        world.on[job.lift] = None
        job.lift = None
    world.at(now + minutes(5), lambda at: world.hooks.bring_in(world, at))


def _close(world: World, job: Job, now: datetime) -> None:
    all_back(world, job, now)
    if job.small:
        jobs.close(world.shop, world.pen.by(world.leader(), now, "office"), job=job.number)
    else:
        hand_over(world, job, now)
    world.live.remove(job)
    free_lift(world, job, now)
