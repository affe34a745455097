"""Hired kits: asked for when a job nears its lift, here in time or not, sent back, paid."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime, time, timedelta
from functools import partial

from demo.chance import around, one_in
from demo.pen import minutes
from demo.suppliers import BY_NAME, FOR_KIT, Firm
from demo.world import Hired, Job, Phase, World, current
from store.actions import holding
from store.actions.hires import asked as hires
from store.actions.hires import back as hires_back
from store.actions.hires import here as hires_here
from store.file.shop import Shop
from store.sums.hires.charge import Charge, charge
from store.sums.hires.terms import Terms
from store.sums.working_time import at_zone
from store.views.tools.hired import hires_out

SOON_H = 9.0
"""A kit that is needed so soon on the lift is asked for while the job still waits in the line."""
AHEAD_H = 12.0
"""Working hours before a job in the line is on a lift, as the foreman reckons."""
PACE = 1.7
"""Working hours for an hour of the book's, on a lift."""
STAY = 2.6
"""Working hours for which a kit stays, for an hour of the book's."""
FORGOTTEN = 0.12
"""How often a kit lies about for days after its work."""
ASKED_LONGER = 0.85
"""How often somebody rings before a kit is late."""
SEEN = 0.7
DIRTY = 0.03
FOR_A_KIT = "kit"
"""Why a job waits that is held for a hired kit."""
FEW_ASK = 2
"""Kits of those so far up in the line are asked for."""


def ask_for_kits(world: World, job: Job, now: datetime) -> None:
    """Ask for what the route needs and nobody asked for yet."""
    ahead = 0.0 if job.lift or job.place else AHEAD_H
    in_line, on_lift = ahead, 0.0
    for n, phase in enumerate(job.phases):
        for kit in phase.hired:
            if kit not in job.hires and (not in_line or on_lift < SOON_H):
                _ask(world, job, kit, in_line + on_lift, n, now)
        on_lift += phase.book[1] * PACE


def ask_in_line(world: World, now: datetime) -> None:
    """Those that come in next."""
    for job in world.waiting[:FEW_ASK]:
        if job.order is None and not job.parked:
            ask_for_kits(world, job, now)


def _ask(world: World, job: Job, kit: str, ahead_h: float, first: int, now: datetime) -> None:
    dice = world.chance("hires")
    house = BY_NAME[dice.choice(FOR_KIT[kit])]
    said, comes = _delivery(world, house, ahead_h, now)
    needed_h = sum(one.book[1] for one in job.phases[first : _last(job, kit) + 1]) * STAY
    back = world.calendar.after(said, max(3.0, needed_h)) + timedelta(
        days=dice.choice((0, 1, 1, 2))
    )
    due = _cut_off(world, house, back)
    hires.ask(
        world.shop, world.pen.by(world.leader(), now, "office"), kit=kit, supplier=house.name,
        job=job.number, expected=said, due=due,
    )  # fmt: skip
    one = job.hires[kit] = Hired(kit, house, hire_of(world.shop, kit, job.number), comes, due)
    world.at(comes, partial(_received, world, job, one))


def hire_of(shop: Shop, kit: str, job: str | None) -> str:
    """Return the id of a kit's newest hire for a job that is still out."""
    with shop.reading() as db:
        found = [one for one in hires_out(db) if one.kit == kit and one.job == job]
    return max(found, key=lambda one: one.asked_at).hire


def _delivery(
    world: World, house: Firm, ahead_h: float, now: datetime
) -> tuple[datetime, datetime]:
    """When it is said to come, and when it does."""
    dice = world.chance("hires")
    if world.calm(now):
        soon = max(now, world.pen.now) + minutes(2)
        said = world.calendar.next_opening(soon) + minutes(20)
        return said, said
    day = world.calendar.day_of(now)
    wanted = world.calendar.day_of(world.calendar.after(now, max(0.1, ahead_h - 4.0)))
    soonest = world.days.after(day, house.terms.lead_days)
    said = _at(world, max(wanted, soonest), time(9, dice.randrange(0, 50)))
    late = 0
    odds = world.story.late.get(house.name, house.late_odds)
    while one_in(dice, odds if not late else 0.3):
        late += 1
    comes = _at(world, world.days.after(world.calendar.day_of(said), late), time(
        10 if late else 8, dice.randrange(5, 55)))  # fmt: skip
    return said, max(comes, now + minutes(30))


