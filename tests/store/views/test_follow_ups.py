"""What is to follow: by date, what is overdue first, distances made days."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from store.actions import customers, follow_ups
from store.edges.events.jobs import OdometerRead
from store.rules.follow_ups import ToDo
from store.views.dates import Dated, dates
from store.views.estimate_sheet import estimate_sheet
from store.views.follow_ups import follow_ups as look
from store.views.follow_ups import one_job
from store.views.handing_over import at_hand_over
from tests.store.actions.made import World, make
from tests.store.made_end import all_signed, handed_over, whole_job, with_kits


@pytest.fixture(name="world")
def world_fixture(tmp_path: Path) -> World:
    world = make(tmp_path)
    world.to(8)
    return world


def test_open_ones_by_the_day_they_fall_due(world: World) -> None:
    handed_over(world)
    found = look(world.shop, world.now)
    assert [(one.line, one.due) for one in found.lines] == [
        (5, date(2026, 11, 1)), (2, date(2026, 11, 21)), (4, date(2027, 9, 14)),
    ]  # fmt: skip
    assert found.overdue == 0
    later = look(world.shop, world.now + timedelta(days=30))
    assert [one.overdue for one in later.lines] == [True, False, False]
    assert later.overdue == 1
    assert look(world.shop, world.now) == look(world.shop, world.now)


def test_an_odometer_seen_again_moves_what_was_set_by_distance(world: World) -> None:
    job = handed_over(world)
    follow_ups.set_follow_ups(
        world.shop, world.by("FOR"), job=job, lines=[ToDo("oil", "shop", None, 1000)]
    )
    before = [one.due for one in look(world.shop, world.now).lines if one.what == "oil"]
    assert before == [date(2026, 11, 6)]
    world.to(8, 0, 10)
    vehicle = str(world.one("select vehicle from job where job = ?", job))
    with world.shop.changing(world.by("FOR")) as change:
        change.record(OdometerRead(vehicle=vehicle, value=124_000, unit="km"))
    (one,) = [each for each in look(world.shop, world.now).lines if each.what == "oil"]
    assert (one.due, one.driven) == (date(2026, 11, 1), 124_000)


def test_names_are_shown_to_those_who_may_see_them(world: World) -> None:
    job = handed_over(world)
    customers.know_customer(
        world.shop, world.by("FOR"), job=job, name="Kim Invented", telephone="0123 456"
    )
    assert {one.customer for one in look(world.shop, world.now).lines} == {None}
    named = look(world.shop, world.now, names=True).lines
    assert {(one.customer, one.telephone) for one in named} == {("Kim Invented", "0123 456")}


def test_one_job_has_all_of_its_lines_with_what_became_of_them(world: World) -> None:
    job = handed_over(world)
    found = one_job(world.shop, job, world.now)
    assert [one.state for one in found] == ["done", "open", "dropped", "open", "open"]
    assert (found[0].outcome, found[0].done_by) == ("tight", "For")


def test_what_a_hand_over_asks_for(world: World) -> None:
    with_kits(world)
    job = all_signed(world)
    here = at_hand_over(world.shop, job, world.now)
    assert here.still_open == ()
    assert [(one.code, one.pieces) for one in here.kits] == [
        ("locks", ("crank pin", "two cam locks"))
    ]
    assert (here.run_in, here.warranty_months, here.warranty_distance) == (
        "100 km gently.", 12, 20_000,
    )  # fmt: skip
    assert len(here.follow_ups) == 4
    waiting = at_hand_over(world.shop, world.take("WP", None), world.now)
    assert len(waiting.still_open) > 5


def test_dates_are_those_that_somebody_owes_in_their_order(world: World) -> None:
    job = handed_over(world)
    found = dates(world.shop, world.now).dates
    kinds = [one.kind for one in found]
    assert kinds.count("inspection") == 3
    assert kinds.count("follow-up") == 3
    days = [_day(one) for one in found]
    assert days == sorted(days)
    assert all(job in one.title for one in found if one.kind == "follow-up")
    assert all("Kim" not in f"{one.title} {one.note}" for one in found)


def _day(one: Dated) -> date:
    return one.when.date() if isinstance(one.when, datetime) else one.when


def test_a_sheet_tells_a_range_then_the_quote_then_what_was_agreed(world: World) -> None:
    from store.actions.desk import acts as desk

    job = desk.enquire(
        world.shop, world.by("FOR"), vehicle="tall van", operations=["TC"], family="B4-M-F"
    ).job or ""  # fmt: skip
    rough = estimate_sheet(world.shop, job, world.now)
    assert rough.rough
    planned = rough.ways[0]
    assert planned.planned
    assert planned.low is not None
    assert planned.high is not None
    assert planned.low < planned.high
    assert any(one.ends for one in rough.ways)
    desk.arrive(world.shop, world.by("FOR"), job=job)
    desk.quote(
        world.shop, world.by("FOR"), job=job, basis="ceiling", ceiling=3000, means="telephone",
        until=date(2026, 11, 1), promise=world.at(16, 0, 5),
    )  # fmt: skip
    quoted = estimate_sheet(world.shop, job, world.now)
    assert not quoted.rough
    assert quoted.ways[0].price is not None
    assert (quoted.basis, quoted.ceiling, quoted.until) == ("ceiling", 3000, date(2026, 11, 1))
    assert quoted.promise == datetime(2026, 10, 17, 14, tzinfo=UTC)
    desk.agree(
        world.shop, world.by("FOR"), job=job, basis="ceiling", ceiling=3000, said_by="Kim Invented",
        means="telephone",
    )  # fmt: skip
    agreed = estimate_sheet(world.shop, job, world.now)
    assert len([one for one in agreed.agreed if not one.check]) == 1
    assert agreed.ways == quoted.ways, "the price stays as it was told"


def test_a_job_that_is_over_has_the_sheet_that_was_agreed(world: World) -> None:
    job = whole_job(world)
    found = estimate_sheet(world.shop, job, world.now, names=True)
    assert found.state == "closed"
    assert found.ways[0].price is not None
    assert found.customer == "Kim Invented"
    assert [one.answer for one in found.asked] == ["agreed", "refused"]
