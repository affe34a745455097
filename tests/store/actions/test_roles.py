"""Who may do what: the table, gone through cell by cell by really doing it."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import get_args

import pytest

from store.actions import (
    advice,
    books,
    calls,
    ceilings,
    clock,
    day_sheet,
    desk,
    follow_ups,
    handing_over,
    hires,
    history,
    holding,
    jobs,
    kit_dates,
    kit_let,
    month_costs,
    notes,
    outwork,
    paper,
    parts,
    people,
    phases,
    places,
    settings,
    steps,
    suppliers,
    undo,
)
from store.actions.assigning import assign
from store.actions.lining_up import put_in_line
from store.actions.trouble import MayNot, NoPin, PinNeeded, PinWaits, WrongPin
from store.edges.events import CustomerKnown, WeekSpan
from store.file.change import By
from store.file.pins import FIRST_WAIT_S, FREE_TRIES
from store.rules.follow_ups import ToDo
from store.rules.roles import TABLE, Act
from tests.store.actions.made import BOOK, PIN, World
from tests.store.actions.undone_outside import away, within
from tests.store.made_desk import arrived, enquiry, with_checks
from tests.store.made_past import finished

Doing = Callable[[World, str, By], object]
WRONG = "1357"
EVERYBODY = ("T1", "APP", "FOR", "OWN")
OWN_PIN = "set own pin"
"""A first PIN is set with the badge alone, a new one with the old one: see its own tests."""
EIGHT = [WeekSpan(days=[1, 2, 3, 4, 5], start="08:00", end="16:00")]


def _clock_of(w: World, badge: str) -> int:
    done = day_sheet.enter_clock(
        w.shop, w.by(badge), where=day_sheet.Where(reason="tidying"),
        since=w.now - timedelta(minutes=40), until=w.now - timedelta(minutes=20),
    )  # fmt: skip
    return done.recorded[0]


ACTS: dict[Act, tuple[Callable[[World, str, str], object], Doing]] = {}
"""For each act: what must be so before it (world, job, badge of whoever will act), and the act."""


Before = Callable[[World, str, str], object]


def act(name: Act, before: Before = lambda w, j, b: None) -> Callable[[Doing], Doing]:
    """Name the action that does an act of the table."""

    def keep(doing: Doing) -> Doing:
        ACTS[name] = (before, doing)
        return doing

    return keep


def _half(w: World, job: str, _badge: str) -> None:
    """LK bears one name, by somebody who acts in no cell."""
    w.on("T2", job, "2")
    w.sign("T2", job, "HL", readings={"gross": 2000})
    w.sign("T2", job, "GB-off:1")
    w.sign("T2", job, "LK", readings={"a": 0.1, "b": 0.1})


def _to_phase_6(w: World, job: str, _badge: str) -> None:
    _half(w, job, _badge)
    w.sign("FOR", job, "LK")
    w.sign("T2", job, "GB-off:3")
    w.finish("T2", job, "2")
    w.on("T2", job, "3")
    w.sign("T2", job, "B1:1")
    w.sign("T2", job, "BU", answer="A")
    w.finish("T2", job, "3")
    w.do("T2", job, "4")
    w.on("T2", job, "5")
    w.sign("T2", job, "GR", readings={"grams": 300})
    w.finish("T2", job, "5")
    w.on("T2", job, "6")


def _raised(w: World, job: str, _badge: str) -> None:
    w.on("T2", job, "2")


def _out(w: World, job: str, _badge: str) -> None:
    w.on("T2", job, "2")
    w.sign("T2", job, "HL", readings={"gross": 2000})
    w.sign("T2", job, "GB-off:1")
    w.sign("T2", job, "LK", readings={"a": 0.1, "b": 0.9})


def _decides(w: World, job: str, _badge: str) -> None:
    w.on("T2", job, "2")
    w.sign("T2", job, "HL", readings={"gross": 2000})
    w.off("T2")
    w.on("T2", job, "3")


def _asked(w: World, job: str, _badge: str) -> None:
    holding.find(
        w.shop, w.by("T2"), job=job, phase="1", kind="surprise", text="stud", hours=1, code=None
    )


def _held(w: World, job: str, _badge: str) -> None:
    holding.hold(w.shop, w.by("T2"), job=job, phase="1", reason="parts")


def _finished(w: World, job: str, _badge: str) -> None:
    w.do("T2", job, "1")


def _small(w: World, _job: str, _badge: str) -> None:
    done = jobs.take_small(w.shop, w.by("T2"), text="a lamp", vehicle="car")
    w.do("T2", done.job or "", "1")


def _rang(w: World, _job: str, _badge: str) -> None:
    enquiry(w, vehicle="van")


def _here(w: World, _job: str, _badge: str) -> None:
    with_checks(w)
    arrived(w)


def _back(w: World, job: str, _badge: str) -> None:
    """A small job, closed; its vehicle came again."""
    _small(w, job, _badge)
    jobs.close(w.shop, w.by("FOR"), job=str(int(job) + 1))
    enquiry(w, vehicle="car")


def _all_done(w: World, job: str, _badge: str) -> None:
    done = jobs.take(w.shop, w.by("FOR"), operations=["WP"], family="B4-M-F", vehicle="w", lift="2")
    number = done.job or ""
    w.do("T2", number, "1")
    w.on("T2", number, "2")
    w.sign("T2", number, "HL", readings={"gross": 2000})
    w.sign("T2", number, "W1:1")
    w.sign("T2", number, "W1:2")
    w.finish("T2", number, "2")
    w.do("T2", number, "3")
    w.finish("T2", number, "4")
    w.on("T2", number, "5")
    w.sign("T2", number, "HF", readings={"litres": 0})
    w.sign("FOR", number, "HF")
    w.sign("T2", number, "fire")
    w.finish("T2", number, "5")
    w.on("T2", number, "6")
    w.sign("T2", number, "Z2:1")
    w.sign("OWN", number, "HX", readings={"open": 0})
    w.finish("T2", number, "6")


def _own(w: World, _job: str, badge: str) -> None:
    _clock_of(w, badge)


def _others(w: World, _job: str, _badge: str) -> None:
    _clock_of(w, "T2")


def _out_of_service(w: World, _job: str, _badge: str) -> None:
    places.withdraw_lift(w.shop, w.by("T2"), code="3", reason="lock")


def _customer(w: World, _job: str, _badge: str) -> None:
    with w.shop.changing(w.by("OWN")) as change:
        change.record(CustomerKnown(customer="c-00000001"))


def _within(w: World, _job: str, _badge: str) -> None:
    within(w)


def _at_firm(w: World, _job: str, _badge: str) -> None:
    away(w)


def _advised(w: World) -> int:
    found = w.one("select seq from finding where kind = 'advice'")
    assert isinstance(found, int)
    return found


def _newest(w: World, who: str) -> int:
    found = w.one("select max(seq) from clock join person using (person) where badge = ?", who)
    assert isinstance(found, int)
    return found


def _owns_link(w: World, _job: str, _badge: str) -> None:
    owned = BOOK.replace('"chain link tool"\nowned = false', '"chain link tool"\nowned = true')
    books.load_workbook(w.shop, w.by("FOR"), source=owned)


def _asked_kit(w: World, job: str, badge: str) -> None:
    hires.ask(w.shop, w.by("FOR"), kit="link", supplier="Loan", job=job)


act("clock")(lambda w, j, by: clock.clock_on(w.shop, by, job=j, phase="1"))
act("enter clock")(
    lambda w, j, by: day_sheet.enter_clock(
        w.shop, by, where=day_sheet.Where(j, "1"), since=w.at(7), until=w.at(7, 20)
    )
)
act("put right own", _own)(
    lambda w, j, by: day_sheet.correct_clock(
        w.shop, by, clock=_newest(w, by.badge), breaks_worked=True
    )
)
act("put right others", _others)(
    lambda w, j, by: day_sheet.correct_clock(w.shop, by, clock=_newest(w, "T2"), breaks_worked=True)
)
act("confirm own day", _own)(
    lambda w, j, by: day_sheet.confirm_day(w.shop, by, day=date(2026, 10, 12))
)
act("confirm another's day", _others)(
    lambda w, j, by: day_sheet.confirm_day(w.shop, by, day=date(2026, 10, 12), badge="T2")
)
act("undo", _own)(lambda w, j, by: undo.undo(w.shop, by))
act("sign step")(lambda w, j, by: steps.sign(w.shop, by, job=j, phase="1", step="1"))
act("sign hold point", _raised)(
    lambda w, j, by: steps.sign(w.shop, by, job=j, phase="2", step="1", readings={"gross": 2000})
)
act("sign second", _half)(lambda w, j, by: steps.sign(w.shop, by, job=j, phase="2", step="3"))
act("sign as foreman", _to_phase_6)(
    lambda w, j, by: steps.sign(w.shop, by, job=j, phase="6", step="1")
)
act("answer decision", _decides)(
    lambda w, j, by: steps.sign(w.shop, by, job=j, phase="3", step="2", answer="A")
)
act("type limits")(
    lambda w, j, by: steps.type_limits(
        w.shop, by, job=j, phase="8", step="1", reading="nm", low=1, high=2, source="data"
    )
)
act("let reading stand", _out)(
    lambda w, j, by: steps.sign(w.shop, by, job=j, phase="2", step="3", as_is="worn, but safe")
)
act("finish phase", lambda w, j, b: w.on("T2", j, "1"))(
    lambda w, j, by: phases.finish(w.shop, by, job=j, phase="1")
)
act("hold")(lambda w, j, by: holding.hold(w.shop, by, job=j, phase="1", reason="parts"))
act("release", _held)(lambda w, j, by: holding.release(w.shop, by, job=j, phase="1"))
act("release customer's word", _asked)(
    lambda w, j, by: holding.release(w.shop, by, job=j, phase="1")
)
act("report finding")(
    lambda w, j, by: holding.find(w.shop, by, job=j, phase="1", kind="advice", text="worn")
)
act("answer supplement", _asked)(
    lambda w, j, by: holding.answer_supplement(w.shop, by, job=j, approve=True)
)
act("skip phase")(lambda w, j, by: phases.skip(w.shop, by, job=j, phase="1", reason="done"))
act("reopen phase", _finished)(lambda w, j, by: phases.reopen(w.shop, by, job=j, phase="1"))
act("take job")(
    lambda w, j, by: jobs.take(w.shop, by, operations=["TC"], family="B4-M-F", vehicle="x")
)
act("take small job")(lambda w, j, by: jobs.take_small(w.shop, by, text="lamp", vehicle="x"))
act("promise")(lambda w, j, by: jobs.promise(w.shop, by, job=j, at=w.at(12, 0, 5)))
act("move job")(lambda w, j, by: places.move(w.shop, by, job=j, place="Y", lift=False))
act("close job", _all_done)(lambda w, j, by: jobs.close(w.shop, by, job=str(int(j) + 1)))
act("close small job", _small)(lambda w, j, by: jobs.close(w.shop, by, job=str(int(j) + 1)))
act("hand over", _all_done)(
    lambda w, j, by: handing_over.hand_over(w.shop, by, job=str(int(j) + 1))
)
act("follow up")(
    lambda w, j, by: follow_ups.set_follow_ups(
        w.shop, by, job=j, lines=[ToDo("ring", "foreman", date(2026, 11, 1))]
    )
)
act("note call")(lambda w, j, by: calls.note_call(w.shop, by, job=j, means="letter", reached=True))
act("set ceiling", _within)(
    lambda w, j, by: ceilings.set_ceiling(
        w.shop, by, job=str(int(j) + 1), ceiling=999, told_by="customer", means="letter"
    )
)
act("answer advice", _within)(
    lambda w, j, by: advice.answer_advice(
        w.shop, by, job=str(int(j) + 1), finding=_advised(w), answer="later"
    )
)
act("send outwork", _at_firm)(
    lambda w, j, by: outwork.chase(w.shop, by, job=str(int(j) + 1), phase="3", said="soon")
)
act("receive outwork", _at_firm)(
    lambda w, j, by: outwork.receive(w.shop, by, job=str(int(j) + 1), phase="3")
)
act("take enquiry")(lambda w, j, by: desk.enquire(w.shop, by, vehicle="x"))
act("book arrival", _rang)(
    lambda w, j, by: desk.book(w.shop, by, job=str(int(j) + 1), day=date(2026, 10, 14))
)
act("receive vehicle", _rang)(lambda w, j, by: desk.arrive(w.shop, by, job=str(int(j) + 1)))
act("judge check", _here)(
    lambda w, j, by: desk.judge_check(
        w.shop, by, job=str(int(j) + 1), result="fail", text="cracked"
    )
)
act("give quote", _here)(lambda w, j, by: desk.quote(w.shop, by, job=str(int(j) + 1)))
act("turn job down", _here)(
    lambda w, j, by: desk.turn_away(w.shop, by, job=str(int(j) + 1), why="no time")
)
act("know customer", _rang)(
    lambda w, j, by: desk.know_customer(w.shop, by, job=str(int(j) + 1), name="Kim Invented")
)
act("link comeback", _back)(
    lambda w, j, by: desk.come_back(
        w.shop, by, job=str(int(j) + 2), of=str(int(j) + 1), cause="bulb again"
    )
)
act("note job")(lambda w, j, by: notes.note(w.shop, by, job=j, text="old parts back"))
act("mark as not teaching")(
    lambda w, j, by: jobs.mark_not_teaching(w.shop, by, job=j, phase=None, why="odd")
)
act("look lift over")(lambda w, j, by: places.look_over(w.shop, by, code="1"))
act("withdraw lift")(lambda w, j, by: places.withdraw_lift(w.shop, by, code="3", reason="lock"))
act("return lift", _out_of_service)(lambda w, j, by: places.return_lift(w.shop, by, code="3"))
act("record inspection")(
    lambda w, j, by: places.inspect_lift(
        w.shop, by, code="1", day=date(2026, 10, 1), months=12, source="rule", inspector="Ann"
    )
)
act("add place")(lambda w, j, by: places.add_place(w.shop, by, code="Y2", kind="yard"))
act("add person")(
    lambda w, j, by: people.add_person(w.shop, by, badge="NEW", name="New", role="technician")
)
act("change person")(lambda w, j, by: people.change_person(w.shop, by, badge="T2", name="Tom"))
act("set another's pin")(lambda w, j, by: people.set_pin(w.shop, by, badge="T2", pin="9999"))
act("set absence")(
    lambda w, j, by: people.set_absence(
        w.shop, by, badge="T2", since=w.at(8, 0, 1), until=w.at(16, 0, 1), why="school"
    )
)
act("set attendance")(
    lambda w, j, by: people.set_attendance(w.shop, by, badge="T2", day=date(2026, 10, 12), hours=4)
)
act("set calendar")(lambda w, j, by: settings.set_calendar(w.shop, by, shifts=EIGHT, breaks=[]))
act("set rate")(lambda w, j, by: settings.set_rate(w.shop, by, per_hour=100))
act("change setting")(
    lambda w, j, by: settings.change_setting(w.shop, by, name="cautious", value=0.9)
)
act("load work book")(
    lambda w, j, by: books.load_workbook(
        w.shop, by, source=BOOK.replace("Small shop", "Small shop, again")
    )
)
act("set costs")(
    lambda w, j, by: month_costs.set_costs(w.shop, by, month="2026-10", wages=9000, overheads=4000)
)
act("import history")(
    lambda w, j, by: history.import_history(w.shop, by, records=[finished()], source="old.csv")
)
act("erase customer", _customer)(
    lambda w, j, by: settings.erase_customer(w.shop, by, customer="c-00000001")
)
act("allow signing alone")(
    lambda w, j, by: people.allow_alone(w.shop, by, codes=["LK"], reason="shop of one")
)


act("enter day from paper")(
    lambda w, j, by: paper.enter_day(
        w.shop, by, badge="T2", day=date(2026, 10, 12),
        rows=[paper.PaperRow(day_sheet.Where(j, "1"), w.at(7), w.at(7, 20))],
    )
)  # fmt: skip
act("assign")(lambda w, j, by: assign(w.shop, by, job=j, phase="1", badge="T2"))
act("take work on")(lambda w, j, by: assign(w.shop, by, job=j, phase="1", badge=by.badge))


def _two_wait(w: World, j: str, b: str) -> None:
    """Two more jobs, that wait."""
    w.take("WP", None)
    w.take("WP", None)


act("order line", _two_wait)(
    lambda w, j, by: put_in_line(w.shop, by, job=str(int(j) + 2), before=str(int(j) + 1))
)


act("list parts")(lambda w, j, by: parts.list_parts(w.shop, by, job=j, texts=["seal"]))
act("bring in unready", lambda w, j, b: w.take(lift=None))(
    lambda w, j, by: places.move(w.shop, by, job=str(int(j) + 1), place="2", lift=True)
)
act("hire kit")(lambda w, j, by: hires.ask(w.shop, by, kit="link", supplier="Loan", job=j))
act("know supplier")(lambda w, j, by: suppliers.know(w.shop, by, name="Loan", late=2))
act("date kit", _owns_link)(
    lambda w, j, by: kit_dates.know_date(
        w.shop, by, kit="link", until=date(2027, 3, 1), source="its label"
    )
)
act("let begin without kit", _asked_kit)(
    lambda w, j, by: kit_let.let(w.shop, by, job=j, phase="4", why="by hand")
)
act("receive kit", _asked_kit)(
    lambda w, j, by: hires.receive(w.shop, by, kit="link", due=w.at(12, 0, 3))
)


def test_every_act_of_the_table_is_tried_here() -> None:
    assert set(get_args(Act)) == set(TABLE) == {*ACTS, OWN_PIN}


def _by(world: World, badge: str, pin: str | None) -> By:
    return world.by(badge, pin=pin)


def _no_pin(world: World, badge: str) -> None:
    """The person never set one; written where the file keeps it, since no act takes one away."""
    with world.shop.beside() as db:
        db.execute(
            "delete from pin_private where person = (select person from person where badge = ?)",
            [badge],
        )
    world.shop.proven.clear()


@pytest.mark.parametrize("name", sorted(ACTS))
@pytest.mark.parametrize("badge", EVERYBODY)
def test_the_table_is_what_the_actions_do(world: World, name: Act, badge: str) -> None:
    before, doing = ACTS[name]
    world.to(9)
    job = world.take(lift=None if name == "move job" else "1")
    before(world, job, badge)
    may = TABLE[name]
    role = {"OWN": "owner", "FOR": "foreman"}.get(badge, "technician")
    world.shop.proven.clear()
    if role not in may.roles or (badge == "APP" and not may.apprentice):
        world.refused(lambda: doing(world, job, _by(world, badge, PIN)), kind=MayNot)
        world.refused(lambda: doing(world, job, _by(world, badge, None)), kind=MayNot)
        world.refused(lambda: doing(world, job, _by(world, badge, WRONG)), kind=MayNot)
        return
    if may.pin:
        world.refused(lambda: doing(world, job, _by(world, badge, None)), kind=PinNeeded)
        world.refused(lambda: doing(world, job, _by(world, badge, WRONG)), kind=WrongPin)
        kept = world.all("select * from pin_private")
        _no_pin(world, badge)
        world.refused(lambda: doing(world, job, _by(world, badge, PIN)), kind=NoPin)
        with world.shop.beside() as db:
            db.execute("delete from pin_private")
            db.executemany("insert into pin_private values (?, ?, ?, ?, ?, ?)", kept)
    length = world.events()
    doing(world, job, _by(world, badge, PIN if may.pin else None))
    assert world.events() > length


def test_a_first_pin_takes_the_badge_and_a_new_one_the_old_one(world: World) -> None:
    people.add_person(world.shop, world.by("OWN"), badge="NEW", name="New", role="technician")
    people.set_pin(world.shop, world.by("NEW", pin=None), badge="NEW", pin="1111")
    world.refused(
        lambda: people.set_pin(world.shop, world.by("NEW", pin=None), badge="NEW", pin="2222"),
        kind=PinNeeded,
    )
    world.refused(
        lambda: people.set_pin(world.shop, world.by("NEW", pin="9999"), badge="NEW", pin="2222"),
        kind=WrongPin,
    )
    people.set_pin(world.shop, world.by("NEW", pin="1111"), badge="NEW", pin="2222")
    world.refused(
        lambda: people.set_pin(world.shop, world.by("NEW", pin="1111"), badge="NEW", pin="3333"),
        kind=WrongPin,
    )


def _promise(world: World, pin: str, job: str) -> Callable[[], object]:
    return lambda: jobs.promise(
        world.shop, world.by("FOR", minutes=0, pin=pin), job=job, at=world.at(9, 0, 5)
    )


def test_wrong_tries_are_counted_and_then_one_waits_longer_and_longer(world: World) -> None:
    job = world.take()
    world.shop.proven.clear()
    for _ in range(FREE_TRIES):
        world.refused(_promise(world, WRONG, job), kind=WrongPin)
    world.refused(_promise(world, PIN, job), f"Wait {FIRST_WAIT_S} seconds", kind=PinWaits)
    world.now += timedelta(seconds=FIRST_WAIT_S)
    world.refused(_promise(world, WRONG, job), kind=WrongPin)
    world.refused(_promise(world, PIN, job), f"Wait {2 * FIRST_WAIT_S} seconds", kind=PinWaits)
    world.now += timedelta(seconds=2 * FIRST_WAIT_S)
    _promise(world, PIN, job)()
    assert world.one("select count(*) from pin_tries") == 0


def test_tries_of_another_process_count_too(world: World) -> None:
    job = world.take()
    script = (
        "import sys; from datetime import datetime; from pathlib import Path\n"
        "from store.actions import jobs; from store.actions.trouble import WrongPin\n"
        "from store.file.change import By; from store.file.shop import Shop\n"
        "now = datetime.fromisoformat(sys.argv[2])\n"
        "try: jobs.promise(Shop(Path(sys.argv[1])), By('FOR', 't2', now, pin='1357'),"
        " job=sys.argv[3], at=now)\n"
        "except WrongPin: sys.exit(7)\n"
    )
    root = Path(__file__).parents[3]
    for _ in range(FREE_TRIES):
        done = subprocess.run(
            [sys.executable, "-c", script, str(world.shop.path), world.now.isoformat(), job],
            cwd=root, check=False,
        )  # fmt: skip
        assert done.returncode == 7
    world.shop.proven.clear()
    world.refused(_promise(world, PIN, job), kind=PinWaits)


def test_whoever_left_or_has_not_come_yet_does_nothing(world: World) -> None:
    job = world.take()
    people.change_person(world.shop, world.by("OWN"), badge="T1", until_day=date(2026, 10, 12))
    world.on("T1", job, "1")
    world.to(8, 0, 1)
    world.refused(lambda: world.on("T1", job, "1"), "not on the roll")
    world.refused(lambda: world.off("T1"), "not on the roll")
    people.add_person(
        world.shop, world.by("OWN"), badge="NEW", name="New", role="technician",
        from_day=date(2026, 11, 1),
    )  # fmt: skip
    world.refused(lambda: world.on("NEW", job, "1"), "not on the roll")


def test_a_badge_is_read_as_it_is_scanned(world: World) -> None:
    job = world.take()
    clock.clock_on(world.shop, replace(world.by("T1"), badge=" t1\r\n"), job=job, phase="1")
    undo.undo(world.shop, replace(world.by("T1"), badge="t1"))
    world.refused(lambda: world.on("", job, "1"), "Nobody here")
    world.refused(lambda: world.on("T9\n9", job, "1"), "Nobody here")


def test_the_last_owner_stays_and_no_apprentice_leads(world: World) -> None:
    world.refused(
        lambda: people.change_person(world.shop, world.by("OWN"), badge="OWN", role="foreman"),
        "at least one owner",
    )
    world.refused(
        lambda: people.change_person(
            world.shop, world.by("OWN"), badge="OWN", until_day=date(2026, 12, 1)
        ),
        "at least one owner",
    )
    world.refused(
        lambda: people.change_person(
            world.shop, world.by("OWN"), badge="OWN", experience="apprentice 1"
        ),
        "apprentice is no owner",
    )
