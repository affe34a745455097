"""One's own last entry taken back: every kind puts every table back, or says why not."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import cast

import pytest

from store.actions import (
    clock,
    day_sheet,
    history,
    holding,
    jobs,
    notes,
    parts,
    phases,
    places,
    steps,
)
from store.actions.assigning import assign
from store.actions.hires import asked as hires
from store.actions.lining_up import put_in_line
from store.actions.undo import taking_back as undo
from store.actions.undo.taking_back import TAKERS
from store.file.verify import verify
from store.rules.undoing import CAN_BE_TAKEN_BACK
from tests.store.actions.made import World
from tests.store.actions.undone_desk import DESK
from tests.store.actions.undone_end import END
from tests.store.actions.undone_kits import OF_KITS
from tests.store.actions.undone_month import OF_THE_MONTH
from tests.store.actions.undone_outside import OUTSIDE
from tests.store.made_past import finished

GOOD = {"a": 0.1, "b": 0.12}

HISTORY = ("entry", "estimate_change", "promised", "customer")
"""Tables that only grow: an entry taken back and its undoing both stay in them."""
TOLD_ANEW = {
    "condition": ("since", "seq"), "advice": ("told_seq", "at"), "job": ("customer",),
}  # fmt: skip
"""Columns that may differ: a tag hung up again hangs from then on, who gave a word is known."""


def _raised(w: World) -> str:
    w.to(8)
    job = w.take()
    w.do("T2", job, "1")
    w.on("T2", job, "2")
    w.sign("T2", job, "HL", readings={"gross": 2000})
    w.sign("T2", job, "GB-off:1")
    return job


def _decides(w: World) -> str:
    job = _raised(w)
    clock.clock_over(w.shop, w.by("T2"), job=job, phase="3")
    w.sign("T2", job, "B1:1")
    return job


def _filled(w: World) -> str:
    """A job whose fill has ended a condition, by the second of two names."""
    w.to(8)
    job = w.take("WP")
    w.do("T2", job, "1")
    w.on("T2", job, "2")
    w.sign("T2", job, "HL", readings={"gross": 2000})
    w.finish("T2", job, "2")
    w.do("T2", job, "3")
    w.finish("T2", job, "4")
    w.on("T2", job, "5")
    w.sign("T2", job, "HF", readings={"litres": 0})
    return job


def _asked(w: World) -> str:
    """Two surprises on one phase wait for the customer's word."""
    job = _on_one(w)
    for text, hours in (("stud broken", 0.9), ("bracket torn", 1.1)):
        holding.find(
            w.shop, w.by("T2"), job=job, phase="1", kind="surprise", text=text, hours=hours
        )
    return job


def _waiting(w: World) -> str:
    w.to(8)
    return w.take(lift=None)


def _three_wait(w: World) -> str:
    job = _waiting(w)
    w.take(lift=None)
    w.take(lift=None)
    return job


def _on_one(w: World) -> str:
    w.to(8)
    job = w.take()
    w.on("T1", job, "1")
    return job


def _newest(w: World) -> int:
    """The clock that began last."""
    found = w.one("select max(seq) from clock")
    assert isinstance(found, int)
    return found


def _began_waiting(w: World) -> str:
    """A job that waits for a lift has begun by one clock alone."""
    job = _waiting(w)
    w.on("T1", job, "1")
    return job


def _tidied(w: World) -> str:
    """A stretch on no job, stopped, beside a job on which nothing has begun."""
    job = _waiting(w)
    clock.clock_indirect(w.shop, w.by("T1"), reason="tidying")
    w.off("T1")
    return job


def _shortened(w: World) -> str:
    """A clock that was stopped and put right once."""
    job = _on_one(w)
    w.to(8, 40)
    w.off("T1")
    day_sheet.correct_clock(w.shop, w.by("T1"), clock=_newest(w), until=w.at(8, 30))
    return job


def _phase_6(w: World) -> str:
    job = _decides(w)
    w.sign("T2", job, "LK", readings=GOOD)
    w.sign("FOR", job, "LK")
    w.sign("T2", job, "BU", answer="A")
    w.finish("T2", job, "3")
    w.do("T2", job, "4")
    w.on("T2", job, "5")
    w.sign("T2", job, "GR", readings={"grams": 300})
    w.finish("T2", job, "5")
    w.on("T2", job, "6")
    w.sign("FOR", job, "SEEN")
    return job


