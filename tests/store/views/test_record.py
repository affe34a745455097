"""The record holds everything that was said, measured, signed and handed over; nothing is prettier
than it was. What it must hold: the list of a hand-over record (common practice, no source)."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from store.actions.jobs import close
from store.edges.events.desk import CheckJudged, ComebackLinked
from store.edges.events.parts import OutworkBack, OutworkSent
from store.file.verify import verify
from store.trouble import Refused
from store.views.nameless import SOMEBODY
from store.views.record.page import record
from store.views.record.values import Record
from tests.store.actions.made import World, make
from tests.store.made_end import all_signed, handed_over, whole_job
from tui.papers.record import record_paper
from tui.papers.text import text_of


@pytest.fixture(name="world", scope="module")
def world_fixture(tmp_path_factory: pytest.TempPathFactory) -> Iterator[World]:
    world = make(Path(tmp_path_factory.mktemp("record")))
    world.to(8)
    yield world
    world.shop.close()


@pytest.fixture(name="job", scope="module")
def job_fixture(world: World) -> str:
    return whole_job(world)


@pytest.fixture(name="found", scope="module")
def found_fixture(world: World, job: str) -> Record:
    return record(world.shop, job, world.now, names=True, hours=True)


def test_the_vehicle_the_visit_and_the_complaint(found: Record) -> None:
    one = found.vehicle
    assert (one.vin, one.plate, one.engine, one.gearbox) == (
        "1M8GDM9AXKP042788", "KFS 73-40", "E4", "G5",
    )  # fmt: skip
    assert (one.odometer_in, one.odometer_out) == ((120_000, "km"), (120_009, "km"))
    assert (found.complaint, found.lamps, found.grade) == ("rattles when cold", "oil lamp", 3)
    assert found.went is not None
    assert found.came < found.went


def test_what_was_agreed_by_whom_when_and_how_with_every_extra_and_its_answer(
    found: Record,
) -> None:
    word = found.agreed[-1]
    assert (word.by, word.means, word.basis, word.ceiling, word.free_hand) == (
        "the customer", "telephone", "ceiling", 2500, 100,
    )  # fmt: skip
    assert [(one.text, one.answer, one.by) for one in found.extras] == [
        ("stud breaks", "agreed", "the customer"), ("seat worn", "refused", "the customer"),
    ]  # fmt: skip


def test_the_route_that_was_taken_and_why(found: Record) -> None:
    build = next(one for one in found.ways if one.text == "Which build?")
    assert build.became == "shrunk on (added: 4b guides only; left out: 4 chain set)"
    assert [one.became for one in found.done if one.number in ("4", "4b")] == ["left out", "done"]
    assert all(one.people for one in found.done if one.number in ("2", "8"))


def test_every_reading_stays_with_its_limits_and_where_they_come_from(found: Record) -> None:
    locked = [one for one in found.points if one.text == "Engine locked, pins seated"]
    (point,) = locked
    assert [(one.who, one.void, one.in_limits) for one in point.signed] == [
        ("T1", True, False), ("T1", True, True), ("T2", True, True), ("T1", False, True),
        ("T2", False, True),
    ]  # fmt: skip
    assert point.signed[0].values[0].places == (("a", 0.1), ("b", 0.5))
    assert "a pin slipped" in (point.signed[0].void_why or "")
    bolts = next(one for one in found.points if one.text.startswith("Bell bolts"))
    value = bolts.signed[0].values[0]
    assert (value.allowed, value.source) == ("80 to 120 N m", "maker's data, sheet 4")
    raised = next(one for one in found.points if one.text.startswith("Raised"))
    assert raised.signed[0].values[0].source == "the lift's rated capacity"


def test_parts_with_their_batch_and_advice_with_its_answer(found: Record) -> None:
    assert [(one.text, one.batch, one.supplier, one.became) for one in found.parts] == [
        ("guides", "B-77", "Parts Ltd", "renewed")
    ]
    (one,) = found.advice
    assert (one.text, one.answer, one.risk_told, one.by, one.means) == (
        "discs worn", "declined", True, "Kim's brother", "in person",
    )  # fmt: skip
    assert one.answered_at is not None


def test_the_hand_over_who_checked_last_and_what_follows(found: Record) -> None:
    one = found.handed
    assert one is not None
    assert (one.by, one.to, one.old_parts) == ("For", "Kim's brother", "kept here")
    assert one.fluids == ("engine oil, 5.1 l",)
    assert (one.faults_before, one.faults_after) == ("P0016", "none")
    assert (one.warranty_until, one.warranty_distance) == (date(2027, 10, 12), 20_000)
    assert one.run_in == "no full load for 500 km"
    assert one.photographs == "folder 12"
    assert found.last_check is not None
    assert (found.last_check.text, found.last_check.who) == ("Final check", ("Olga",))
    assert len(found.follow_ups) == 5


def test_every_one_of_these_stands_on_the_paper_and_no_word_of_the_insides(found: Record) -> None:
    text = "\n".join(text_of(record_paper(found), 110))
    for words in (
        "1M8GDM9AXKP042788", "KFS 73-40", "120,000 km", "120,009 km", "rattles when cold",
        "oil lamp", "at most 2,500.00 EUR", "stud breaks", "refused", "shrunk on", "b: 0.5",
        "outside its limits", "no longer counts", "maker's data, sheet 4", "B-77", "Kim's brother",
        "yes", "P0016", "engine oil, 5.1 l", "no full load for 500 km", "12 Oct 2027",
        "20,000 km", "kept here", "Olga: Final check", "Call: is all well?", "folder 12", "0.5",
        "The vehicle maker's service data",
    ):  # fmt: skip
        assert words in text, words
    for inside in ("hold point", "gate", "void", "phase", "seq", "ledger", "payload", "None"):
        assert inside not in text.lower().split(), inside


def test_without_being_asked_for_there_are_no_hours_no_money_and_no_names(
    world: World, job: str
) -> None:
    plain = record(world.shop, job, world.now)
    text = "\n".join(text_of(record_paper(plain)))
    assert plain.labour_h is None
    assert all(one.hours is None for one in plain.done)
    assert plain.agreed[-1].money is None
    assert "Kim" not in text
    assert plain.customer is None
    assert plain.handed is not None
    assert plain.handed.to == SOMEBODY


def test_the_busy_hand_over_has_both_readings_of_one_visit_only(world: World, job: str) -> None:
    number = handed_over(world, "2")
    one = record(world.shop, number, world.now).vehicle
    assert (one.odometer_in, one.odometer_out) == (None, (123_500, "km"))


def test_closed_alone_says_that_no_hand_over_was_written(world: World, job: str) -> None:
    number = all_signed(world, "2")
    before = record(world.shop, number, world.now)
    assert before.open == ()
    assert before.went is None
    close(world.shop, world.by("FOR"), job=number)
    after = record(world.shop, number, world.now)
    assert after.handed is None
    assert after.went is not None
    text = "\n".join(text_of(record_paper(after)))
    assert "closed without a hand-over written down" in text


def test_what_is_open_is_said_on_a_record_so_far(world: World, job: str) -> None:
    number = world.take("WP", None)
    found = record(world.shop, number, world.now)
    assert len(found.open) > 3
    text = "\n".join(text_of(record_paper(found)))
    assert "RECORD SO FAR" in text
    assert "not handed over yet" in text


def test_the_check_outwork_and_comebacks_are_told(world: World, job: str) -> None:
    number = world.take("WP", None)
    with world.shop.changing(world.by("FOR")) as change:
        change.record(CheckJudged(job=number, result="pass with conditions", text="mount worn"))
        change.record(
            OutworkSent(job=number, phase="4", what="pump housing skimmed", firm="Skim Ltd")
        )
        change.record(
            OutworkBack(job=number, phase="4", report="0.1 mm off", readings={"flat": 0.02})
        )
        change.record(
            ComebackLinked(
                job=number, of=job, cause="drips again", fault="not known yet", pays="shop"
            )
        )
    found = record(world.shop, number, world.now)
    assert found.check is not None
    assert (found.check.text, found.check.note) == ("pass with conditions", "mount worn")
    (one,) = found.outwork
    assert (one.firm, one.report, one.readings) == ("Skim Ltd", "0.1 mm off", (("flat", 0.02),))
    assert found.comeback_of is not None
    assert [each.job for each in record(world.shop, job, world.now).comebacks] == [number]
    text = "\n".join(text_of(record_paper(found)))
    for words in ("mount worn", "Skim Ltd", "0.1 mm off", f"follows job {job}", "flat"):
        assert words in text, words


def test_two_looks_are_equal_and_the_ledger_is_whole(world: World, job: str) -> None:
    assert record(world.shop, job, world.now) == record(world.shop, job, world.now)
    with pytest.raises(Refused, match="no job 99"):
        record(world.shop, "99", world.now)
    assert verify(world.shop.path).ok
