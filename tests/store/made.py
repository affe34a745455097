"""A busy shop for tests: every derived table has rows, and most kinds of act were done once.

Two lifts, people of every role, a work book with every kind of gate, two jobs under way and a
closed one. Made once for each process by the actions themselves, then copied.
"""

from __future__ import annotations

import atexit
import shutil
import tempfile
from datetime import date, datetime
from functools import lru_cache
from pathlib import Path

from store.actions import (
    clock,
    day_sheet,
    history,
    holding,
    jobs,
    notes,
    people,
    phases,
    places,
    settings,
    steps,
)
from store.actions.undo import taking_back as undo
from store.edges.events.jobs import CustomerKnown, OdometerRead
from store.edges.events.people import PinSet
from store.edges.events.route import GradeSet
from store.file.pins import keep_secret, make_secret
from store.file.shop import Shop
from tests.store.actions.made import World, make
from tests.store.made_calls import told_outside
from tests.store.made_desk import at_the_desk
from tests.store.made_end import handed_over
from tests.store.made_hires import hired_whole
from tests.store.made_line import line_in_order
from tests.store.made_month import month_told
from tests.store.made_next import lists_of_work
from tests.store.made_parts import get_ready
from tests.store.made_past import finished

CUSTOMER = "c-0123456789abcdef"
MONDAY, NEXT_DAY = date(2026, 10, 12), date(2026, 10, 13)


def busy_shop(folder: Path) -> World:
    """A fresh copy of the busy shop, its clock at the moment after the last act."""
    path = folder / "busy.shop"
    template, now, acts = _template()
    shutil.copy(template, path)
    return World(Shop(path), now, acts)


