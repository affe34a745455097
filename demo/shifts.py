"""A day of the shop: who comes, looks the lifts over, goes home, and what of it is confirmed."""

from __future__ import annotations

from contextlib import suppress
from datetime import date, datetime, time, timedelta
from functools import partial

from demo.chance import one_in
from demo.hands import choose, step_out
from demo.hiring import due_today
from demo.intake import LINE, take_one, take_small
from demo.pen import minutes
from demo.people import away_on
from demo.signing import bay
from demo.working import settle
from demo.world import Worker, World
from store.actions import clock, day_sheet, people, places
from store.sums.working_time import at_zone
from store.trouble import Refused

FORGOTTEN_ODDS = 0.095
"""Of somebody's last clock of a day: one clock in 60 to 100 is left running overnight."""
CONFIRMED_ODDS = 0.9
LOOKED_OVER_ODDS = 0.95
SMALL_A_DAY = 1.42


def open_day(world: World, day: date) -> None:
    """Lay a day out before it begins."""
    shifts = world.calendar.shifts_of(day)
    if not shifts:
        return
    start, end = shifts[0][0], shifts[-1][1]
    world.at(start - minutes(6), lambda now: _look_over(world, now))
    world.at(start + minutes(45), lambda now: due_today(world, [*world.live, *world.waiting], now))
    for worker in world.workers.values():
        if _comes(world, worker, day):
            dice = world.chance("arrivals")
            world.at(start + minutes(dice.uniform(0, 7)), partial(arrive, world, worker, end))
        elif worker.forgot is not None:
            world.at(start + minutes(30), partial(resolve, world, worker, by_foreman=True))
    _orders(world, start, end)


def _comes(world: World, worker: Worker, day: date) -> bool:
    person = worker.person
    if person.role == "owner" or day < person.from_day or day in worker.off:
        return False
    if person.until_day is not None and day > person.until_day:
        return False
    return not away_on(person, day)


def _orders(world: World, start: datetime, end: datetime) -> None:
    dice = world.chance("desk")
    open_s = (end - start).total_seconds()
    for _ in range(max(0, LINE - len(world.waiting))):
        if one_in(dice, 0.6):
            world.at(
                start + timedelta(seconds=round(open_s * dice.uniform(0.02, 0.9))),
                lambda now: take_one(world, now),
            )
    if world.calendar.day_of(start) == world.last_day:
        return
    count = int(SMALL_A_DAY * dice.uniform(0.4, 1.6) + 0.5)
    for _ in range(count):
        if len(world.small) > 5:
            break
        when = start + timedelta(seconds=round(open_s * dice.uniform(-0.02, 0.8)))
        world.at(when, lambda now: take_small(world, now))


def _look_over(world: World, now: datetime) -> None:
    """Before use, by whoever opens the shop: a habit of the last weeks only."""
    if now < world.last_weeks:
        return
    for code in world.lifts:
        if one_in(world.chance("lifts"), LOOKED_OVER_ODDS):
            places.look_over(world.shop, world.pen.by(world.leader(), now, "bay-1"), code=code)


def arrive(world: World, worker: Worker, end: datetime, now: datetime) -> None:
    """Somebody comes: a clock forgotten yesterday first, then tidying or straight to work."""
    worker.here, worker.leaves, worker.clocked = True, end, False
    if worker.forgot is not None:
        by_foreman = one_in(world.chance("forgotten"), 0.2)
        resolve(world, worker, now, by_foreman=by_foreman)
    dice = world.chance("arrivals")
    world.at(end - minutes(dice.uniform(25, 55)), lambda at: _tidy(world, worker, at))
    world.at(end - minutes(dice.uniform(1, 5)), lambda at: leave(world, worker, at))
    if worker.person.at_the_vehicles and one_in(dice, 0.15):
        step_out(world, worker, "tidying", max(now, world.pen.now))
        worker.idle, worker.busy_until = False, now + minutes(dice.uniform(25, 65))
        world.at(worker.busy_until, lambda at: _morning_done(world, worker, at))
        _outings(world, worker, now, end)
        return
    _outings(world, worker, now, end)
    choose(world, worker, max(now, world.pen.now))


def _morning_done(world: World, worker: Worker, now: datetime) -> None:
    if not worker.here:
        return
    worker.busy_until = None
    choose(world, worker, max(now, world.pen.now))


