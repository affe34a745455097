"""What lacks as the floor, the card and the command see it, each kind alone and all together."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from store.actions import books, holding, parts, people, places
from store.actions.hires import asked as hires
from store.trouble import Refused
from store.views.floor import floor
from store.views.job import job_card
from store.views.ready import readiness, waiting_jobs
from store.views.tools.page import tools
from store.views.values import Job
from tests.store.actions.made import BOOK, World, make

OWNED = BOOK.replace(
    'name = "chain link tool"\nowned = false', 'name = "chain link tool"\nowned = true'
)
LINK = 'kit = "link"'


@pytest.fixture(name="world")
def world_fixture(tmp_path: Path) -> World:
    world = make(tmp_path)
    world.to(8)
    return world


def ready_job(world: World) -> str:
    """A job that waits, to which nothing lacks."""
    job = world.take(lift=None)
    parts.move_parts(world.shop, world.by("T1"), job=job, lines=[1, 2], state="here")
    hires.ask(world.shop, world.by("FOR"), kit="link", supplier="Loan", job=job,
              due=world.at(15, day=3))  # fmt: skip
    hires.receive(world.shop, world.by("T1"), kit="link", job=job)
    return job


def seen(world: World, job: str) -> Job:
    """As the floor has it; the card and the command must say the same."""
    (found,) = [one for one in floor(world.shop, world.now).waiting if one.number == job]
    assert job_card(world.shop, job, world.now).job.ready == found.ready
    assert waiting_jobs(world.shop, world.now, job)[0].ready == found.ready
    with world.shop.reading() as db:
        assert readiness(db, [found], world.now)[job] == found.ready
    return found


def test_a_job_to_which_nothing_lacks_is_ready_and_a_free_lift_takes_it(world: World) -> None:
    job = ready_job(world)
    found = seen(world, job)
    assert found.ready is not None
    assert found.ready.ready
    assert found.lacks == ()
    assert job in floor(world.shop, world.now).lanes[0].takes


def no_part(world: World, job: str) -> None:
    parts.list_parts(world.shop, world.by("T1"), job=job, texts=["stud"], phase="2")


def part_ordered(world: World, job: str) -> None:
    no_part(world, job)
    parts.move_parts(
        world.shop, world.by("T1"), job=job, lines=[3], state="ordered",
        expected=world.at(15, day=3),
    )  # fmt: skip


def no_kit(world: World, job: str) -> None:
    hires.send_back(world.shop, world.by("T1"), kit="link", job=job)


def kit_not_complete(world: World, job: str) -> None:
    no_kit(world, job)
    hires.ask(world.shop, world.by("FOR"), kit="link", supplier="Loan", job=job)
    hires.receive(
        world.shop, world.by("T1"), kit="link", complete=False, note="pin", due=world.at(9, day=4)
    )


def nobody_qualified(world: World, job: str) -> None:
    people.set_absence(
        world.shop, world.by("FOR"), badge="T2", since=world.at(6), until=world.at(20), why="ill"
    )


def nobody(world: World, job: str) -> None:
    for badge in ("T1", "T2", "FOR", "OWN"):
        people.set_absence(
            world.shop, world.by("OWN"), badge=badge, since=world.at(6), until=world.at(20),
            why="fair",
        )  # fmt: skip


def held(world: World, job: str) -> None:
    holding.hold(world.shop, world.by("T1"), job=job, phase=None, reason="approval")


def no_lift(world: World, job: str) -> None:
    for lift in ("1", "2", "3"):
        places.withdraw_lift(world.shop, world.by("T1"), code=lift, reason="lock")


ALONE: list[tuple[Callable[[World, str], None], str, str]] = [
    (no_part, "parts", "parts 1 of 3, not ordered"),
    (part_ordered, "parts", "parts 1 of 3, Thu"),
    (no_kit, "kit", "kit: chain link tool"),
    (kit_not_complete, "kit", "kit: chain link tool, not complete"),
    (nobody_qualified, "person", "person: refrigerant"),
    (nobody, "person", "a person"),
    (held, "agreed", "customer's word"),
    (no_lift, "lift", "no lift here for 2.0 t"),
]


@pytest.mark.parametrize(("lose", "kind", "words"), ALONE)
def test_one_thing_that_is_taken_away_is_what_lacks(
    world: World, lose: Callable[[World, str], None], kind: str, words: str
) -> None:
    job = ready_job(world)
    lose(world, job)
    found = seen(world, job)
    assert found.ready is not None
    assert [(one.kind, one.words) for one in found.ready.lacks] == [(kind, words)]
    assert found.lacks == (words,)
    assert job not in floor(world.shop, world.now).lanes[0].takes


def test_all_of_it_together_is_said_the_lift_last(world: World) -> None:
    job = ready_job(world)
    for lose in (no_part, no_kit, held, no_lift, nobody):
        lose(world, job)
    assert seen(world, job).lacks == (
        "customer's word", "parts 1 of 3, not ordered", "kit: chain link tool", "a person",
        "no lift here for 2.0 t",
    )  # fmt: skip


def test_a_hold_for_parts_is_not_said_twice(world: World) -> None:
    job = ready_job(world)
    no_part(world, job)
    holding.hold(world.shop, world.by("T1"), job=job, phase=None, reason="parts")
    assert seen(world, job).lacks == ("parts 1 of 3, not ordered",)


def test_somebody_who_comes_back_today_is_there(world: World) -> None:
    job = ready_job(world)
    people.set_absence(
        world.shop, world.by("FOR"), badge="T2", since=world.at(6), until=world.at(11), why="x"
    )
    assert seen(world, job).lacks == ()


def test_a_qualification_that_ran_out_is_none(world: World) -> None:
    job = ready_job(world)
    people.qualify(
        world.shop, world.by("OWN"), badge="T2", what="refrigerant", until=date(2026, 10, 11)
    )
    assert seen(world, job).lacks == ("person: refrigerant",)


def test_an_owned_kit_lacks_while_another_job_has_it_in_use(tmp_path: Path) -> None:
    world = make(tmp_path)
    books.load_workbook(world.shop, world.by("FOR"), source=OWNED)
    world.to(8)
    busy, job = using_the_link(world), world.take(lift=None)
    parts.move_parts(world.shop, world.by("T1"), job=job, lines=[1, 2], state="here")
    assert seen(world, job).lacks == (f"kit: chain link tool, on {busy}",)
    world.finish("T2", busy, "4")
    assert seen(world, job).lacks == ()


def using_the_link(world: World, job: str | None = None) -> str:
    job = job or world.take()
    world.do("T2", job, "1")
    world.on("T2", job, "2")
    world.sign("T2", job, "HL", readings={"gross": 2000})
    world.sign("T2", job, "GB-off:1")
    world.sign("T2", job, "LK", readings={"a": 0.1, "b": 0.12})
    world.sign("T1", job, "LK")
    world.finish("T2", job, "2")
    world.on("T2", job, "3")
    world.sign("T2", job, "BU", answer="A")
    world.finish("T2", job, "3")
    world.on("T2", job, "4")
    return job


def test_a_job_that_is_in_has_no_sign_and_its_card_says_what_it_lacked(world: World) -> None:
    job = world.take(lift="1")
    card = job_card(world.shop, job, world.now)
    assert card.job.ready is None
    assert card.unready == ("parts 2 of 2, not ordered", "kit: chain link tool")
    with pytest.raises(Refused, match="is on lift"):
        waiting_jobs(world.shop, world.now, job)
    with pytest.raises(Refused, match="There is no job 99"):
        waiting_jobs(world.shop, world.now, "99")


def test_a_kit_that_goes_back_today_is_due_on_the_floor(world: World) -> None:
    job = ready_job(world)
    view = floor(world.shop, world.now)
    assert [(one.kit, one.overdue, one.job) for one in view.tools_due] == [("link", False, job)]
    assert not [one for one in view.wants if one.word == "DUE" and "kit" in one.says]
    world.to(8, day=3)
    view = floor(world.shop, world.now)
    (want,) = [one for one in view.wants if "kit" in one.says]
    assert (want.word, want.job) == ("DUE", job)
    assert want.says.startswith("kit chain link tool goes back to Loan today, 15:00; needed till 1")
    assert "kit-due" in seen(world, job).flags
    world.to(9, day=4)
    view = floor(world.shop, world.now)
    assert view.tools_due[0].overdue
    assert "was due at Loan Thu 15 Oct" in next(one.says for one in view.wants if "kit" in one.says)
    hires.send_back(world.shop, world.by("T1"), kit="link", job=job)
    assert floor(world.shop, world.now).tools_due == ()


def test_tools_say_where_each_kit_is_and_who_needs_it_when(world: World) -> None:
    found = {one.code: one for one in tools(world.shop, world.now).kits}
    assert {code: one.state for code, one in found.items()} == {
        "link": "not hired", "locks": "not hired",
    }  # fmt: skip
    job = ready_job(world)
    link = next(one for one in tools(world.shop, world.now).kits if one.code == "link")
    assert link.state == "on hand"
    (wanted,) = link.needed_by
    assert (wanted.job, wanted.phase) == (job, "4")
    assert world.now <= wanted.since < wanted.middle <= wanted.cautious


def test_signs_of_many_jobs_take_as_many_questions_as_those_of_one(world: World) -> None:
    ready_job(world)
    few = _questions(world)
    for _ in range(12):
        ready_job(world)
    assert len(floor(world.shop, world.now).waiting) == 13
    assert _questions(world) == few


def _questions(world: World) -> int:
    asked: list[str] = []
    with world.shop.reading() as db:
        db.set_trace_callback(asked.append)
    try:
        floor(world.shop, world.now)
    finally:
        with world.shop.reading() as db:
            db.set_trace_callback(None)
    return sum(one.lstrip().lower().startswith("select") for one in asked)
