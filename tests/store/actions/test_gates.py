"""Every action in every state of a hold point: nothing gets work past it while it is not signed."""

from __future__ import annotations

import inspect
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from datetime import date, timedelta
from importlib import import_module
from pathlib import Path

import pytest

from store.actions import (
    books,
    clearing,
    clock,
    day_sheet,
    history,
    holding,
    jobs,
    notes,
    parts,
    people,
    phases,
    places,
    settings,
    steps,
)
from store.actions.undo import taking_back as undo
from store.edges.events.shop import WeekSpan
from store.trouble import Trouble
from tests.store.actions import gate_desk, gate_kits, gate_more
from tests.store.actions.gate_history import trespasses
from tests.store.actions.made import BOOK, World
from tests.store.made_past import finished


@dataclass(frozen=True, slots=True)
class Scene:
    """A job with a gate in one state: `shut` is the phase behind it, `own` the gate's phase."""

    world: World
    job: str
    own: str
    shut: str
    signed: bool


ACTIONS_FOLDER = Path(clock.__file__).parent
NOT_ACTIONS = {"founding", "__init__"}


def public(name: str) -> bool:
    return name != "acting" and not name.startswith("_")


def module_of(file: Path) -> str:
    return ".".join(("store.actions", *file.relative_to(ACTIONS_FOLDER).with_suffix("").parts))


def writing_actions() -> set[str]:
    """Every public function of `store.actions` that takes a shop and somebody who acts."""
    found: set[str] = set()
    for file in ACTIONS_FOLDER.rglob("*.py"):
        if file.stem in NOT_ACTIONS:
            continue
        module = import_module(module_of(file))
        for name, one in inspect.getmembers(module, inspect.isfunction):
            asked = list(inspect.signature(one).parameters)[:2]
            if one.__module__ == module.__name__ and asked == ["shop", "by"] and public(name):
                found.add(f"{module_of(file).removeprefix('store.actions.')}.{name}")
    return found


GOOD = {"a": 0.1, "b": 0.12}


def _up_to_lk(world: World) -> str:
    """A job on which only LK stands before phase 4; T2 on phase 2, since 08:0x."""
    world.to(8)
    job = world.take()
    world.do("T2", job, "1")
    world.on("T2", job, "2")
    world.sign("T2", job, "HL", readings={"gross": 2000})
    world.sign("T2", job, "GB-off:1")
    clock.clock_over(world.shop, world.by("T2"), job=job, phase="3")
    world.sign("T2", job, "B1:1")
    world.sign("T2", job, "BU", answer="A")
    world.finish("T2", job, "3")
    world.on("T2", job, "2")
    return job


def _lk(world: World, job: str, *, signed: bool) -> Scene:
    return Scene(world, job, "2", "4", signed)


def _open(world: World) -> Scene:
    return _lk(world, _up_to_lk(world), signed=False)


def _half(world: World) -> Scene:
    job = _up_to_lk(world)
    world.sign("T2", job, "LK", readings=GOOD)
    return _lk(world, job, signed=False)


def _half_let_stand(world: World) -> Scene:
    job = _up_to_lk(world)
    world.sign("T2", job, "LK", readings={"a": 0.1, "b": 0.4})
    world.sign("FOR", job, "LK", as_is="seats worn, engine scrapped anyway")
    return _lk(world, job, signed=False)


def _out(world: World) -> Scene:
    job = _up_to_lk(world)
    world.sign("T2", job, "LK", readings={"a": 0.1, "b": 0.4})
    return _lk(world, job, signed=False)


def _let_stand(world: World) -> Scene:
    scene = _half_let_stand(world)
    world.sign("OWN", scene.job, "LK")
    return _lk(world, scene.job, signed=True)


def _done(world: World) -> Scene:
    job = _up_to_lk(world)
    world.sign("T2", job, "LK", readings=GOOD)
    world.sign("OWN", job, "LK")
    return _lk(world, job, signed=True)


def _void_reopened(world: World) -> Scene:
    scene = _done(world)
    world.sign("T2", scene.job, "GB-off:3")
    world.finish("T2", scene.job, "2")
    phases.reopen(world.shop, world.by("OWN"), job=scene.job, phase="2")
    world.sign("T1", scene.job, "HL", readings={"gross": 2000})
    return _lk(world, scene.job, signed=False)


def _void_taken_back(world: World) -> Scene:
    scene = _done(world)
    undo.undo(world.shop, world.by("OWN"))
    return _lk(world, scene.job, signed=False)