def _small(w: World) -> str:
    w.to(8)
    done = jobs.take_small(w.shop, w.by("T1"), text="lamp", vehicle="car")
    w.on("T1", done.job or "", "1")
    return done.job or ""


def _opens(w: World) -> str:
    w.to(8)
    job = w.take()
    w.do("T2", job, "1")
    return job


def _held(w: World) -> str:
    job = _waiting(w)
    holding.hold(w.shop, w.by("T1"), job=job, phase="1", reason="parts", next_move="supplier")
    return job


def _in_yard(w: World) -> str:
    job = _waiting(w)
    places.move(w.shop, w.by("FOR"), job=job, place="Y", lift=False)
    return job


def _ordered(w: World) -> str:
    job = _waiting(w)
    parts.move_parts(
        w.shop, w.by("FOR"), job=job, lines=[1, 2], state="ordered", expected=w.at(12, 0, 2)
    )
    return job


def _hired(w: World) -> str:
    job = _waiting(w)
    hires.ask(w.shop, w.by("FOR"), kit="link", supplier="Loan", job=job, due=w.at(15, 0, 3))
    return job


def _on_hand(w: World) -> str:
    job = _hired(w)
    hires.receive(w.shop, w.by("T1"), kit="link", complete=False, note="a pin lacks")
    return job


Act = Callable[[World, str], object]

