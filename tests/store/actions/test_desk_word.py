"""Work that does not come about, and vehicles that come back."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from store.actions import clock, comebacks, places
from store.actions.desk import acts as desk
from store.file.past_spans import spans
from store.file.past_work import past_work
from store.file.verify import verify
from store.views.job import job_card
from tests.store.actions.made import World
from tests.store.made_desk import agreed, arrived, check, closed, enquiry, passed, with_checks


@pytest.fixture(autouse=True)
def _checked(world: World) -> None:
    with_checks(world)


def decline(world: World, job: str, why: str = "too dear") -> Callable[[], object]:
    return lambda: desk.decline(
        world.shop, world.by("FOR"), job=job, why=why, said_by="the customer", means="telephone"
    )


def test_a_declined_quote_is_answered_and_its_place_is_free(world: World) -> None:
    job = arrived(world)
    passed(world, job)
    desk.quote(world.shop, world.by("FOR"), job=job)
    done = desk.decline(world.shop, world.by("FOR"), job=job, why="too dear", said_by="Aunt Sample")
    assert "0.5 h" in done.says
    assert world.one("select state from job where job = ?", job) == "declined"
    assert world.all("select state, why from quote where job = ?", job) == [
        ("declined", "too dear")
    ]
    assert world.all("select 1 from job_place where job = ?", job) == []
    assert world.all("select 1 from stay where job = ? and until is null", job) == []
    assert verify(world.shop.path).ok


def test_what_is_turned_away_withdraws_its_quote(world: World) -> None:
    job = enquiry(world, "SE")
    desk.quote(world.shop, world.by("FOR"), job=job)
    desk.turn_away(world.shop, world.by("FOR"), job=job, why="no time before winter")
    assert world.one("select state from job where job = ?", job) == "turned-away"
    assert world.one("select state from quote where job = ?", job) == "withdrawn"
    world.refused(decline(world, job), "turned away")


def test_a_reason_is_said(world: World) -> None:
    job = enquiry(world)
    world.refused(decline(world, job, " "), "why")
    world.refused(lambda: desk.turn_away(world.shop, world.by("FOR"), job=job, why=""), "why")


def test_nothing_goes_back_while_a_clock_runs(world: World) -> None:
    job = arrived(world)
    world.on("T1", job, "1")
    world.refused(decline(world, job), "clock of T1", f"{job}.1")
    clock.clock_off(world.shop, world.by("T1"))
    decline(world, job)()


def test_what_is_agreed_and_not_begun_may_still_be_declined(world: World) -> None:
    job = arrived(world)
    passed(world, job)
    agreed(world, job)
    decline(world, job)()
    assert world.one("select state from job where job = ?", job) == "declined"


def test_work_that_has_begun_is_ended_by_closing_it(world: World) -> None:
    job = arrived(world)
    passed(world, job)
    agreed(world, job)
    places.move(world.shop, world.by("FOR"), job=job, place="2", lift=True)
    world.on("T1", job, "3")
    clock.clock_off(world.shop, world.by("T1"))
    world.refused(decline(world, job), "has begun")


def test_a_vehicle_with_an_open_condition_does_not_go_back(world: World) -> None:
    job = arrived(world)
    check(world, job)
    with world.shop.changing(world.by("FOR")) as change:
        change.db.execute(
            "insert into book_condition values (2, 'no-oil', 'no engine oil', '[\"hand-over\"]')"
        )
        change.db.execute("insert into condition values (?, 'no-oil', ?, 1)", (job, "x"))
    world.refused(decline(world, job), "no engine oil")


def test_extra_work_that_waits_for_a_word_is_answered_first(world: World) -> None:
    job = arrived(world)
    with world.shop.changing(world.by("FOR")) as change:
        change.db.execute(
            "insert into supplement (job, line, text, hours, state, asked_at, asked_by) "
            "select ?, 1, 'new tyres', 1, 'asked', 'x', person from person limit 1",
            (job,),
        )
    world.refused(decline(world, job), "new tyres")


# -- the learner


def test_what_was_declined_teaches_nothing(world: World) -> None:
    job = arrived(world)
    check(world, job)
    decline(world, job)()
    with world.shop.reading() as db:
        assert past_work(db, running=True) == []
        assert spans(db, running=True) == []


# -- comebacks


def done_before(world: World) -> str:
    job = arrived(world)
    passed(world, job)
    agreed(world, job)
    closed(world, job)
    return job


def come_back(world: World, job: str, of: str, **said: object) -> Callable[[], object]:
    full = {"cause": "leaks again", "fault": "ours", "pays": "shop", **said}
    return lambda: comebacks.come_back(world.shop, world.by("FOR"), job=job, of=of, **full)  # type: ignore[arg-type]  # what was typed


def test_its_hours_stand_against_the_old_job_and_teach_nothing(world: World) -> None:
    old = done_before(world)
    job = arrived(world)
    come_back(world, job, old, phase="4")()
    check(world, job)
    card = job_card(world.shop, old, world.now)
    assert [(one.job, one.phase, one.pays) for one in card.desk.comebacks] == [(job, "4", "shop")]
    assert card.desk.comebacks_h == pytest.approx(0.55, abs=0.05)
    link = job_card(world.shop, job, world.now).desk.comeback_of
    assert link is not None
    assert (link.of, link.cause) == (old, "leaks again")
    with world.shop.reading() as db:
        assert {one.job for one in past_work(db, running=True)} == {old}
    assert verify(world.shop.path).ok


def test_it_is_told_anew_where_it_was_wrong(world: World) -> None:
    old, job = done_before(world), arrived(world)
    come_back(world, job, old)()
    come_back(world, job, old, fault="not ours", pays="customer")()
    assert world.all("select fault, pays from comeback") == [("not ours", "customer")]


def test_a_comeback_is_of_the_same_vehicle_and_of_a_closed_job(world: World) -> None:
    old = done_before(world)
    other = arrived(world, vehicle="grey car")
    world.refused(come_back(world, other, old), "another vehicle", "blue van")
    job = arrived(world)
    world.refused(come_back(world, job, job), "itself")
    world.refused(come_back(world, job, old, phase="9"), "no phase 9")
    world.refused(come_back(world, job, old, cause=" "), "cause")
    world.refused(come_back(world, job, "77"), "no job 77")
    again = enquiry(world, "SE")
    world.refused(come_back(world, again, job), "arrived, not closed")