def _at(world: World, day: date, clock_time: time) -> datetime:
    return at_zone(world.days.on_or_after(day), clock_time, world.calendar.zone)


def _cut_off(world: World, house: Firm, at: datetime) -> datetime:
    """The carrier's last moment on that day or the next working one."""
    return world.days.cut_off(world.days.on_or_after(world.calendar.day_of(at)), house.due)


def _last(job: Job, kit: str) -> int:
    """Where in the route a kit is needed last."""
    return max((n for n, one in enumerate(job.phases) if kit in one.hired), default=0)


def _received(world: World, job: Job, one: Hired, now: datetime) -> None:
    """Looked through on the day it comes; one in 25 is not complete or the wrong one."""
    if one.gone or one.here:
        return
    dice = world.chance("hires")
    lacks = one_in(dice, one.house.incomplete_odds) and not world.calm(now)
    one.here, one.whole = True, not lacks
    hires_here.receive(
        world.shop, world.pen.by(world.leader(), now, "office"), hire=one.hire,
        complete=not lacks, note=dice.choice(one.house.lacks) if lacks else None,
    )  # fmt: skip
    if lacks:
        later = world.calendar.after(now, around(dice, 6.0, 14.0))
        world.at(later, partial(_mended, world, job, one))
        return
    _wanted_for(world, job, now)


def _mended(world: World, job: Job, one: Hired, now: datetime) -> None:
    if one.gone:
        return
    one.whole = True
    hires_here.mend(world.shop, world.pen.by(world.leader(), now, "office"), hire=one.hire)
    _wanted_for(world, job, now)


def _wanted_for(world: World, job: Job, now: datetime) -> None:
    """A job that was held for it goes on."""
    if job.waits == FOR_A_KIT and not _lacking(job, current(job)):
        phase = current(job)
        assert phase is not None
        at = now + minutes(8)
        holding.release(
            world.shop, world.pen.by(world.leader(), at, "office"), job=job.number,
            phase=phase.phase,
        )  # fmt: skip
        world.hooks.goes_on(world, job, at)


def _lacking(job: Job, phase: Phase | None) -> list[Hired | None]:
    if phase is None or phase.left_h is not None:
        return []
    found = [job.hires.get(kit) for kit in phase.hired]
    return [one for one in found if one is None or not (one.here and one.whole)]


def is_stopped(world: World, job: Job) -> bool:
    """Tell whether the phase that comes next waits for a kit: a hired one, or one in use."""
    phase = current(job)
    if phase is None or phase.left_h is not None:
        return False
    return bool(_lacking(job, phase)) or _in_use(world, job, phase)


def _in_use(world: World, job: Job, phase: Phase) -> bool:
    """One of the shop's own kits is on another job."""
    others = (current(one) for one in world.live if one is not job)
    return any(
        not phase.owned.isdisjoint(one.owned)
        for one in others
        if one is not None and one.left_h is not None
    )


def hold_for_kits(world: World, job: Job, now: datetime) -> None:
    """What comes next cannot begin: its kit is not here, or not whole."""
    phase = current(job)
    if phase is None or phase.kind != "labour" or job.waits or job.done:
        return
    ask_for_kits(world, job, now)
    lacking = _lacking(job, phase)
    if not lacking:
        return
    comes = [one.comes for one in lacking if one is not None and one.comes > now]
    holding.hold(
        world.shop, world.pen.by(world.leader(), now, "office"), job=job.number,
        phase=phase.phase, reason="tool", until=max(comes) + minutes(15) if comes else None,
        next_move="supplier", text=f"hired {lacking[0].kit} not here" if lacking[0] else None,
    )  # fmt: skip
    job.waits = FOR_A_KIT


def give_back(world: World, job: Job, now: datetime) -> None:
    """Kits that no later phase needs go back, that day or when somebody thinks of it."""
    needed = {kit for phase in job.phases for kit in phase.hired}
    for kit, one in job.hires.items():
        if kit not in needed and not one.gone:
            _let_go(world, job, one, now)