KINDS: dict[str, tuple[Callable[[World], str], str, Act]] = {
    "clocked-on, begins a waiting job": (_waiting, "T1", lambda w, j: w.on("T1", j, "1")),
    "clocked-on, opens a condition": (
        _opens, "T1", lambda w, j: w.on("T1", j, "2")
    ),
    "clocked-indirect": (
        _on_one, "T1", lambda w, j: clock.clock_indirect(w.shop, w.by("T1"), reason="tidying")
    ),
    "clocked-off, over": (
        _raised, "T2", lambda w, j: clock.clock_over(w.shop, w.by("T2"), job=j, phase="3")
    ),
    "clock-entered": (
        _waiting, "T1",
        lambda w, j: day_sheet.enter_clock(
            w.shop, w.by("T1"), where=day_sheet.Where(j, "1"), since=w.at(7), until=w.at(7, 30)
        ),
    ),
    "clocked-off": (_on_one, "T1", lambda w, j: w.off("T1")),
    "clock-corrected, running on": (
        _began_waiting, "T1",
        lambda w, j: day_sheet.correct_clock(
            w.shop, w.by("T1"), clock=_newest(w), where=day_sheet.Where(reason="tidying")
        ),
    ),
    "clock-corrected, to a phase that begins": (
        _tidied, "T1",
        lambda w, j: day_sheet.correct_clock(
            w.shop, w.by("T1"), clock=_newest(w), where=day_sheet.Where(j, "1")
        ),
    ),
    "clock-corrected, twice": (
        _shortened, "T1",
        lambda w, j: day_sheet.correct_clock(
            w.shop, w.by("T1"), clock=_newest(w), until=w.at(8, 20), breaks_worked=True
        ),
    ),
    "clock-corrected, split": (
        _shortened, "T1",
        lambda w, j: day_sheet.split_clock(
            w.shop, w.by("T1"), clock=_newest(w), at=w.at(8, 10),
            where=day_sheet.Where(reason="helping"),
        ),
    ),
    "clocked-off, away": (_on_one, "T1", lambda w, j: clock.clock_away(w.shop, w.by("T1"))),
    "step-signed": (_raised, "T2", lambda w, j: w.sign("T2", j, "LK", readings=GOOD)),
    "step-signed, begins a phase": (_on_one, "T2", lambda w, j: w.sign("T2", j, "G0:1")),
    "step-signed, ends conditions": (_filled, "FOR", lambda w, j: w.sign("FOR", j, "HF")),
    "step-signed, out of limits": (
        _raised, "T2", lambda w, j: w.sign("T2", j, "LK", readings={"a": 0.1, "b": 0.9})
    ),
    "route-changed": (_decides, "T2", lambda w, j: w.sign("T2", j, "BU", answer="B")),
    "route-changed, ends": (_decides, "T2", lambda w, j: w.sign("T2", j, "BU", answer="end")),
    "phase-finished": (_on_one, "T1", lambda w, j: w.finish("T1", j, "1")),
    "phase-finished, standing begins": (_phase_6, "T2", lambda w, j: w.finish("T2", j, "6")),
    "state-changed": (_small, "T1", lambda w, j: w.finish("T1", j, "1")),
    "phase-skipped": (
        _waiting, "FOR",
        lambda w, j: phases.skip(w.shop, w.by("FOR"), job=j, phase="1", reason="known"),
    ),
    "phase-skipped, held": (
        _held, "FOR",
        lambda w, j: phases.skip(w.shop, w.by("FOR"), job=j, phase="1", reason="known"),
    ),
    "held": (
        _on_one, "T2",
        lambda w, j: holding.hold(w.shop, w.by("T2"), job=j, phase="1", reason="parts"),
    ),
    "released": (
        _held, "T2",
        lambda w, j: holding.release(w.shop, w.by("T2"), job=j, phase="1"),
    ),
    "found": (
        _on_one, "T2",
        lambda w, j: holding.find(
            w.shop, w.by("T2"), job=j, phase="1", kind="surprise", text="stud", hours=1
        ),
    ),
    "supplement-answered": (
        _asked, "FOR",
        lambda w, j: holding.answer_supplement(w.shop, w.by("FOR"), job=j, approve=True),
    ),
    "supplement-answered, refused": (
        _asked, "FOR",
        lambda w, j: holding.answer_supplement(
            w.shop, w.by("FOR"), job=j, approve=False, told_by="the owner", means="telephone"
        ),
    ),
    "placed": (
        _waiting, "FOR",
        lambda w, j: places.move(w.shop, w.by("FOR"), job=j, place="1", lift=True),
    ),
    "placed, from a yard": (
        _in_yard, "FOR",
        lambda w, j: places.move(w.shop, w.by("FOR"), job=j, place="1", lift=True),
    ),
    "placed, unit": (
        _waiting, "FOR",
        lambda w, j: places.move(
            w.shop, w.by("FOR"), job=j, place="ST", lift=False, part="unit"
        ),
    ),
    "promised": (
        _waiting, "FOR", lambda w, j: jobs.promise(w.shop, w.by("FOR"), job=j, at=w.at(9, 0, 3))
    ),
    "job-noted": (
        _waiting, "APP", lambda w, j: notes.note(w.shop, w.by("APP"), job=j, text="old parts back")
    ),
    "assigned": (
        _waiting, "FOR", lambda w, j: assign(w.shop, w.by("FOR"), job=j, phase="1", badge="T1")
    ),
    "line-ordered": (
        _three_wait, "FOR",
        lambda w, j: put_in_line(w.shop, w.by("FOR"), job=str(int(j) + 2), before=j),
    ),
    "lift-withdrawn": (
        _waiting, "T1", lambda w, j: places.withdraw_lift(w.shop, w.by("T1"), code="2", reason="x")
    ),
    "parts-listed": (
        _waiting, "APP",
        lambda w, j: parts.list_parts(w.shop, w.by("APP"), job=j, texts=["oil", "seal"], phase="1"),
    ),
    "parts-moved": (
        _ordered, "T1",
        lambda w, j: parts.move_parts(
            w.shop, w.by("T1"), job=j, lines=[2], state="here", batch="7", note="two boxes", price=3
        ),
    ),
    "parts-moved, told anew": (
        _ordered, "T1",
        lambda w, j: parts.move_parts(
            w.shop, w.by("T1"), job=j, lines=[2, 1], state="ordered", supplier="Factor"
        ),
    ),
    "hire-asked": (
        _waiting, "FOR",
        lambda w, j: hires.ask(w.shop, w.by("FOR"), kit="link", supplier="Loan", job=j),
    ),
    "hire-asked, for the shop": (
        _waiting, "FOR",
        lambda w, j: hires.ask(w.shop, w.by("FOR"), kit="link", supplier="Loan"),
    ),
    "hire-received": (
        _hired, "T1", lambda w, j: hires.receive(w.shop, w.by("T1"), kit="link", due=w.at(9, 0, 4))
    ),
    "hire-extended": (
        _on_hand, "FOR",
        lambda w, j: hires.extend(w.shop, w.by("FOR"), kit="link", due=w.at(9, 0, 4)),
    ),
    "hire-sent-back": (
        _on_hand, "T1",
        lambda w, j: hires.send_back(w.shop, w.by("T1"), kit="link", pieces=4, note="washed"),
    ),
    "history-imported": (
        _waiting, "FOR",
        lambda w, j: history.import_history(
            w.shop, w.by("FOR"), records=[finished(seq=one) for one in range(1, 700)], source="old"
        ),
    ),
}  # fmt: skip