def _void_raised_anew(world: World) -> Scene:
    world.to(8)
    job = world.take("WP")
    world.do("T2", job, "1")
    world.on("T2", job, "2")
    world.sign("T2", job, "HL", readings={"gross": 2000})
    world.finish("T2", job, "2")
    places.move(world.shop, world.by("OWN"), job=job, place="2", lift=True)
    return Scene(world, job, "2", "3", signed=False)


STATES = {
    "open": _open,
    "half": _half,
    "half, let stand": _half_let_stand,
    "out": _out,
    "let stand": _let_stand,
    "done": _done,
    "void, reopened": _void_reopened,
    "void, taken back": _void_taken_back,
    "void, raised anew": _void_raised_anew,
}
SHUT = [name for name in STATES if name not in ("done", "let stand")]


def _yesterday(s: Scene) -> day_sheet.Where:
    return day_sheet.Where(s.job, s.shut)


def _own_clock(s: Scene) -> int:
    """A stopped clock of T1's on no job, of the last quarter of an hour."""
    done = day_sheet.enter_clock(
        s.world.shop, s.world.by("T1"), where=day_sheet.Where(reason="tidying"),
        since=s.world.now - timedelta(minutes=15), until=s.world.now,
    )  # fmt: skip
    return done.recorded[0]


def _anybody_undoes(s: Scene) -> None:
    for badge in ("T1", "T2", "APP", "FOR", "OWN"):
        with suppress(Trouble):
            undo.undo(s.world.shop, s.world.by(badge))


def _over(s: Scene) -> object:
    with suppress(Trouble):
        clock.clock_indirect(s.world.shop, s.world.by("T1"), reason="tidying")
    return clock.clock_over(s.world.shop, s.world.by("T1"), job=s.job, phase=s.shut)


MUST_FAIL: dict[str, Callable[[Scene], object]] = {
    "clock.clock_on": lambda s: s.world.on("T1", s.job, s.shut),
    "clock.clock_over": _over,
    "day_sheet.enter_clock": lambda s: day_sheet.enter_clock(
        s.world.shop, s.world.by("T1"), where=_yesterday(s),
        since=s.world.now - timedelta(minutes=1), until=s.world.now,
    ),
    "day_sheet.correct_clock": lambda s: day_sheet.correct_clock(
        s.world.shop, s.world.by("T1"), clock=_own_clock(s), where=_yesterday(s)
    ),
    "day_sheet.split_clock": lambda s: day_sheet.split_clock(
        s.world.shop, s.world.by("T1"), clock=_own_clock(s),
        at=s.world.now - timedelta(minutes=5), where=_yesterday(s),
    ),
    "steps.sign": lambda s: steps.sign(
        s.world.shop, s.world.by("OWN"), job=s.job, phase=s.shut, step="1"
    ),
    "phases.finish": lambda s: phases.finish(
        s.world.shop, s.world.by("T1"), job=s.job, phase=s.own
    ),
    "phases.skip": lambda s: phases.skip(
        s.world.shop, s.world.by("FOR"), job=s.job, phase=s.own, reason="no time"
    ),
    "jobs.close": lambda s: jobs.close(s.world.shop, s.world.by("FOR"), job=s.job),
    **gate_more.PAST,
}  # fmt: skip
"""What gets past if it works, or ends the gate's own phase."""

