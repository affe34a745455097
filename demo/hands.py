"""Who does what next: everybody looks for the work that is nearest to their hands."""

from __future__ import annotations

from datetime import datetime

from demo.chance import one_in
from demo.hiring import is_stopped
from demo.pen import minutes
from demo.people import FOREMAN
from demo.signing import bay
from demo.working import Start, all_off, let_go, plan, settle, start
from demo.world import Job, Phase, Worker, World, current
from store.actions import clock, places

ENGINE_WORK = {"TC", "CH", "IN", "FC", "EO", "RS"}
"""Operations that the gearbox specialist leads no core phase of."""
ACCESS = ("G0", "PS", "TX", "GB", "FW", "AS", "AW", "SP", "CO", "FR", "ZR")
GIVEN = 0.8
"""How often simple work is left to an apprentice who is free."""
LESSON_H = 1.2
"""Nobody sits down to learn for less."""
HEAVY = ("GB-off", "GB-on", "AS-off", "AS-on", "TX-off", "TX-on", "DF2", "DF6", "AO3", "CH3", "CH7")
"""Phases on which a second pair of hands is welcome."""


def choose(world: World, worker: Worker, now: datetime) -> None:
    """Let somebody who is free start on something."""
    if not worker.here or worker.phase is not None or worker.busy_until is not None:
        return
    assert worker.leaves is not None
    now = max(now, world.pen.now)
    if now >= worker.leaves:
        return
    if now >= worker.leaves - minutes(12):
        _pass_time(world, worker, now)
        return
    first = _other if worker.person.apprentice else _own
    found = first(world, worker) or _small_first(world, worker) or _other(world, worker)
    found = found or _small(world, worker) or _beside(world, worker)
    if found is not None and _left_to_apprentice(world, found, now):
        choose(world, worker, now)
        return
    if found is None:
        _pass_time(world, worker, now)
        return
    if found.job.small and found.phase.left_h is None:
        _place_small(world, found.job, now)
    start(world, found, max(now, world.pen.now))


def _left_to_apprentice(world: World, found: Start, now: datetime) -> bool:
    """Simple work goes to an apprentice who may lead it and is free, or only learns."""
    phase = found.phase
    if found.worker.person.apprentice or found.part != "lead" or phase.left_h is not None:
        return False
    for worker in world.workers.values():
        if not _can_be_called(worker, now) or not _can_lead(world, worker, found.job, phase):
            continue
        if one_in(world.chance("apprentices"), GIVEN):
            _stop_learning(world, worker, now)
            start(world, Start(worker, found.job, phase, "lead"), now)
            return True
    return False


def _can_be_called(worker: Worker, now: datetime) -> bool:
    if not (worker.person.apprentice and worker.here and worker.busy_until is None):
        return False
    assert worker.leaves is not None
    learns = worker.phase is None or worker.phase.hands.get(worker.person.badge) == "learner"
    return learns and now < worker.leaves - minutes(40)


def _stop_learning(world: World, worker: Worker, now: datetime) -> None:
    """Their clock runs on until the next one starts."""
    job, phase = worker.job, worker.phase
    if job is not None and phase is not None:
        let_go(world, phase, worker.person.badge, now)
        plan(world, job, phase, now)


def _workable(world: World, job: Job) -> Phase | None:
    """Return the phase on which somebody could start now."""
    phase = current(job)
    if job.waits or job.done or job.stuck_on or phase is None or phase.kind != "labour":
        return None
    if not job.small and job.lift is None and job.place is None:
        return None
    return None if (phase.hired or phase.owned) and is_stopped(world, job) else phase


def _can_lead(world: World, worker: Worker, job: Job, phase: Phase) -> bool:
    if worker.person.role != "technician":
        return False
    if worker.person.apprentice:
        day = world.calendar.day_of(world.pen.now)
        return world.story.lets_lead(worker.person.badge, phase.code, day)
    if not set(phase.needs) <= world.qualified.get(worker.person.badge, set()):
        return False
    if not worker.person.gearboxes_only or phase.code.startswith(ACCESS):
        return True
    return phase.code[:2] not in ENGINE_WORK