KINDS.update(OUTSIDE | END | DESK | OF_KITS | OF_THE_MONTH)


def _without(w: World, tables: dict[str, list[tuple[object, ...]]]) -> dict[str, object]:
    """The tables without what only grows, void names, and the columns told anew."""
    kept: dict[str, object] = {}
    for name, rows in tables.items():
        if name in HISTORY:
            continue
        if name in BOOK_TABLES:
            kept[name] = sorted(w.all(BOOK_TABLES[name]), key=repr)
            continue
        columns = [cast("str", one[1]) for one in w.all(f"pragma table_info({name})")]
        drop = TOLD_ANEW.get(name, ())
        found = [
            tuple(v for c, v in zip(columns, row, strict=True) if c not in drop)
            for row in rows
            if not _gone(name, dict(zip(columns, row, strict=True)))
        ]
        kept[name] = sorted(found, key=repr)
    return kept


BOOK_TABLES = {
    "book": "select source, content from book order by version desc limit 1",
    **{
        f"book_{name}": f"select {columns} from book_{name} "
        "where version = (select max(version) from book)"
        for name, columns in (
            ("phase", "code, name, kind, needs"), ("step", "phase, code, spec"),
            ("condition", "code, text, forbids"),
        )
    },
}  # fmt: skip
"""Versions only grow: what holds is the newest one."""


def _gone(table: str, row: dict[str, object]) -> bool:
    """What stays in sight as taken back."""
    if table == "signature":
        return bool(row["void"])
    if table in ("finding", "note", "call", "ceiling_set"):
        return bool(row["withdrawn"])
    return table in ("supplement", "follow_up") and row["state"] == "withdrawn"


@pytest.mark.parametrize("name", sorted(KINDS))
def test_taken_back_everything_is_as_it_was(world: World, name: str) -> None:
    make, badge, act = KINDS[name]
    job = make(world)
    before = _without(world, world.tables())
    act(world, job)
    assert _without(world, world.tables()) != before
    undo.undo(world.shop, world.by(badge))
    after = _without(world, world.tables())
    for table, rows in before.items():
        assert after[table] == rows, table
    found = verify(world.shop.path)
    assert found.ok, found.says


FOLLOWING = {
    "phase-begun", "phase-taken-back", "estimate-changed", "customer-known", "customer-of-job",
    "kit-known",
}  # fmt: skip
"""Kinds that are only written beside another of the same act."""


def test_every_kind_that_can_be_taken_back_is_tried() -> None:
    assert set(TAKERS) == {*FOLLOWING, *(name.split(",")[0] for name in KINDS)}


def test_what_screens_offer_to_take_back_is_what_can_be() -> None:
    assert set(TAKERS) == CAN_BE_TAKEN_BACK


def test_only_the_last_entry_and_only_once(world: World) -> None:
    job = _on_one(world)
    world.off("T1")
    undo.undo(world.shop, world.by("T1"))
    world.refused(lambda: undo.undo(world.shop, world.by("T1")), "nothing to take back")
    assert world.one("select count(*) from clock where until is null and job = ?", job) == 1
    world.refused(lambda: undo.undo(world.shop, world.by("APP")), "cannot be taken back")
    world.on("T2", job, "1")
    world.refused(
        lambda: undo.undo(world.shop, world.by("T2", at=world.at(8))), "no time of its own"
    )


def test_what_somebody_built_on_stays(world: World) -> None:
    job = _raised(world)
    world.sign("T2", job, "LK", readings=GOOD)
    world.sign("T1", job, "LK")
    world.refused(lambda: undo.undo(world.shop, world.by("T2")), "signed again since")
    world.on("T1", job, "3")
    world.sign("FOR", job, "GB-off:3")
    world.finish("FOR", job, "2")
    world.refused(lambda: undo.undo(world.shop, world.by("T2")))
    holding.hold(world.shop, world.by("APP"), job=job, phase="3", reason="parts")
    holding.release(world.shop, world.by("FOR"), job=job, phase="3")
    world.refused(lambda: undo.undo(world.shop, world.by("APP")), "over by now")
    world.on("T2", job, "3")
    world.refused(lambda: undo.undo(world.shop, world.by("FOR")), "worked on it since")


