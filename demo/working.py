"""Labour on a phase: begun, gone on with, interrupted, finished."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from demo.chance import around, one_in
from demo.holdups import holdups
from demo.hours import true_hours
from demo.pen import minutes
from demo.signing import bay
from demo.world import Job, Phase, Stop, Worker, World
from store.actions import clock, phases
from store.edges.events.base import Part

HELP = 0.85
"""What a helper moves of what the lead moves."""
TEACHING = 0.85
"""What the lead still moves while somebody learns."""
LATE_ODDS = 1 / 15
LUMPED_ODDS = 1 / 10
LONG_NOON_ODDS = 1 / 40
WHY_LONGER = (
    "rust", "bolts seized", "been apart before, badly", "waited for a second pair of hands",
    "looked for the maker's data", "first one of these", "loom in the way", "tool did not fit",
    "did it twice", "plastic clips broke",
)  # fmt: skip


def rate(phase: Phase) -> float:
    """Return hours of the phase done in an hour, by those on it."""
    parts = list(phase.hands.values())
    teaching = TEACHING if "learner" in parts else 1.0
    return parts.count("lead") * teaching + parts.count("helper") * HELP


def settle(world: World, phase: Phase, now: datetime) -> None:
    """Count what was done since the last look."""
    if phase.since is not None and phase.hands and phase.left_h is not None:
        passed = world.calendar.working_h(phase.since, max(phase.since, now))
        phase.left_h = max(0.0, phase.left_h - passed * rate(phase))
        parts = list(phase.hands.values())
        phase.clocked_h += passed * (len(parts) - parts.count("learner"))
    phase.since = now
    phase.version += 1


def plan(world: World, job: Job, phase: Phase, now: datetime) -> None:
    """Foresee the next thing that happens on a phase while the same hands are on it."""
    if not rate(phase) or phase.left_h is None:
        return
    target = phase.stops[0].left_h if phase.stops else 0.0
    when = world.calendar.after(now, max(0.0, phase.left_h - target) / rate(phase))
    version = phase.version
    world.at(max(when, now), lambda at: _reached(world, job, phase, version, at))


def _reached(world: World, job: Job, phase: Phase, version: int, now: datetime) -> None:
    if phase.version != version or not phase.hands or job.done:
        return
    settle(world, phase, now)
    if not phase.stops:
        finish(world, job, phase, now)
        return
    world.hooks.happen(world, job, phase, phase.stops.pop(0), now)


def begin(world: World, job: Job, phase: Phase, worker: Worker) -> None:
    """Lay down how long the phase takes this time and what will happen in it."""
    times = 99 if job.small else times_done(worker, job, phase)
    hours = true_hours(
        world.chance("hours"), phase.book, phase.code, phase.phase_class,
        family=job.family or "B4-M-F", grade=job.grade, condition=job.condition,
        person=worker.person, times=times,
    )  # fmt: skip
    hours *= world.story.factor(
        phase.code, phase.phase_class, job.family, worker.person.badge,
        world.calendar.day_of(world.pen.now),
    )  # fmt: skip
    dice = world.chance("clocks")
    hours = max(0.1, hours + phase.shift_h)
    if world.calm(world.pen.now):
        hours = min(hours, phase.book[1])
    elif one_in(dice, LONG_NOON_ODDS):
        hours += dice.uniform(0.3, 0.6)
    phase.left_h = hours
    for stop in phase.stops:
        stop.left_h *= hours
    phase.stops += holdups(world, job, phase, hours)
    phase.stops.sort(key=lambda stop: -stop.left_h)
    _lump(world, job, phase, hours)


def times_done(worker: Worker, job: Job, phase: Phase) -> int:
    """Return how often the person has led this operation; one that they led it counts from now."""
    operation = job.operations[0]
    key = f"{worker.person.badge} {operation}"
    if key not in job.counted and phase.phase_class != "strip":
        job.counted.add(key)
        worker.times[operation] = worker.times.get(operation, worker.person.known) + 1
    return worker.times.get(operation, worker.person.known)


def _lump(world: World, job: Job, phase: Phase, hours: float) -> None:
    """Nobody changes the clock at one boundary in ten: one phase gets the other's hours."""
    dice = world.chance("lumps")
    if len(job.phases) < 2 or not one_in(dice, LUMPED_ODDS):
        return
    following = job.phases[1]
    if following.kind != "labour" or following.left_h is not None:
        return
    if one_in(dice, 0.6):
        moved = following.book[1] * dice.uniform(0.3, 0.8)
        phase.left_h = hours + moved
    else:
        moved = -hours * dice.uniform(0.15, 0.4)
    following.shift_h -= moved