def _outings(world: World, worker: Worker, now: datetime, end: datetime) -> None:
    """Time that no job pays, in the middle of the day."""
    dice = world.chance("outings")
    if not worker.person.at_the_vehicles or not one_in(dice, 0.22):
        return
    reason = dice.choices(("parts", "helping", "customers", "other", "tidying"), (5, 4, 2, 6, 3))[0]
    long = dice.uniform(50, 115)
    when = now + (end - now) * dice.uniform(0.15, 0.75)
    world.at(when, lambda at: _go_out(world, worker, reason, long, at))


def _can_step_out(world: World, worker: Worker) -> bool:
    here = worker.here and worker.busy_until is None
    return here and worker.leaves is not None and world.pen.now < worker.leaves - minutes(3)


def _go_out(world: World, worker: Worker, reason: str, long: float, now: datetime) -> None:
    if not _can_step_out(world, worker) or (worker.phase and not worker.clock_runs):
        return
    if worker.idle and worker.clock_runs:
        return
    step_out(world, worker, reason, max(now, world.pen.now))
    worker.idle, worker.busy_until = False, now + minutes(long)
    world.at(worker.busy_until, lambda at: _morning_done(world, worker, at))


def _tidy(world: World, worker: Worker, now: datetime) -> None:
    """The last minutes go to the broom."""
    if not _can_step_out(world, worker) or not worker.person.at_the_vehicles:
        return
    if worker.phase is not None and one_in(world.chance("arrivals"), 0.2):
        step_out(world, worker, "tidying", max(now, world.pen.now))
        worker.idle = True


def leave(world: World, worker: Worker, now: datetime) -> None:
    """Home: the clock stops, unless it is forgotten."""
    assert worker.leaves is not None
    end = worker.leaves
    worker.here, worker.idle, worker.busy_until = False, False, None
    job, phase = worker.job, worker.phase
    if phase is not None:
        settle(world, phase, now)
        phase.hands.pop(worker.person.badge, None)
    worker.job = worker.phase = None
    if not worker.clock_runs:
        _confirm(world, worker, now)
        return
    if one_in(world.chance("forgotten"), FORGOTTEN_ODDS) and not world.calm(now):
        worker.forgot = (job, max(now, world.pen.now + minutes(1)))
        if job is not None:
            job.stuck_on.add(worker.person.badge)
        return
    so = end if world.pen.now > end else None
    where = bay(job) if job else "bench"
    clock.clock_off(world.shop, world.pen.by(worker.person.badge, now, where, so=so))
    worker.clock_runs = False
    _confirm(world, worker, now)


def _confirm(world: World, worker: Worker, now: datetime) -> None:
    """The day sheet, before going home; refused where closed jobs have confirmed all of it."""
    if worker.clocked and one_in(world.chance("sheets"), CONFIRMED_ODDS):
        act = world.pen.by(worker.person.badge, now, "bench")
        with suppress(Refused):
            day_sheet.confirm_day(world.shop, act, day=world.calendar.day_of(now))


def resolve(world: World, worker: Worker, now: datetime, *, by_foreman: bool) -> None:
    """A clock left running: the person says when it stopped, or the foreman does."""
    if worker.forgot is None:
        return
    job, until = worker.forgot
    now = max(now, world.pen.now)
    if by_foreman:
        day_sheet.correct_clock(
            world.shop, world.pen.by(world.leader(), now, "office"), clock=worker.last_clock,
            until=until, why="left running, asked by telephone",
        )  # fmt: skip
    else:
        act = world.pen.by(worker.person.badge, now, "bench", so=until)
        clock.clock_off(world.shop, act)
    worker.clock_runs, worker.forgot = False, None
    if job is not None:
        job.stuck_on.discard(worker.person.badge)


def set_off(world: World, worker: Worker, first: date, last: date, why: str, now: datetime) -> None:
    """Write an absence down."""
    zone = world.calendar.zone
    midnight = at_zone(first, time(), zone)
    end = at_zone(last + timedelta(days=1), time(), zone)
    people.set_absence(
        world.shop, world.pen.by(world.leader(), now, "office"), badge=worker.person.badge,
        since=midnight, until=end, why=why,
    )  # fmt: skip
    day = first
    while day <= last:
        worker.off.add(day)
        day += timedelta(days=1)