def _let_go(world: World, job: Job, one: Hired, now: datetime) -> None:
    one.gone = True
    if not one.here:
        at = world.pen.by(world.leader(), now, "office")
        hires.cancel(world.shop, at, hire=one.hire)
        return
    dice = world.chance("hires back")
    back = _cut_off(world, one.house, now) - minutes(dice.uniform(5, 70))
    if back <= now:
        tomorrow = world.days.after(world.calendar.day_of(now), 1)
        back = world.days.cut_off(tomorrow, one.house.due) - minutes(dice.uniform(5, 70))
    if one_in(dice, FORGOTTEN) and not world.calm(now):
        later = world.days.after(world.calendar.day_of(back), dice.choice((1, 1, 2, 3)))
        if one_in(dice, SEEN):  # the day it is due somebody reads the list
            later = max(world.calendar.day_of(back), min(later, world.calendar.day_of(one.due)))
        back = world.days.cut_off(later, one.house.due) - minutes(dice.uniform(5, 70))
    world.at(back, partial(_sent, world, job, one))


def _sent(world: World, job: Job, one: Hired, now: datetime) -> None:
    if one in job.out:
        return
    job.out.append(one)
    one.sent = now
    dirty = one_in(world.chance("hires back"), DIRTY)
    one.extras = one.house.terms.cleaning if dirty else 0.0
    hires_back.send_back(
        world.shop, world.pen.by(world.leader(), now, "office"), hire=one.hire, dirty=dirty,
    )  # fmt: skip
    _afterwards(world, one, now)


def _longer(world: World, one: Hired, now: datetime) -> None:
    """Whoever still needs it rings, mostly; what is overdue is seen the next morning."""
    dice = world.chance("hires back")
    if not one_in(dice, ASKED_LONGER):
        return
    later = world.days.after(world.calendar.day_of(now), dice.choice((1, 1, 2, 3)))
    one.due = world.days.cut_off(later, one.house.due)
    hires.extend(
        world.shop, world.pen.by(world.leader(), now, "office"), hire=one.hire, due=one.due
    )


def all_back(world: World, job: Job, now: datetime) -> None:
    """Before a vehicle goes, what is still here goes back, and what was asked for is not."""
    for one in job.hires.values():
        if one in job.out:
            continue
        if not one.here:
            if not one.gone:
                one.gone = True
                act = world.pen.by(world.leader(), now, "office")
                hires.cancel(world.shop, act, hire=one.hire)
            continue
        one.gone = True
        _sent(world, job, one, now)


def _afterwards(world: World, one: Hired, now: datetime) -> None:
    """The supplier has it again; the invoice comes, and the deposit."""
    dice = world.chance("hires after")
    day = world.calendar.day_of(now)
    at = _at(
        world, world.days.after(day, one.house.terms.back_days), time(11, dice.randrange(0, 59))
    )
    steps = (
        (at, _arrived),
        (at + timedelta(days=dice.randrange(2, 6)), _invoiced),
        (at + timedelta(days=dice.randrange(5, 11)), _deposit),
    )
    for day, then in steps:
        when = world.calendar.next_opening(day)
        if world.calendar.day_of(when) <= world.last_day:
            world.at(when, partial(then, world, one))


def _arrived(world: World, one: Hired, now: datetime) -> None:
    hires_back.arrived(world.shop, world.pen.by(world.leader(), now, "office"), hire=one.hire)


def _invoiced(world: World, one: Hired, now: datetime) -> None:
    cost = _comes_to(world, one)
    hires_back.invoice(
        world.shop, world.pen.by(world.leader(), now, "office"), hire=one.hire,
        amount=round(cost.total + one.extras, 2), late_fee=round(cost.late, 2), extras=one.extras,
    )  # fmt: skip


def _comes_to(world: World, one: Hired) -> Charge:
    assert one.sent is not None
    terms = Terms(one.house.rates[one.kit], one.house.terms)
    return charge(
        terms, one.comes, world.days.handed(one.sent, one.house.due), world.days,
        due=world.calendar.day_of(one.due),
    )  # fmt: skip


def _deposit(world: World, one: Hired, now: datetime) -> None:
    amount = one.house.rates[one.kit].deposit
    hires_back.deposit(
        world.shop, world.pen.by(world.leader(), now, "office"), hire=one.hire, amount=amount
    )


def due_today(world: World, jobs: Iterable[Job], now: datetime) -> None:
    """The foreman's look in the morning: what goes back today, and is not done with."""
    today = world.calendar.day_of(now)
    for job in jobs:
        for one in job.hires.values():
            if one.here and not one.gone and world.calendar.day_of(one.due) <= today:
                _longer(world, one, now)