@dataclass(frozen=True, slots=True)
class Start:
    """Somebody starts on a phase."""

    worker: Worker
    job: Job
    phase: Phase
    part: Part


def start(world: World, one: Start, now: datetime) -> None:
    """Let somebody start; one clock in fifteen is started late."""
    worker, job, phase = one.worker, one.job, one.phase
    worker.job, worker.phase, worker.idle = job, phase, False
    if one.part == "lead":
        if not worker.person.apprentice or job.small:  # else whoever had it goes on with it
            job.lead = worker.person.badge
        if phase.left_h is None:
            begin(world, job, phase, worker)
    dice = world.chance("clocks")
    late = 0.0
    if one.part != "learner" and not worker.clock_runs and one_in(dice, LATE_ODDS):
        late = dice.uniform(10, 25)
    if late and phase.left_h is not None and phase.left_h > 0.7 and not phase.hands:
        until = now + minutes(late)
        worker.busy_until = until
        world.at(until, lambda at: _start_late(world, one, now, at))
        return
    join(world, one, now)


def _start_late(world: World, one: Start, since: datetime, now: datetime) -> None:
    worker, phase = one.worker, one.phase
    if worker.phase is not phase or not worker.here:
        return
    worker.busy_until = None
    if one.job.waits or phase.hands:
        worker.job = worker.phase = None
        world.free([worker], now)
        return
    assert phase.left_h is not None
    done = world.calendar.working_h(since, now)
    floor = phase.stops[0].left_h if phase.stops else 0.05
    phase.left_h = max(floor, phase.left_h - done)
    join(world, one, now)


def join(world: World, one: Start, now: datetime) -> None:
    """Clock somebody on and plan the phase anew."""
    worker, job, phase = one.worker, one.job, one.phase
    settle(world, phase, now)
    by = world.pen.by(worker.person.badge, now, bay(job))
    act = clock.clock_over if worker.clock_runs else clock.clock_on
    done = act(world.shop, by, job=job.number, phase=phase.phase, part=one.part)
    worker.clock_runs = worker.clocked = True
    worker.last_clock = done.recorded[-1]
    phase.hands[worker.person.badge] = one.part
    if one.part != "learner":
        job.worked.add(worker.person.badge)
    phase.since = now
    plan(world, job, phase, now)


def let_go(world: World, phase: Phase, badge: str, now: datetime) -> None:
    """Somebody is no longer on a phase; their clock was stopped by whoever calls this."""
    settle(world, phase, now)
    phase.hands.pop(badge, None)
    worker = world.workers[badge]
    worker.job = worker.phase = None


def all_off(world: World, phase: Phase, now: datetime) -> list[Worker]:
    """Everybody is off a phase; return who they were."""
    settle(world, phase, now)
    freed = [world.workers[badge] for badge in phase.hands]
    phase.hands.clear()
    for worker in freed:
        worker.job = worker.phase = None
        worker.clock_runs = False
    return freed


def finish(world: World, job: Job, phase: Phase, now: datetime) -> None:
    """The phase is done: say so, say why where it took long, and go on."""
    badge = next((b for b, part in phase.hands.items() if part == "lead"), min(phase.hands))
    dice = world.chance("reasons")
    why = None
    if not job.small and phase.clocked_h > phase.cautious_h and one_in(dice, 0.8):
        why = dice.choice(WHY_LONGER)
    phases.finish(
        world.shop, world.pen.by(badge, now, bay(job)), job=job.number, phase=phase.phase, why=why
    )
    freed = all_off(world, phase, now)
    job.phases = [one for one in job.phases if one is not phase]
    world.hooks.after_phase(world, job, now)
    world.free(freed, now + minutes(0.4))


def lose_time(world: World, phase: Phase) -> None:
    """Called away without a word: the clock runs on and nothing is done."""
    if phase.left_h is not None:
        phase.left_h += around(world.chance("clocks"), 0.3, 0.6)


def resume_stop(phase: Phase, stop: Stop) -> None:
    """Something could not happen yet: it comes first when the work goes on."""
    assert phase.left_h is not None
    stop.left_h = phase.left_h
    phase.stops.insert(0, stop)