MAY_WORK: dict[str, Callable[[Scene], object]] = {
    **gate_desk.ACTS,
    **gate_more.ACTS,
    **gate_kits.ACTS,
    "undo.taking_back.undo": _anybody_undoes,
    "notes.note": lambda s: notes.note(
        s.world.shop, s.world.by("T2"), job=s.job, text="the old parts are wanted back"
    ),
    "clock.clock_off": lambda s: s.world.off("T2"),
    "clock.clock_away": lambda s: clock.clock_away(s.world.shop, s.world.by("T2")),
    "clock.clock_back": lambda s: clock.clock_back(s.world.shop, s.world.by("T2")),
    "clock.clock_indirect": lambda s: clock.clock_indirect(
        s.world.shop, s.world.by("T2"), reason="parts"
    ),
    "day_sheet.remove_clock": lambda s: day_sheet.remove_clock(
        s.world.shop, s.world.by("T1"), clock=_own_clock(s)
    ),
    "day_sheet.confirm_day": lambda s: day_sheet.confirm_day(
        s.world.shop, s.world.by("FOR"), day=date(2026, 10, 12), badge="T2"
    ),
    "day_sheet.stop_left_running": lambda s: day_sheet.stop_left_running(
        s.world.shop, s.world.by("T2")
    ),
    "steps.type_limits": lambda s: steps.type_limits(
        s.world.shop, s.world.by("T1"), job=s.job, phase="2", step="3", reading="gap",
        low=-100, high=100, source="made up",
    ),
    "phases.reopen": lambda s: phases.reopen(s.world.shop, s.world.by("T1"), job=s.job, phase="1"),
    "holding.hold": lambda s: holding.hold(
        s.world.shop, s.world.by("T1"), job=s.job, phase=s.shut, reason="parts"
    ),
    "holding.release": lambda s: holding.release(
        s.world.shop, s.world.by("FOR"), job=s.job, phase=s.own
    ),
    "holding.find": lambda s: holding.find(
        s.world.shop, s.world.by("T1"), job=s.job, phase=s.shut, kind="surprise", text="stud",
        hours=1,
    ),
    "jobs.take": lambda s: s.world.take(lift="3"),
    "jobs.take_small": lambda s: jobs.take_small(
        s.world.shop, s.world.by("T1"), text="lamp", vehicle="van"
    ),
    "jobs.promise": lambda s: jobs.promise(
        s.world.shop, s.world.by("FOR"), job=s.job, at=s.world.at(12, 0, 9)
    ),
    "jobs.mark_not_teaching": lambda s: jobs.mark_not_teaching(
        s.world.shop, s.world.by("FOR"), job=s.job, phase=s.own, why="odd"
    ),
    "places.move": lambda s: places.move(
        s.world.shop, s.world.by("T1"), job=s.job, place="3", lift=True
    ),
    "clearing.clear": lambda s: clearing.clear(
        s.world.shop, s.world.by("FOR"), lift="1", place="Y"
    ),
    "places.add_place": lambda s: places.add_place(
        s.world.shop, s.world.by("OWN"), code="Y9", kind="yard"
    ),
    "places.withdraw_lift": lambda s: places.withdraw_lift(
        s.world.shop, s.world.by("T1"), code="1", reason="lock"
    ),
    "places.return_lift": lambda s: places.return_lift(s.world.shop, s.world.by("FOR"), code="1"),
    "places.look_over": lambda s: places.look_over(s.world.shop, s.world.by("T1"), code="1"),
    "places.inspect_lift": lambda s: places.inspect_lift(
        s.world.shop, s.world.by("FOR"), code="1", day=date(2026, 10, 1), months=6, source="x",
        inspector="y",
    ),
    "people.add_person": lambda s: people.add_person(
        s.world.shop, s.world.by("OWN"), badge="NEW", name="New", role="owner"
    ),
    "people.change_person": lambda s: people.change_person(
        s.world.shop, s.world.by("OWN"), badge="APP", experience="expert"
    ),
    "people.set_pin": lambda s: people.set_pin(
        s.world.shop, s.world.by("OWN"), badge="T1", pin="1111"
    ),
    "people.qualify": lambda s: people.qualify(
        s.world.shop, s.world.by("OWN"), badge="T1", what="lifting", until=date(2030, 1, 1)
    ),
    "people.set_absence": lambda s: people.set_absence(
        s.world.shop, s.world.by("FOR"), badge="T2", since=s.world.at(6), until=s.world.at(20),
        why="ill",
    ),
    "people.set_attendance": lambda s: people.set_attendance(
        s.world.shop, s.world.by("FOR"), badge="T2", day=date(2026, 10, 12), hours=1
    ),
    "people.allow_alone": lambda s: people.allow_alone(
        s.world.shop, s.world.by("OWN"), codes=["LK", "HL"], reason="shop of one"
    ),
    "settings.set_calendar": lambda s: settings.set_calendar(
        s.world.shop, s.world.by("OWN"), breaks=[],
        shifts=[WeekSpan(days=[1, 2, 3, 4, 5], start="06:00", end="22:00")],
    ),
    "settings.set_holiday": lambda s: settings.set_holiday(
        s.world.shop, s.world.by("OWN"), day=date(2026, 10, 12), name="fair"
    ),
    "settings.clear_holiday": lambda s: settings.clear_holiday(
        s.world.shop, s.world.by("OWN"), day=date(2026, 10, 12)
    ),
    "settings.set_rate": lambda s: settings.set_rate(s.world.shop, s.world.by("OWN"), per_hour=1),
    "settings.change_setting": lambda s: settings.change_setting(
        s.world.shop, s.world.by("OWN"), name="cautious", value=0.9
    ),
    "history.import_history": lambda s: history.import_history(
        s.world.shop, s.world.by("FOR"), records=[finished("88", 1)], source="old.csv"
    ),
    "parts.list_parts": lambda s: parts.list_parts(
        s.world.shop, s.world.by("T1"), job=s.job, texts=["seal"], phase=s.shut
    ),
    "parts.move_parts": lambda s: parts.move_parts(
        s.world.shop, s.world.by("T1"), job=s.job, lines=[1], state="here"
    ),
    "books.load_workbook": lambda s: books.load_workbook(
        s.world.shop, s.world.by("FOR"),
        source=BOOK.replace('blocks = ["B2", "B2b"]', 'blocks = ["B3"]'),
    ),
}  # fmt: skip
"""What cannot get past by itself: afterwards the way is as shut as before."""


