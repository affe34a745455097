"""Plays the demo's last three days: each line of `demo.scenes` through the same actions."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from functools import partial
from typing import cast

from demo.callers import caller
from demo.chance import Chance
from demo.gauges import shown, typed_limits
from demo.intake import take_order
from demo.people import FOREMAN
from demo.scenes import ANSWERS, BOOKED, MONDAY, SMALL, TUESDAY, WAITING, WEDNESDAY, Booked, Line
from demo.telling_desk import lay_ahead, lay_out
from demo.world import World
from store.actions import clock, day_sheet, holding, jobs, parts, phases, places, steps
from store.actions.desk import acts as desk
from store.actions.holding import Reason
from store.edges.events.base import Part
from store.file.route_now import PhaseRow, StepRow, phases_of, steps_of
from store.file.shop import By, Shop
from store.sums.working_time import at_zone

FEWEST_WAITING = 3


@dataclass(slots=True)
class Telling:
    """The last days as they are told.

    Attributes:
        numbers: job numbers by their name in the scenes.
        lifts: where they stand.
    """

    world: World
    month: date
    numbers: dict[str, str] = field(default_factory=dict[str, str])
    masses: dict[str, float] = field(default_factory=dict[str, float])
    lifts: dict[str, str] = field(default_factory=dict[str, str])

    @property
    def shop(self) -> Shop:
        """The shop file."""
        return self.world.shop

    @property
    def chance(self) -> Chance:
        """The dice."""
        return self.world.chance

    def instant(self, text: str) -> datetime:
        """Return the instant of `14 10:40`, day of the month and local time."""
        day, clock_time = text.split()
        return at_zone(
            self.month.replace(day=int(day)), time.fromisoformat(clock_time),
            self.world.calendar.zone,
        )  # fmt: skip

    def by(self, badge: str, at: datetime, name: str = "") -> By:
        """Return who acts at the terminal where a job stands."""
        lift = self.lifts.get(name)
        return self.world.pen.by(badge, at, f"bay-{lift}" if lift else "office")

    def phase(self, name: str, code: str) -> PhaseRow:
        """Return a phase of a job by its code."""
        with self.shop.reading() as db:
            return next(one for one in phases_of(db, self.numbers[name]) if one.code == code)

    def steps(self, name: str, phase: str) -> list[StepRow]:
        """Return the steps of a phase that are signed here: not the plain ones."""
        with self.shop.reading() as db:
            found = steps_of(db, self.numbers[name])
        return [
            one
            for one in found
            if one.phase == phase
            and (one.kind != "step" or one.spec.opens or one.spec.closes or one.spec.deed)
        ]


def book_ahead(world: World, month: date) -> Telling:
    """Let the jobs of the last days be taken while the past still runs."""
    telling = Telling(world, month)
    for one in (*BOOKED, *WAITING):
        world.at(telling.instant(one.taken), partial(_book, telling, one))
    lay_ahead(telling)
    return telling


def _book(telling: Telling, one: Booked, now: datetime) -> None:
    waiting = [name for name in telling.numbers if name in {each.name for each in WAITING}]
    if one in WAITING and len(waiting) + len(telling.world.waiting) >= FEWEST_WAITING:
        return
    number = take_order(telling.world, one.order, telling.instant(one.promise), now)
    telling.numbers[one.name] = number
    telling.masses[one.name] = one.order.vehicle.mass_kg
    who = caller(telling.chance("callers of today"))
    act = telling.by(FOREMAN.badge, now)
    desk.know_customer(telling.shop, act, job=number, name=who.name, telephone=who.telephone)
    if one in BOOKED:
        _order_parts(telling, number, now)


def _order_parts(telling: Telling, number: str, now: datetime) -> None:
    """Ordered at once, here on the next day of work."""
    with telling.shop.reading() as db:
        lines = [row["line"] for row in parts.lines_of(db, number)]
    comes = telling.world.calendar.after(now, 8.0)
    move = partial(parts.move_parts, telling.shop, job=number, lines=lines)
    move(
        telling.by(FOREMAN.badge, now), state="ordered", expected=comes,
        supplier="parts counter",
    )  # fmt: skip

    def here(at: datetime) -> None:
        move(telling.by(FOREMAN.badge, at), state="here")

    telling.world.at(comes, here)


def tell(telling: Telling, until: datetime) -> None:
    """Play the last three days up to an instant."""
    world = telling.world
    lay_out(telling)
    for name, when, text, vehicle, hours in SMALL:
        world.at(telling.instant(when), partial(_small, telling, name, text, vehicle, hours))
    for line in (*MONDAY, *TUESDAY, *WEDNESDAY):
        world.at(telling.instant(line[0]), partial(_play, telling, line))
    world.run(until + timedelta(seconds=1))


def _small(
    telling: Telling, name: str, text: str, vehicle: str, hours: float, now: datetime
) -> None:
    done = jobs.take_small(
        telling.shop, telling.by(FOREMAN.badge, now), text=text, vehicle=vehicle, hours=hours
    )
    assert done.job is not None
    telling.numbers[name] = done.job


def _play(telling: Telling, line: Line, now: datetime) -> None:
    _, badge, deed, words = line
    DEEDS[deed](telling, badge, now, words)


Words = tuple[str, ...]


def _on(telling: Telling, badge: str, now: datetime, words: Words, part: Part = "lead") -> None:
    name, code = words
    phase = telling.phase(name, code)
    by = telling.by(badge, now, name)
    clock.clock_over(telling.shop, by, job=telling.numbers[name], phase=phase.phase, part=part)
    if code != "small":
        _sign_first(telling, badge, now, name, phase)


def _sign_first(telling: Telling, badge: str, now: datetime, name: str, phase: PhaseRow) -> None:
    """What must be signed before anything else is done in a phase."""
    for step in telling.steps(name, phase.phase):
        if step.position > 1 or step.state == "done" or step.spec.signs == 2:
            return
        if step.kind == "hold point":
            _sign_one(telling, badge, now + timedelta(minutes=4), name, phase, step)


def _sign_one(
    telling: Telling, badge: str, now: datetime, name: str, phase: PhaseRow, step: StepRow
) -> None:
    job = telling.numbers[name]
    dice = telling.chance("today")
    for reading in step.spec.readings:
        if reading.typed:
            low, high = typed_limits(reading)
            steps.type_limits(
                telling.shop, telling.by(badge, now, name), job=job, phase=phase.phase,
                step=step.step, reading=reading.code, low=low, high=high,
                source="maker's data, sheet 12",
            )  # fmt: skip
    answer = _answer(phase, step) if step.kind == "decision" else None
    readings = shown(dice, step.spec, telling.masses.get(name, 1500.0))
    steps.sign(
        telling.shop, telling.by(badge, now, name), job=job, phase=phase.phase, step=step.step,
        readings=readings, answer=answer,
    )  # fmt: skip


def _answer(phase: PhaseRow, step: StepRow) -> str:
    return ANSWERS.get(f"{phase.code}.{step.code}") or ANSWERS[step.code]


def _sign(telling: Telling, badge: str, now: datetime, words: Words) -> None:
    name, code, step_code = words
    phase = telling.phase(name, code)
    step = next(one for one in telling.steps(name, phase.phase) if one.code == step_code)
    _sign_one(telling, badge, now, name, phase, step)


def _finish(telling: Telling, badge: str, now: datetime, words: Words) -> None:
    name, code, *why = words
    phase = telling.phase(name, code)
    for step in telling.steps(name, phase.phase):
        if step.state == "done":
            continue
        _sign_one(telling, badge, now, name, phase, step)
        if step.kind == "hold point" and step.spec.signs == 2:
            steps.sign(
                telling.shop, telling.by(FOREMAN.badge, now, name), job=telling.numbers[name],
                phase=phase.phase, step=step.step,
            )  # fmt: skip
    phases.finish(
        telling.shop, telling.by(badge, now, name), job=telling.numbers[name], phase=phase.phase,
        why=why[0] if why else None,
    )  # fmt: skip


def _off(telling: Telling, badge: str, now: datetime, words: Words) -> None:
    clock.clock_off(telling.shop, telling.by(badge, now, *words))


def _away(telling: Telling, badge: str, now: datetime, words: Words) -> None:
    clock.clock_away(telling.shop, telling.by(badge, now, *words))


def _back(telling: Telling, badge: str, now: datetime, words: Words) -> None:
    clock.clock_back(telling.shop, telling.by(badge, now, *words))


def _indirect(telling: Telling, badge: str, now: datetime, words: Words) -> None:
    clock.clock_indirect(telling.shop, telling.by(badge, now), reason=words[0])


def _confirm(telling: Telling, badge: str, now: datetime, words: Words) -> None:
    day = telling.world.calendar.day_of(now)
    day_sheet.confirm_day(telling.shop, telling.by(badge, now, *words), day=day)


def _lift(telling: Telling, badge: str, now: datetime, words: Words) -> None:
    name, code = words
    by = telling.by(badge, now)
    places.move(telling.shop, by, job=telling.numbers[name], place=code, lift=True)
    telling.lifts[name] = code


def _yard(telling: Telling, badge: str, now: datetime, words: Words) -> None:
    by = telling.by(badge, now)
    places.move(telling.shop, by, job=telling.numbers[words[0]], place="Y", lift=False)


def _bench(telling: Telling, badge: str, now: datetime, words: Words) -> None:
    places.move(
        telling.shop, telling.by(badge, now), job=telling.numbers[words[0]], place="W1",
        lift=False, part="unit",
    )  # fmt: skip


def _look_over(telling: Telling, badge: str, now: datetime, words: Words) -> None:
    for code in telling.world.lifts:
        places.look_over(telling.shop, telling.by(badge, now, *words), code=code)


def _close(telling: Telling, badge: str, now: datetime, words: Words) -> None:
    jobs.close(telling.shop, telling.by(badge, now), job=telling.numbers[words[0]])


def _hold(telling: Telling, badge: str, now: datetime, words: Words) -> None:
    name, code, reason, until, next_move, *text = words
    holding.hold(
        telling.shop, telling.by(badge, now, name), job=telling.numbers[name],
        phase=telling.phase(name, code).phase, reason=cast("Reason", reason),
        until=telling.instant(until),
        next_move=next_move, text=text[0] if text else None,
    )  # fmt: skip


def _extra(telling: Telling, badge: str, now: datetime, words: Words) -> None:
    """Extra work is asked for: it waits for the customer's word."""
    name, code, surprise, text, hours = words
    holding.find(
        telling.shop, telling.by(badge, now, name), job=telling.numbers[name],
        phase=telling.phase(name, code).phase, kind="surprise", text=text, hours=float(hours),
        code=surprise,
    )  # fmt: skip


def _advise(telling: Telling, badge: str, now: datetime, words: Words) -> None:
    name, code, text = words
    holding.find(
        telling.shop, telling.by(badge, now, name), job=telling.numbers[name],
        phase=telling.phase(name, code).phase, kind="advice", text=text,
    )  # fmt: skip


def _help(telling: Telling, badge: str, now: datetime, words: Words) -> None:
    _on(telling, badge, now, words, "helper")


def _learn(telling: Telling, badge: str, now: datetime, words: Words) -> None:
    _on(telling, badge, now, words, "learner")


DEEDS: dict[str, Callable[[Telling, str, datetime, Words], None]] = {
    "on": _on, "over": _on, "help": _help, "learn": _learn, "off": _off, "away": _away,
    "back": _back, "indirect": _indirect, "confirm": _confirm, "sign": _sign, "finish": _finish,
    "hold": _hold, "extra": _extra, "advise": _advise, "lift": _lift,
    "yard": _yard, "bench": _bench, "look_over": _look_over, "close": _close,
}  # fmt: skip