@lru_cache(maxsize=1)
def _template() -> tuple[Path, datetime, int]:
    folder = Path(tempfile.mkdtemp(prefix="hoistbook-test-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    world = make(folder)
    _set_up(world)
    _desk(world)
    world.to(8, 0)
    deep = _deep_job(world)
    _small_job(world)
    get_ready(world, deep)
    _waiting_job(world)
    lists_of_work(world, deep)
    handed_over(world)
    told_outside(world)
    _next_day(world, deep)
    at_the_desk(world)
    line_in_order(world)
    hired_whole(world)
    month_told(world)
    world.shop.close()
    return world.shop.path, world.now, world.acts


def _set_up(world: World) -> None:
    shop = world.shop
    settings.change_setting(shop, world.by("OWN"), name="cautious", value=0.75)
    settings.set_holiday(shop, world.by("OWN"), day=date(2026, 12, 25), name="Winter day")
    settings.set_holiday(shop, world.by("OWN"), day=date(2026, 12, 28), name="Stocktaking")
    settings.clear_holiday(shop, world.by("OWN"), day=date(2026, 12, 28))
    settings.set_rate(shop, world.by("OWN"), per_hour=95.5, from_day=date(2027, 1, 1))
    people.add_person(
        shop, world.by("OWN"), badge="T3", name="Törst, Jürgen", role="technician",
        from_day=date(2026, 10, 1), until_day=date(2027, 10, 1),
    )  # fmt: skip
    people.change_person(shop, world.by("OWN"), badge="T3", experience="expert")
    history.import_history(
        shop, world.by("OWN"), source="old.csv",
        records=[
            finished("88", 1, grade=3, phase_class="strip", people=2, lumped_with=2),
            finished("88", 2, lumped_with=1, serves=("CH", "CL"), surprise_h=0.25),
            finished("89", 1, cut_off=True),
        ],
    )  # fmt: skip
    people.set_absence(
        shop, world.by("FOR"), badge="T3", since=world.at(8, day=1), until=world.at(16, day=2),
        why="course",
    )  # fmt: skip
    for lift in ("1", "2", "3"):
        places.look_over(shop, world.by("T1"), code=lift)
    places.withdraw_lift(shop, world.by("T1"), code="3", reason="a cable frays")
    places.return_lift(shop, world.by("FOR"), code="3")
    places.withdraw_lift(shop, world.by("T2"), code="3", reason="the lock clicks late")


def _desk(world: World) -> None:
    """What the desk will record: a customer by a random id, the name beside the ledger."""
    with world.shop.changing(world.by("FOR")) as change:
        change.record(CustomerKnown(customer=CUSTOMER))
        change.db.execute(
            "insert into customer_private values (?, ?, ?)", (CUSTOMER, "Kim Invented", "0123 456")
        )


def _deep_job(world: World) -> str:
    """Up to a half-signed hold point, over a reading out of limits and a decision."""
    shop, job = world.shop, world.take("TC", "1")
    jobs.promise(shop, world.by("FOR"), job=job, at=world.at(16, day=4), chance=0.8)
    with shop.changing(world.by("FOR")) as change:
        vehicle = change.db.execute("select vehicle from job where job = ?", [job]).fetchone()[0]
        change.record(OdometerRead(vehicle=vehicle, value=123_456, unit="km"))
        change.record(GradeSet(job=job, grade=3))
    notes.note(shop, world.by("APP"), job=job, text="wants the old parts back")
    notes.note(shop, world.by("T1"), job=job, text="of another job")
    undo.undo(shop, world.by("T1"))
    world.do("T1", job, "1")
    world.on("T1", job, "2")
    world.sign("T1", job, "HL", readings={"value": 1980.5})
    world.sign("T1", job, "GB-off:1")
    _reading_out(world, job)
    _clocks(world, job)
    world.finish("T1", job, "2")
    _finding(world, job)
    _decision(world, job)
    _limits(world, job)
    return job


def _reading_out(world: World, job: str) -> None:
    world.sign("T1", job, "LK", readings={"a": 0.1, "b": 0.5})
    holding.find(
        world.shop, world.by("T1"), job=job, phase="2", kind="advice", text="pin worn at its tip"
    )
    world.sign("T1", job, "LK", readings={"a": 0.1, "b": 0.15})
    world.sign("T2", job, "LK")
    step = world.step(job, "GB-off:3")
    steps.sign(world.shop, world.by("T1"), job=job, phase=step.phase, step=step.step)
    undo.undo(world.shop, world.by("T1"))
    steps.sign(world.shop, world.by("T1"), job=job, phase=step.phase, step=step.step)


def _clocks(world: World, job: str) -> None:
    shop = world.shop
    clock.clock_on(shop, world.by("APP"), job=job, phase="2", part="learner")
    clock.clock_on(shop, world.by("T2"), job=job, phase="2")
    clock.clock_away(shop, world.by("T2", minutes=20))
    clock.clock_back(shop, world.by("T2", minutes=10))
    clock.clock_off(shop, world.by("T2", minutes=10))
    clock.clock_off(shop, world.by("APP"))
    clock.clock_indirect(shop, world.by("APP"), reason="tidying")
    clock.clock_off(shop, world.by("APP", minutes=5))
    wrong = world.one("select max(seq) from clock")
    assert isinstance(wrong, int)
    day_sheet.remove_clock(shop, world.by("APP"), clock=wrong, why="never was")


def _finding(world: World, job: str) -> None:
    shop = world.shop
    world.on("T1", job, "3")
    holding.find(
        shop, world.by("T1"), job=job, phase="3", kind="surprise", text="stud breaks", hours=0.7
    )
    holding.answer_supplement(
        shop, world.by("FOR"), job=job, approve=True, told_by="the customer", means="telephone"
    )
    holding.note_answer(shop, world.by("FOR"), job=job, told_by="the customer", means="in writing")
    holding.find(
        shop, world.by("T1"), job=job, phase="3", kind="surprise", text="seat worn", hours=2.5
    )
    holding.answer_supplement(shop, world.by("FOR"), job=job, approve=False, told_by="the customer")
    world.on("T1", job, "3")


def _decision(world: World, job: str) -> None:
    step = world.step(job, "B1:1")
    steps.sign(world.shop, world.by("T1"), job=job, phase="3", step=step.step)
    world.sign("T1", job, "BU", answer="B")
    holding.hold(
        world.shop, world.by("T1"), job=job, phase="3", reason="parts", until=world.at(10, day=1),
        next_move="desk", text="guides",
    )  # fmt: skip
    holding.release(world.shop, world.by("T1"), job=job, phase="3")
    world.on("T1", job, "3")


def _limits(world: World, job: str) -> None:
    step = world.step(job, "TQ")
    steps.type_limits(
        world.shop, world.by("T1"), job=job, phase=step.phase, step=step.step, reading="nm",
        low=40, high=50, source="data sheet 12",
    )  # fmt: skip


def _small_job(world: World) -> None:
    shop = world.shop
    done = jobs.take_small(shop, world.by("T2"), text="Bulb", vehicle="blue estate", hours=0.3)
    assert done.job
    places.move(shop, world.by("T2"), job=done.job, place="2", lift=True)
    world.do("T2", done.job, "1")
    jobs.close(shop, world.by("FOR"), job=done.job)


def _waiting_job(world: World) -> None:
    shop, job = world.shop, world.take("WP", lift=None)
    jobs.mark_not_teaching(shop, world.by("FOR"), job=job, phase=None, why="training")
    holding.hold(shop, world.by("FOR"), job=job, phase=None, reason="parts")
    places.move(shop, world.by("T1"), job=job, place="Y", lift=False)


def _next_day(world: World, deep: str) -> None:
    """A clock forgotten overnight, entered late; the day confirmed; a running clock."""
    shop = world.shop
    clock.clock_off(shop, world.by("T1"))
    day_sheet.enter_clock(
        shop, world.by("APP"), where=day_sheet.Where(deep, "3"), since=world.at(8, 10),
        until=world.at(8, 40), part="helper", why="forgot",
    )  # fmt: skip
    world.to(8, 0, day=1)
    day_sheet.confirm_day(shop, world.by("T1"), day=MONDAY)
    people.set_attendance(shop, world.by("FOR"), badge="T1", day=MONDAY, hours=7.5, why="dentist")
    phases.finish(shop, world.by("T1"), job=deep, phase="3")
    world.on("T1", deep, "4b")
    secret = make_secret("97531", bytes(range(16)))
    with shop.changing(world.by("T3")) as change:
        person = change.db.execute("select person from person where badge = 'T3'").fetchone()[0]
        keep_secret(change.db, person, secret)
        change.record(PinSet(person=person, check=secret.check(person)))