def test_every_action_is_tried_here() -> None:
    assert {*MUST_FAIL, *MAY_WORK} == writing_actions()


def _shut_still(scene: Scene) -> None:
    world = scene.world
    with world.shop.reading() as db:
        found = trespasses(db, scene.job, world.now)
    assert not found, found
    for badge in ("T1", "FOR"):
        with suppress(Trouble):
            clock.clock_off(world.shop, world.by(badge))
        world.refused(lambda b=badge: world.on(b, scene.job, scene.shut))  # type: ignore[misc]  # bound at once
    world.refused(
        lambda: phases.finish(world.shop, world.by("FOR"), job=scene.job, phase=scene.shut)
    )


@pytest.mark.parametrize("state", SHUT)
@pytest.mark.parametrize("name", sorted({*MUST_FAIL, *MAY_WORK}))
def test_no_action_gets_past_a_gate_that_is_not_signed(world: World, state: str, name: str) -> None:
    scene = STATES[state](world)
    if name in MUST_FAIL:
        if name in ("phases.finish", "phases.skip") and state == "void, raised anew":
            return  # its own phase was finished before: what is behind it is what counts
        before = world.events()
        with pytest.raises(Trouble) as caught:
            MUST_FAIL[name](scene)
        assert "\n" not in str(caught.value)
        said = world.all("select kind from ledger where seq > ?", before)
        assert {kind for (kind,) in said} <= {"clock-entered", "clocked-indirect"}, said
    else:
        with suppress(Trouble):
            MAY_WORK[name](scene)
    _shut_still(scene)


@pytest.mark.parametrize("state", ["done", "let stand"])
@pytest.mark.parametrize(
    "name", ["clock.clock_on", "clock.clock_over", "steps.sign", "day_sheet.enter_clock"]
)
def test_the_same_actions_work_once_it_is_signed(world: World, state: str, name: str) -> None:
    scene = STATES[state](world)
    world.now += timedelta(minutes=30)
    MUST_FAIL[name](scene)
    with world.shop.reading() as db:
        assert not trespasses(db, scene.job, world.now)


@pytest.mark.parametrize("state", ["done", "let stand"])
def test_nothing_is_dated_back_before_the_signature(world: World, state: str) -> None:
    scene = STATES[state](world)
    signed = world.now
    world.to(11)
    before, after = signed - timedelta(minutes=3), signed + timedelta(minutes=3)
    where = _yesterday(scene)
    world.refused(
        lambda: clock.clock_on(
            world.shop, world.by("T1", at=before), job=scene.job, phase=scene.shut
        ),
        "could not go on before", f"{scene.job}.2.3 was signed",
    )  # fmt: skip
    world.refused(
        lambda: steps.sign(
            world.shop, world.by("T1", at=before), job=scene.job, phase=scene.shut, step="1"
        ),
        "could not go on before",
    )
    world.refused(
        lambda: day_sheet.enter_clock(
            world.shop, world.by("T1"), where=where, since=before, until=after
        ),
        "could not go on before",
    )
    world.refused(
        lambda: world.sign("T1", scene.job, "GB-off:3", at=before), "cannot be signed for a time"
    )
    world.refused(
        lambda: phases.finish(world.shop, world.by("T1", at=before), job=scene.job, phase="2")
    )
    clock.clock_on(world.shop, world.by("T1", at=after), job=scene.job, phase=scene.shut)
    newest = world.one("select max(seq) from clock")
    assert isinstance(newest, int)
    world.refused(
        lambda: day_sheet.correct_clock(world.shop, world.by("T1"), clock=newest, since=before),
        "could not go on before",
    )


