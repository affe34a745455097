"""What happens inside a phase: signatures, surprises, holds, advice, being called away."""

from __future__ import annotations

from datetime import datetime
from functools import partial

from demo.chance import around, one_in
from demo.flow import goes_on, hold
from demo.founding import RATE
from demo.pen import minutes
from demo.signing import bay, measure_again, sign_stop
from demo.working import all_off, lose_time, plan, resume_stop, settle
from demo.world import Job, Phase, Stop, Worker, World
from store.actions import calls, clock, holding
from store.file.route_now import steps_of
from store.views import outside

ADVICE = (
    "brake discs at the front near the limit", "tyres old, advise four", "front bushes cracked",
    "exhaust will not last the winter", "battery weak", "coolant pump weeps a little",
    "drop links worn", "radiator fins rotten at the bottom", "rear brake pipe rusty",
)  # fmt: skip


def happen(world: World, job: Job, phase: Phase, stop: Stop, now: datetime) -> None:
    """Let it happen, and go on with the phase if it still can."""
    before = list(phase.hands)
    if stop.kind == "sign":
        _signature(world, job, phase, stop, now)
    elif stop.kind == "surprise":
        _surprise(world, job, phase, stop, now)
    elif stop.kind == "hold":
        hold(world, job, phase, stop.reason, stop.hours, now)
    elif stop.kind == "advice":
        _advice(world, job, phase, now)
    elif stop.kind == "away":
        _away(world, job, phase, stop, now)
    if phase.hands and phase in job.phases:
        settle(world, phase, max(now, world.pen.now))
        plan(world, job, phase, max(now, world.pen.now))
    elif before and phase not in job.phases:
        world.free(all_off(world, phase, now), now + minutes(0.4))


def _signature(world: World, job: Job, phase: Phase, stop: Stop, now: datetime) -> None:
    outcome = sign_stop(world, job, phase, stop, now)
    if outcome == "nobody":
        resume_stop(phase, stop)
        hold(world, job, phase, "person", 6.0, now)
    elif outcome == "out":
        _wait_for_measure(world, job, phase, stop, now)
    elif stop.step is not None and stop.step.kind == "decision":
        phase.stops = [one for one in phase.stops if _still_there(world, job, phase, one)]


def _still_there(world: World, job: Job, phase: Phase, stop: Stop) -> bool:
    """A decision falls away where the planned work has ended."""
    if stop.step is None or stop.step.kind != "decision":
        return True
    with world.shop.reading() as db:
        steps = steps_of(db, job.number, gates_only=True)
    return any((one.phase, one.step) == (phase.phase, stop.number) for one in steps)


def _wait_for_measure(world: World, job: Job, phase: Phase, stop: Stop, now: datetime) -> None:
    """The act has stopped the clocks and holds the phase until somebody measures again."""
    freed = all_off(world, phase, now)
    job.waits = "reading"
    when = world.wait_ends(now, around(world.chance("holds"), 2.0, 8.0), 2.0)
    world.at(when, lambda at: _measured(world, job, phase, stop, at))
    world.free(freed, now + minutes(0.4))


def _measured(world: World, job: Job, phase: Phase, stop: Stop, now: datetime) -> None:
    if not measure_again(world, job, phase, stop, now):
        world.at(world.calendar.after(now, 2.0), lambda at: _measured(world, job, phase, stop, at))
        return
    goes_on(world, job, now)


def _surprise(world: World, job: Job, phase: Phase, stop: Stop, now: datetime) -> None:
    """Reported by the lead; the phase is held for the customer's word."""
    surprise = stop.surprise
    assert surprise is not None
    dice = world.chance("surprises")
    asked = round(surprise.hours * dice.choice((0.8, 1.0, 1.0, 1.0, 1.25)), 1)
    badge = next(b for b, part in phase.hands.items() if part == "lead")
    in_part = asked >= 1.0 and one_in(dice, 0.12)
    lines = [(surprise.text, asked)]
    if in_part:
        lines = [(surprise.text, round(asked * 0.6, 1)), (f"{surprise.text}: renew its neighbours",
                                                          round(asked * 0.4, 1))]  # fmt: skip
    for text, hours in lines:
        holding.find(
            world.shop, world.pen.by(badge, now, bay(job)), job=job.number, phase=phase.phase,
            kind="surprise", text=text, hours=hours, code=surprise.code,
        )  # fmt: skip
    new_lines = [job.lines + n for n in range(1, len(lines) + 1)]
    job.lines += len(lines)
    freed = all_off(world, phase, now)
    job.waits = "approval"
    quick = one_in(dice, 0.12)
    wait_h = 0.2 if quick else around(world.chance("holds"), 3.0, 16.0)
    answer = "in part" if in_part else "no" if one_in(dice, 0.19) else "yes"
    when = world.wait_ends(now, wait_h, 3.0)
    world.at(when, partial(_answered, world, job, phase, surprise.hours, answer, new_lines))
    if not quick:
        _tried(world, job, now, when)
    world.free(freed, now + minutes(0.4))


