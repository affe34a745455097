"""What a job card tells beside the hours: found, asked, noted, read, promised, needed."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from store.actions import clock, holding, jobs, people, phases, places, steps
from store.actions.undo import taking_back as undo
from store.views.bay import bay
from store.views.job import job_card
from store.views.values import JobCard, Signature
from tests.store.actions.made import World
from tests.store.made import busy_shop

DEEP = "1001"


@pytest.fixture(name="world")
def world_fixture(tmp_path: Path) -> Iterator[World]:
    made = busy_shop(tmp_path)
    yield made
    made.shop.close()


def card(world: World, job: str = DEEP) -> JobCard:
    return job_card(world.shop, job, world.now)


def names(of: JobCard, phase: str, code: str) -> list[Signature]:
    """Every name under a step, the void ones too."""
    return [
        one
        for each in of.phases if each.number == phase
        for step in each.steps if step.step == code
        for one in step.signed
    ]  # fmt: skip


def test_findings_say_what_became_of_them(world: World) -> None:
    assert [(one.kind, one.phase, one.text, one.became) for one in card(world).findings] == [
        ("advice", "2", "pin worn at its tip", "told as advice"),
        ("surprise", "3", "stud breaks", "approved by the customer, in writing"),
        ("surprise", "3", "seat worn", "refused by the customer"),
        ("wrong assumption", "3", "Which build? shrunk on", "in: 4b; out: 4"),
    ]


def test_a_finding_waits_and_is_taken_back_in_words(world: World) -> None:
    world.to(8, 30, day=1)
    holding.find(world.shop, world.by("T2"), job=DEEP, phase="4b", kind="surprise", text="bolt",
                 hours=0.5)  # fmt: skip
    newest = card(world).findings[-1]
    assert (newest.text, newest.line, newest.became) == ("bolt", 3, "waits for the customer's word")
    undo.undo(world.shop, world.by("T2"))
    assert card(world).findings[-1].became == "taken back"
    assert card(world).supplements[-1].state == "withdrawn"


def test_an_answer_as_assumed_is_no_finding_and_an_undone_one_is_none_either(world: World) -> None:
    job = world.take("TC", "2")
    world.do("T2", job, "1")
    world.on("T2", job, "2")
    world.sign("T2", job, "HL", readings={"value": 1980})
    clock.clock_over(world.shop, world.by("T2"), job=job, phase="3")
    world.sign("T2", job, "B1:1")
    world.sign("T2", job, "BU", answer="B")
    assert [one.kind for one in card(world, job).findings] == ["wrong assumption"]
    undo.undo(world.shop, world.by("T2"))
    assert card(world, job).findings == ()
    world.sign("T2", job, "BU", answer="A")
    assert card(world, job).findings == ()


def test_extra_work_says_how_the_word_came(world: World) -> None:
    first, second = card(world).supplements
    assert (first.state, first.answered_by, first.means) == (
        "approved", "the customer", "in writing",
    )  # fmt: skip
    assert (second.state, second.answered_by, second.means) == ("refused", "the customer", None)


def test_notes_of_the_job_and_the_newest_reason_of_each_phase(world: World) -> None:
    phases.finish(world.shop, world.by("T1"), job=DEEP, phase="3", why="rust")
    phases.finish(world.shop, world.by("T2"), job=DEEP, phase="3", why="rust on every bolt")
    assert [(one.who, one.kind, one.phase, one.text) for one in card(world).notes] == [
        ("App", "note", None, "wants the old parts back"),
        ("T2", "took longer", "3", "rust on every bolt"),
    ]


def test_readings_stay_when_taken_anew_and_void_names_say_why(world: World) -> None:
    made = card(world)
    read = names(made, "2", "3")
    assert [(dict(one.readings), one.in_limits, one.void) for one in read] == [
        ({"a": 0.1, "b": 0.5}, False, False), ({"a": 0.1, "b": 0.15}, True, False),
        ({}, True, False),
    ]  # fmt: skip
    assert [(one.void, one.void_why) for one in names(made, "2", "4")] == [
        (True, "taken back"), (False, None),
    ]  # fmt: skip
    world.off("T1")
    phases.reopen(world.shop, world.by("T1"), job=DEEP, phase="2", why="pin not seated")
    died = names(card(world), "2", "3")
    assert {one.void_why for one in died} == {"2 opened again: pin not seated"}
    assert {one.void_at for one in died} == {world.now}


def test_a_vehicle_raised_anew_voids_its_lift_check_and_says_so(world: World) -> None:
    world.to(8, 30, day=1)
    job = world.take("WP", "2")
    world.do("T2", job, "1")
    world.on("T2", job, "2")
    world.sign("T2", job, "HL", readings={"value": 1980})
    world.off("T2")
    places.move(world.shop, world.by("FOR"), job=job, place="Y", lift=False)
    places.move(world.shop, world.by("FOR"), job=job, place="2", lift=True)
    assert [one.void_why for one in names(card(world, job), "2", "1")] == ["raised anew"]


def test_everything_that_was_promised_stands_in_order(world: World) -> None:
    jobs.promise(world.shop, world.by("OWN"), job=DEEP, at=world.at(9, 0, day=7))
    assert [(one.who, one.promise, one.chance) for one in card(world).promises] == [
        ("For", world.at(16, 0, day=4), 0.8), ("Olga", world.at(9, 0, day=7), None),
    ]  # fmt: skip


def test_a_kit_whose_phases_fell_away_is_not_needed_any_more(world: World) -> None:
    (kit,) = card(world).kits
    assert (kit.code, kit.owned, kit.state, kit.phases) == ("link", False, "not needed", ())
    other = world.take("TC", None)
    (kit,) = card(world, other).kits
    assert (kit.code, kit.state, kit.phases) == ("link", "to come", ("4",))


def test_who_left_is_still_called_by_badge_and_name(world: World) -> None:
    people.change_person(
        world.shop, world.by("OWN"), badge="T2", until_day=world.at(8).date()
    )  # fmt: skip
    world.to(8, 0, day=3)
    made = card(world)
    assert "T2" in {one.badge for one in made.workers}
    assert all(not who.startswith("p-") for phase in made.phases for who in phase.people)


def test_the_ledger_of_a_job_is_whole_and_the_bay_does_without(world: World) -> None:
    job = world.take("TC", "2")
    for _ in range(110):
        world.on("T2", job, "1")
        world.off("T2")
    assert len(card(world, job).ledger) > 220
    shown = bay(world.shop, "T1", world.now).card
    assert shown is not None
    assert shown.ledger == ()


def test_a_step_let_stand_says_why(world: World) -> None:
    world.to(8, 30, day=1)
    job = world.take("TC", "2")
    world.do("T2", job, "1")
    world.on("T2", job, "2")
    world.sign("T2", job, "HL", readings={"value": 1980})
    world.sign("T2", job, "GB-off:1")
    world.sign("T2", job, "LK", readings={"a": 0.1, "b": 0.9})
    step = world.step(job, "LK")
    steps.sign(world.shop, world.by("FOR"), job=job, phase=step.phase, step=step.step,
               as_is="maker's limit for used parts")  # fmt: skip
    (read,) = names(card(world, job), step.phase, step.step)[:1]
    assert (read.in_limits, read.as_is) == (False, "maker's limit for used parts")