def test_a_reading_let_stand_opens_the_way_from_the_foremans_word_on(world: World) -> None:
    scene = _out(world)
    measured = world.now
    world.to(10)
    world.sign("FOR", scene.job, "LK", as_is="worn, but safe")
    world.to(10, 30)
    world.sign("T1", scene.job, "LK")
    world.to(12)
    for since in (measured + timedelta(minutes=1), world.at(10, 10)):
        world.refused(
            lambda s=since: day_sheet.enter_clock(  # type: ignore[misc]  # bound at once
                world.shop, world.by("T1"), where=_yesterday(scene), since=s, until=world.at(11)
            ),
            "could not go on before 2026-10-12 10:3",
        )
    day_sheet.enter_clock(
        world.shop, world.by("T1"), where=_yesterday(scene), since=world.at(10, 45),
        until=world.at(11),
    )  # fmt: skip


def test_work_done_while_it_was_signed_is_entered_later_and_work_after_is_not(
    world: World,
) -> None:
    scene = _done(world)
    world.to(10)
    world.sign("T2", scene.job, "GB-off:3")
    world.finish("T2", scene.job, "2")
    phases.reopen(world.shop, world.by("OWN"), job=scene.job, phase="2")
    world.to(12)
    where = _yesterday(scene)
    world.refused(
        lambda: day_sheet.enter_clock(
            world.shop, world.by("T1"), where=where, since=world.at(9, 30), until=world.at(10, 30)
        ),
        "could not go on after",
    )
    day_sheet.enter_clock(
        world.shop, world.by("T1"), where=where, since=world.at(9), until=world.at(9, 30)
    )


def test_skipping_the_phase_that_a_gate_names_opens_no_way(world: World) -> None:
    scene = _half(world)
    phases.skip(world.shop, world.by("FOR"), job=scene.job, phase="4", reason="not needed")
    world.refused(lambda: world.on("T1", scene.job, "6"), "waits for the second signature")


def test_what_must_be_signed_on_another_lift_is_signed_in_its_finished_phase(
    world: World,
) -> None:
    scene = _void_raised_anew(world)
    world.refused(lambda: world.on("T1", scene.job, "3"), "waits for the hold point")
    world.refused(lambda: world.sign("T1", scene.job, "HL", readings={}), "takes a reading")
    world.sign("T1", scene.job, "HL", readings={"gross": 2000})
    world.on("T1", scene.job, "3")


def test_raising_it_anew_stops_the_clocks_behind_it(world: World) -> None:
    scene = _void_raised_anew(world)
    world.sign("T1", scene.job, "HL", readings={"gross": 2000})
    world.on("T1", scene.job, "3")
    done = places.move(world.shop, world.by("FOR"), job=scene.job, place="1", lift=True)
    assert "Stopped: the clock of T1" in done.says
    assert world.one("select count(*) from clock where until is null") == 0


def test_an_undone_move_leaves_it_to_be_signed_again(world: World) -> None:
    scene = _void_raised_anew(world)
    world.sign("T1", scene.job, "HL", readings={"gross": 2000})
    places.move(world.shop, world.by("FOR"), job=scene.job, place="Y", lift=False)
    undo.undo(world.shop, world.by("FOR"))
    world.refused(lambda: world.on("T1", scene.job, "3"), "waits for the hold point")


def test_a_phase_without_hands_begins_as_soon_as_its_gate_is_signed(world: World) -> None:
    scene = _void_raised_anew(world)
    phases.skip(world.shop, world.by("FOR"), job=scene.job, phase="3", reason="no hoses")
    assert world.phase(scene.job, "W3").state == "to come"
    world.refused(
        lambda: phases.finish(world.shop, world.by("T1"), job=scene.job, phase="4"),
        "has not begun. It does so by itself",
    )
    done = world.sign("T1", scene.job, "HL", readings={"gross": 2000})
    assert f"{scene.job}.4 dry has begun (standing)" in done.says
    assert world.phase(scene.job, "W3").state == "under way"


def test_a_finish_told_afterwards_lies_behind_all_work_on_the_phase(world: World) -> None:
    world.to(8)
    job = world.take()
    world.on("T1", job, "1")
    world.to(9)
    world.off("T1")
    world.to(10)
    world.refused(
        lambda: phases.finish(world.shop, world.by("T1", at=world.at(8, 30)), job=job, phase="1"),
        "was still worked on at 2026-10-12 09:0",
    )
    phases.finish(world.shop, world.by("T1", at=world.at(9, 30)), job=job, phase="1")