def _free_lead(world: World, worker: Worker, job: Job) -> Start | None:
    phase = _workable(world, job)
    if phase is None or phase.hands or not _can_lead(world, worker, job, phase):
        return None
    if any(other.phase is phase for other in world.workers.values()):
        return None
    return Start(worker, job, phase, "lead")


def _own(world: World, worker: Worker) -> Start | None:
    """The job one is on goes first."""
    for job in world.live:
        if job.lead == worker.person.badge and not job.small:
            found = _free_lead(world, worker, job)
            if found is not None:
                return found
    return None


def _small_first(world: World, worker: Worker) -> Start | None:
    """Small jobs break in: somebody waits for the vehicle."""
    likely = 0.9 if worker.person.apprentice else 0.0 if world.calm(world.pen.now) else 0.22
    if not one_in(world.chance("hands"), likely):
        return None
    return _small(world, worker)


def _other(world: World, worker: Worker) -> Start | None:
    """Another job on which nobody is: its lead is away or busy elsewhere; the oldest first."""
    for job in world.live:
        if not job.small:
            found = _free_lead(world, worker, job)
            if found is not None:
                return found
    return None


def _small(world: World, worker: Worker) -> Start | None:
    for job in world.small:
        phase = _workable(world, job)
        if phase is None or phase.hands or any(w.phase is phase for w in world.workers.values()):
            continue
        if worker.person.role == "technician" or one_in(world.chance("hands"), 0.5):
            return Start(worker, job, phase, "lead")
    return None


def _beside(world: World, worker: Worker) -> Start | None:
    """Lend a hand at something heavy, or learn."""
    if worker.person.role != "technician":
        return None
    for job in world.live:
        phase = _workable(world, job)
        if phase is None or job.small or len(phase.hands) != 1 or phase.left_h is None:
            continue
        if phase.left_h < 0.4:
            continue
        if worker.person.apprentice:
            if phase.code in HEAVY:
                return Start(worker, job, phase, "helper")
            if phase.left_h > LESSON_H:
                return Start(worker, job, phase, "learner")
        if phase.code in HEAVY and phase.left_h > 0.8:
            return Start(worker, job, phase, "helper")
    return None


def _place_small(world: World, job: Job, now: datetime) -> None:
    """A small job takes the low lift where it is free; many need none."""
    if job.phases[0].book[1] < 0.7 or world.on["5"] is not None:
        return
    places.move(
        world.shop,
        world.pen.by(world.leader(), now, "office"),
        job=job.number,
        place="5",
        lift=True,
    )
    world.on["5"] = job
    job.lift = "5"


def _pass_time(world: World, worker: Worker, now: datetime) -> None:
    """Nothing to do on a job: tidying, looking for parts, helping."""
    worker.idle = True
    if worker.person.badge == FOREMAN.badge or worker.clock_runs:
        return
    dice = world.chance("idle")
    reason = dice.choice(("tidying", "parts", "parts", "helping", "other"))
    act = world.pen.by(worker.person.badge, now, "bench")
    worker.last_clock = clock.clock_indirect(world.shop, act, reason=reason).recorded[-1]
    worker.clock_runs = worker.clocked = True


def step_out(world: World, worker: Worker, reason: str, now: datetime) -> None:
    """Leave what one is on for something that no job pays."""
    job, phase = worker.job, worker.phase
    act = world.pen.by(worker.person.badge, now, bay(job) if job else "bench")
    done = clock.clock_indirect(world.shop, act, reason=reason)
    worker.clock_runs = worker.clocked = True
    worker.last_clock = done.recorded[-1]
    if phase is None or job is None:
        return
    settle(world, phase, now)
    phase.hands.pop(worker.person.badge, None)
    worker.job = worker.phase = None
    if phase.hands and "lead" not in phase.hands.values():
        _without_lead(world, phase, now)
    elif phase.hands:
        plan(world, job, phase, now)


def _without_lead(world: World, phase: Phase, now: datetime) -> None:
    """Helpers and learners do not go on alone."""
    for badge in list(phase.hands):
        other = world.workers[badge]
        clock.clock_off(world.shop, world.pen.by(badge, now, "bench"))
        other.clock_runs = False
    world.free(all_off(world, phase, now), now + minutes(0.4))
