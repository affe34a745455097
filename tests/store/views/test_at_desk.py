"""What the forms of the desk know of one job."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from store.actions import calls, clock, jobs, phases
from store.actions.desk import acts as desk
from store.actions.undo import taking_back as undo
from store.file.shop import Shop
from store.trouble import Refused
from store.views.desk.at_desk import at_desk, calls_due, seen_before
from tests.tui.desk.ready import JOB, OWNER, called, chosen, here, quoted
from tests.tui.shops import Pen, worked_on


@pytest.fixture(name="pen")
def pen_fixture() -> Pen:
    return Pen()


@pytest.fixture(name="shop")
def shop_fixture(tmp_path: Path, pen: Pen) -> Iterator[Shop]:
    made = worked_on(tmp_path / "made.shop", pen)
    yield made
    made.close()


def test_a_customer_is_shown_to_those_who_may_see_them_only(shop: Shop, pen: Pen) -> None:
    called(shop, pen)
    assert at_desk(shop, JOB, pen.now, customers=True).customer == OWNER
    assert at_desk(shop, JOB, pen.now, customers=False).customer is None


def test_operations_have_their_names_and_decisions_that_can_be_settled_ahead(
    shop: Shop, pen: Pen
) -> None:
    chosen(shop, pen)
    found = at_desk(shop, JOB, pen.now, customers=True)
    assert found.operations == (("CL", "clutch and flywheel"), ("RS", "rear main seal"))
    asked = {one.about: one.answers for one in found.ahead}
    assert asked["Flywheel: reuse or renew?"] == ("reuse it", "renew it: money, no hours")
    assert all(len(answers) > 1 for answers in asked.values())


def test_what_the_check_asks_is_not_settled_ahead(shop: Shop, pen: Pen) -> None:
    chosen(shop, pen)
    before = {one.about for one in at_desk(shop, JOB, pen.now, customers=True).ahead}
    desk.arrive(shop, pen.by("F01"), job=JOB)
    after = {one.about for one in at_desk(shop, JOB, pen.now, customers=True).ahead}
    assert before - after == {"Fit for this work?"}


def test_the_odometer_and_whether_it_is_here(shop: Shop, pen: Pen) -> None:
    chosen(shop, pen)
    found = at_desk(shop, JOB, pen.now, customers=True)
    assert (found.here, found.vehicle.odometer) == (False, None)
    desk.arrive(shop, pen.by("F01"), job=JOB, odometer=84_200, unit="km")
    found = at_desk(shop, JOB, pen.now, customers=True)
    assert found.here
    assert found.vehicle.odometer == (84_200, "km", pen.now)


def test_the_quote_is_the_newest_that_waits_for_its_word(shop: Shop, pen: Pen) -> None:
    quoted(shop, pen)
    desk.quote(shop, pen.by("F01"), job=JOB, basis="time", means="in person")
    found = at_desk(shop, JOB, pen.now, customers=True).quote
    assert found is not None
    assert (found.number, found.basis) == (2, "time")
    desk.decline(shop, pen.by("F01"), job=JOB, why="the price")
    assert at_desk(shop, JOB, pen.now, customers=True).quote is None


def test_a_job_that_nobody_knows_is_refused(shop: Shop, pen: Pen) -> None:
    with pytest.raises(Refused, match="no job 9999"):
        at_desk(shop, "9999", pen.now, customers=True)


def test_a_vehicle_that_was_here_comes_with_its_jobs_and_a_year_of_comebacks(
    shop: Shop, pen: Pen
) -> None:
    assert seen_before(shop, "old saloon", pen.now) is None
    jobs.take_small(shop, pen.by("F01"), text="wipers", vehicle="old saloon")
    clock.clock_on(shop, pen.by("B13"), job=JOB, phase="1")
    clock.clock_off(shop, pen.by("B13", 30))
    phases.finish(shop, pen.by("B13"), job=JOB, phase="1")
    jobs.close(shop, pen.by("F01"), job=JOB)
    for days, fresh in ((0, True), (365, True), (367, False)):
        found = seen_before(shop, "OLD saloon", pen.now + timedelta(days=days))
        assert found is not None
        assert [(one.job, one.work, one.fresh) for one in found[1]] == [(JOB, "wipers", fresh)]


def test_a_job_of_now_is_not_among_those_before(shop: Shop, pen: Pen) -> None:
    here(shop, pen)
    assert at_desk(shop, JOB, pen.now, customers=True).before == ()


def test_a_call_is_due_when_the_newest_try_says_so(shop: Shop, pen: Pen) -> None:
    called(shop, pen)
    first, later = pen.now + timedelta(hours=1), pen.now + timedelta(hours=5)
    for again in (first, later):
        calls.note_call(shop, pen.by("F01"), job=JOB, means="telephone", reached=False, again=again)
    assert calls_due(shop) == {JOB: later}
    undo.undo(shop, pen.by("F01"))
    assert calls_due(shop) == {JOB: first}
    calls.note_call(shop, pen.by("F01"), job=JOB, means="telephone", reached=True)
    assert calls_due(shop) == {}