def _tried(world: World, job: Job, since: datetime, until: datetime) -> None:
    """Half of the customers are not reached at the first try."""
    dice = world.chance("tries")
    at = world.calendar.after(since, 0.2)
    while at < until and one_in(dice, 0.5):
        world.at(at, partial(_try, world, job))
        at = world.calendar.after(at, dice.uniform(0.8, 5.0))


def _try(world: World, job: Job, now: datetime) -> None:
    dice = world.chance("tries")
    left = one_in(dice, 0.4)
    calls.note_call(
        world.shop, world.pen.by(world.leader(), now, "office"), job=job.number,
        means="telephone", reached=False, text="left word" if left else None,
    )  # fmt: skip


def _answered(
    world: World,
    job: Job,
    phase: Phase,
    hours: float,
    answer: str,
    lines: list[int],
    now: datetime,
) -> None:
    dice = world.chance("surprises")
    told_by = dice.choice(("customer", "customer", "customer's partner", "fleet desk"))
    means = dice.choice(("telephone", "telephone", "message", "in person"))
    by_leader = world.leader()
    asked = [lines[:1], lines[1:]] if answer == "in part" else [lines]
    for n, some in enumerate(asked):
        if some:
            yes = answer != "no" and n == 0
            holding.answer_supplement(
                world.shop, world.pen.by(by_leader, now, "office"), job=job.number, approve=yes,
                lines=some, told_by=told_by, means=means,
                ceiling=_higher(world, job, hours, now) if yes else None,
            )  # fmt: skip
    share = {"yes": 1.0, "in part": 0.65, "no": 0.2}[answer]
    assert phase.left_h is not None
    phase.left_h += hours * share * around(dice, 1.0, 1.5)
    if answer != "no":
        phase.cautious_h += hours
    goes_on(world, job, now)


def _higher(world: World, job: Job, hours: float, now: datetime) -> float | None:
    """The ceiling that the customer agrees to with it, where the old one would not hold."""
    with world.shop.reading() as db:
        known = outside.money(db, job.number, now)
    if known.ceiling is None or known.expected is None:
        return None
    comes_to = known.expected[0] + 1.25 * hours * RATE
    return None if comes_to < known.ceiling else round(comes_to / 50 + 2) * 50.0


def _advice(world: World, job: Job, phase: Phase, now: datetime) -> None:
    badge = next(b for b, part in phase.hands.items() if part == "lead")
    job.advised = True
    holding.find(
        world.shop, world.pen.by(badge, now, bay(job)), job=job.number, phase=phase.phase,
        kind="advice", text=world.chance("advice").choice(ADVICE),
    )  # fmt: skip


def _away(world: World, job: Job, phase: Phase, stop: Stop, now: datetime) -> None:
    """Called away: by the key, or without a word."""
    badge = next((b for b, part in phase.hands.items() if part == "lead"), None)
    if badge is None or stop.reason == "silent":
        lose_time(world, phase)
        return
    worker = world.workers[badge]
    back = now + minutes(stop.hours * 60)
    if worker.leaves is None or back > worker.leaves - minutes(6) or len(phase.hands) > 1:
        lose_time(world, phase)
        return
    done = clock.clock_away(world.shop, world.pen.by(badge, now, bay(job)))
    worker.last_clock = done.recorded[-1]
    settle(world, phase, now)
    phase.hands.clear()
    worker.busy_until = back
    world.at(back, lambda at: _back(world, job, phase, worker, at))


def _back(world: World, job: Job, phase: Phase, worker: Worker, now: datetime) -> None:
    if not worker.here or worker.phase is not phase:
        return
    worker.busy_until = None
    if job.waits or phase.hands:
        worker.job = worker.phase = None
        world.free([worker], now)
        return
    done = clock.clock_back(world.shop, world.pen.by(worker.person.badge, now, bay(job)))
    worker.last_clock = done.recorded[-1]
    phase.since = now
    phase.hands[worker.person.badge] = "lead"
    plan(world, job, phase, now)