def test_a_clock_stopped_or_confirmed_or_of_a_closed_job_is_not_taken_back(world: World) -> None:
    job = _small(world)
    world.finish("FOR", job, "1")
    world.refused(lambda: undo.undo(world.shop, world.by("T1")), "stopped since")
    undo.undo(world.shop, world.by("FOR"))
    world.off("T1")
    world.finish("FOR", job, "1")
    world.refused(lambda: undo.undo(world.shop, world.by("T1")), "is finished")
    jobs.close(world.shop, world.by("FOR"), job=job)
    world.refused(lambda: undo.undo(world.shop, world.by("T1")), "is closed")


def test_a_confirmed_day_stays(world: World) -> None:
    _on_one(world)
    world.off("T1")
    day_sheet.confirm_day(world.shop, world.by("FOR"), day=date(2026, 10, 12), badge="T1")
    world.refused(lambda: undo.undo(world.shop, world.by("T1")), "confirmed by now")


def test_a_clock_put_right_and_changed_since_stays(world: World) -> None:
    job = _shortened(world)
    one = _newest(world)
    day_sheet.correct_clock(world.shop, world.by("FOR"), clock=one, until=world.at(8, 25))
    world.refused(lambda: undo.undo(world.shop, world.by("T1")), "changed again since")
    undo.undo(world.shop, world.by("FOR"))
    day_sheet.confirm_day(world.shop, world.by("FOR"), day=date(2026, 10, 12), badge="T1")
    world.refused(lambda: undo.undo(world.shop, world.by("T1")), "confirmed by now")
    assert world.one("select count(*) from clock where job = ?", job) == 1


def test_a_running_clock_does_not_go_back_to_a_phase_that_is_over(world: World) -> None:
    job = _on_one(world)
    wrong = _newest(world)
    world.on("T2", job, "1")
    day_sheet.correct_clock(
        world.shop, world.by("T1"), clock=wrong, where=day_sheet.Where(reason="parts")
    )
    world.finish("T2", job, "1")
    world.refused(lambda: undo.undo(world.shop, world.by("T1")), "is finished")
    assert world.one("select reason from clock where seq = ?", wrong) == "parts"


def test_a_clock_does_not_run_on_behind_a_gate_that_opened_since(world: World) -> None:
    job = _raised(world)
    world.on("T1", job, "3")
    world.off("T1")
    world.sign("T2", job, "LK", readings=GOOD)
    world.sign("FOR", job, "LK")
    world.sign("T2", job, "GB-off:3")
    world.finish("T2", job, "2")
    phases.reopen(world.shop, world.by("FOR"), job=job, phase="2")
    world.refused(lambda: undo.undo(world.shop, world.by("T1")), "waits for the hold point")


def test_a_void_signature_is_not_taken_back(world: World) -> None:
    job = _raised(world)
    world.sign("T2", job, "LK", readings=GOOD)
    world.sign("T1", job, "LK")
    world.sign("FOR", job, "GB-off:3")
    world.finish("FOR", job, "2")
    phases.reopen(world.shop, world.by("FOR"), job=job, phase="2")
    world.refused(lambda: undo.undo(world.shop, world.by("T1")), "void already")


def test_a_phase_left_out_by_hand_is_not_brought_back_by_an_answer(world: World) -> None:
    job = _decides(world)
    phases.skip(world.shop, world.by("FOR"), job=job, phase="4", reason="renewed last year")
    world.sign("T2", job, "BU", answer="B")
    undo.undo(world.shop, world.by("T2"))
    assert world.phase(job, "B2").state == "skipped"
    undo.undo(world.shop, world.by("FOR"))
    assert world.phase(job, "B2").state == "to come"


def test_a_deed_done_on_it_keeps_a_signature(world: World) -> None:
    job = _filled(world)
    world.sign("FOR", job, "HF")
    world.sign("T2", job, "fire")
    world.refused(lambda: undo.undo(world.shop, world.by("FOR")), "was signed since")


def test_taking_one_finding_back_keeps_the_hold_of_another(world: World) -> None:
    job = _waiting(world)
    for badge in ("T2", "APP"):
        holding.find(
            world.shop, world.by(badge), job=job, phase="1", kind="surprise", text=badge, hours=1
        )
    undo.undo(world.shop, world.by("T2"))
    assert world.one("select count(*) from hold where until is null and job = ?", job) == 1
    world.refused(lambda: steps.sign(world.shop, world.by("T1"), job=job, phase="1", step="1"))
