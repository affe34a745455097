"""The desk at one look; quotes and what became of them; a vehicle over its visits."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from store.actions import clock, comebacks, holding, places
from store.actions.desk import acts as desk
from store.trouble import Refused
from store.views.bay import bay
from store.views.desk.page import desk as look
from store.views.desk.page import sees_names
from store.views.desk.values import DeskRow
from store.views.floor import floor
from store.views.quotes import months_before, quotes_and_outcomes
from store.views.vehicle import vehicle
from tests.store.actions.made import World, make
from tests.store.made_desk import (
    KIM,
    agreed,
    arrived,
    check,
    closed,
    enquiry,
    passed,
    with_checks,
)


@pytest.fixture(name="world")
def world_fixture(tmp_path: Path) -> Iterator[World]:
    """A small shop whose work book has qualifying checks."""
    made = with_checks(make(tmp_path))
    yield made
    made.shop.close()


def row(world: World, job: str) -> DeskRow:
    found = look(world.shop, world.now, names=True)
    return next(one for one in (*found.rows, *found.gone) if one.number == job)


def quoted(world: World, job: str) -> None:
    desk.quote(world.shop, world.by("FOR"), job=job, until=date(2026, 10, 14))


# -- what comes next


def test_what_comes_next_is_said_from_the_call_to_the_lift(world: World) -> None:
    job = enquiry(world)
    assert row(world, job).next == "choose the work and the family"
    desk.choose_work(world.shop, world.by("T1"), job=job, operations=["SE"], family="B4-M-F")
    assert row(world, job).next == "tell a rough range, book a day"
    desk.quote(world.shop, world.by("FOR"), job=job, rough=True)
    assert row(world, job).next == "book a day"
    desk.book(world.shop, world.by("T1"), job=job, day=date(2026, 10, 13))
    assert row(world, job).next == "comes Tue 13 Oct"
    world.to(8, day=1)
    assert row(world, job).next == "comes today"
    desk.arrive(world.shop, world.by("T1"), job=job)
    assert row(world, job).next == "check: 1 reception"
    world.on("T1", job, "1")
    assert row(world, job).next == "check: 1 reception (T1)"
    world.finish("T1", job, "1")
    world.on("T1", job, "2")
    world.sign("T1", job, "fit", answer="yes")
    world.finish("T1", job, "2")
    assert row(world, job).next == "say what the check came to"
    desk.judge_check(world.shop, world.by("FOR"), job=job, result="pass")
    assert row(world, job).next == "quote"
    quoted(world, job)
    assert row(world, job).next == "the customer's word"
    agreed(world, job)
    assert (row(world, job).state, row(world, job).next) == ("waiting", "bring in")


def test_what_is_late_is_marked(world: World) -> None:
    job, other = enquiry(world, "SE"), enquiry(world, "SE", vehicle="red car")
    desk.book(world.shop, world.by("T1"), job=job, day=date(2026, 10, 13))
    quoted(world, other)
    desk.arrive(world.shop, world.by("T1"), job=other)
    check(world, other)
    desk.judge_check(world.shop, world.by("FOR"), job=other, result="pass")
    world.to(8, day=3)
    assert (row(world, job).late, row(world, job).next) == (
        True, "was to come Tue 13 Oct: ring the customer",
    )  # fmt: skip
    assert (row(world, other).late, row(world, other).next) == (
        True, "the quote held until Wed 14 Oct: ask again",
    )  # fmt: skip


def test_what_failed_its_check_says_so(world: World) -> None:
    job = arrived(world)
    check(world, job)
    desk.judge_check(world.shop, world.by("FOR"), job=job, result="fail", text="cracked")
    found = row(world, job)
    assert found.next == "failed its check: other work, or give it back"
    assert (found.check.result, found.check.text) == ("fail", "cracked")
    assert found.check.labour_h == pytest.approx(0.53, abs=0.03)
    assert found.check.price == pytest.approx(1.1 * 90)


def test_rows_stand_in_the_order_of_a_job_s_life(world: World) -> None:
    waiting, here = arrived(world, vehicle="a"), arrived(world, vehicle="b")
    passed(world, waiting)
    agreed(world, waiting)
    later, sooner = enquiry(world, "SE", vehicle="c"), enquiry(world, "SE", vehicle="d")
    desk.book(world.shop, world.by("T1"), job=later, day=date(2026, 10, 15))
    desk.book(world.shop, world.by("T1"), job=sooner, day=date(2026, 10, 13))
    asked = enquiry(world, vehicle="e")
    on_lift = world.take("SE", "1")
    found = [one.number for one in look(world.shop, world.now).rows]
    assert found == [asked, sooner, later, here, waiting]
    assert on_lift not in found


def test_what_was_agreed_without_the_desk_has_no_check_of_its_own(world: World) -> None:
    job = world.take("SE", lift=None)
    assert (row(world, job).check.state, row(world, job).next) == ("none", "bring in")


def test_what_ended_is_told_for_a_month_with_its_reason(world: World) -> None:
    job = arrived(world)
    desk.decline(world.shop, world.by("FOR"), job=job, why="sold the car")
    assert (row(world, job).state, row(world, job).why) == ("declined", "sold the car")
    world.to(8, day=40)
    assert look(world.shop, world.now).gone == ()


def test_names_are_shown_to_those_who_may_see_them(world: World) -> None:
    job = enquiry(world, customer=KIM)
    assert (row(world, job).customer, row(world, job).telephone) == KIM
    bare = look(world.shop, world.now).rows[0]
    assert (bare.customer, bare.telephone) == (None, None)
    seen = [sees_names(world.shop, badge) for badge in ("OWN", "for", "T1", "X", None)]
    assert seen == [True, True, False, False, False]


def test_two_looks_at_an_unchanged_desk_are_equal(world: World) -> None:
    arrived(world)
    first = look(world.shop, world.now)
    world.now = world.at(12)
    assert look(world.shop, world.now) == first


# -- floor and bay


def test_a_technician_finds_the_check_of_a_vehicle_that_is_here(world: World) -> None:
    job, asked = arrived(world), enquiry(world, "SE", vehicle="red car")
    choices = [(one.job, one.phase, one.place) for one in bay(world.shop, "T1", world.now).choices]
    assert choices == [(job, "1", "yard Y")]
    world.on("T1", job, "1")
    here = bay(world.shop, "T1", world.now)
    assert here.clock is not None
    assert (here.clock.job, here.clock.name) == (job, "reception")
    assert asked not in {one.job for one in here.choices}


def test_the_waiting_line_holds_what_is_agreed_and_no_more(world: World) -> None:
    enquiry(world, "SE", vehicle="red car")
    here, waits = arrived(world), arrived(world, vehicle="grey car")
    passed(world, waits)
    agreed(world, waits)
    found = floor(world.shop, world.now)
    assert [one.number for one in found.waiting] == [waits]
    assert [one.number for one in found.elsewhere] == [here]
    places.move(world.shop, world.by("FOR"), job=here, place="1", lift=True)
    found = floor(world.shop, world.now)
    assert [lane.job.number for lane in found.lanes if lane.job] == [here]
    assert found.elsewhere == ()


# -- quotes and what became of them


def test_quotes_are_compared_with_what_became_of_them(world: World) -> None:
    done = arrived(world)
    desk.quote(world.shop, world.by("FOR"), job=done, rough=True)
    passed(world, done)
    desk.quote(world.shop, world.by("FOR"), job=done)
    agreed(world, done)
    closed(world, done)
    gone = arrived(world, vehicle="grey car")
    desk.quote(world.shop, world.by("FOR"), job=gone)
    desk.decline(world.shop, world.by("FOR"), job=gone, why="too dear")
    left = arrived(world, vehicle="red car")
    desk.quote(world.shop, world.by("FOR"), job=left)
    voice = enquiry(world, "SE", vehicle="white car")
    desk.quote(world.shop, world.by("FOR"), job=voice, rough=True)
    found = quotes_and_outcomes(world.shop, world.now)
    assert (found.quoted, found.agreed, found.declined, found.open) == (3, 1, 1, 1)
    assert [(one.job, one.became, one.why) for one in found.rows] == [
        (done, "agreed", None), (gone, "declined", "too dear"), (left, "open", None),
        (voice, "open", None),
    ]  # fmt: skip
    first = found.rows[0]
    assert (first.rough_h, first.quoted_h, first.agreed_h) == pytest.approx((4.1, 4.1, 4.1))
    assert first.worked_h == found.worked_h
    assert found.worked_h == pytest.approx(0.6, abs=0.05)
    assert found.closed == 1
    assert found.rows[3].quoted_h is None


def test_older_quotes_are_left_out(world: World) -> None:
    job = enquiry(world, "SE")
    desk.quote(world.shop, world.by("FOR"), job=job)
    world.to(8, day=70)
    assert quotes_and_outcomes(world.shop, world.now, months=1).rows == ()
    assert quotes_and_outcomes(world.shop, world.now, months=2).rows != ()


@pytest.mark.parametrize(
    ("months", "first"),
    [(0, date(2026, 3, 1)), (2, date(2026, 1, 1)), (3, date(2025, 12, 1)), (12, date(2025, 3, 1))],
)
def test_months_are_counted_back_over_the_year(months: int, first: date) -> None:
    assert months_before(date(2026, 3, 31), months) == first


# -- a vehicle over its visits


def test_a_vehicle_is_known_over_its_visits(world: World) -> None:
    first = arrived(world)
    desk.identify(world.shop, world.by("T1"), job=first, plate="AB-12", vin="1" * 17)
    world.on("T1", first, "1")
    holding.find(world.shop, world.by("T1"), job=first, phase="1", kind="advice", text="tyres worn")
    clock.clock_off(world.shop, world.by("T1"))
    passed(world, first)
    agreed(world, first)
    closed(world, first)
    again = arrived(world)
    comebacks.come_back(world.shop, world.by("FOR"), job=again, of=first, cause="leaks")
    for text in ("ab-12", "1" * 17, "Blue Van", first, again):
        assert vehicle(world.shop, text, world.now).vin == "1" * 17
    found = vehicle(world.shop, "ab-12", world.now)
    assert [one.number for one in found.visits] == [again, first]
    assert found.visits[1].done == ("reception", "trace the leak", "open", "seal in",
                                    "shut and drive")  # fmt: skip
    assert found.visits[0].comeback_of == first
    assert [(one.job, one.text, one.answer) for one in found.advice] == [
        (first, "tyres worn", None)
    ]
    assert [value for _, value, _ in found.odometers] == [98_000, 98_000]


def test_a_name_that_two_vehicles_have_names_none(world: World) -> None:
    one, other = enquiry(world, "SE", vehicle="van"), enquiry(world, vehicle="van")
    with pytest.raises(Refused, match=f"2 vehicles.*{one}, {other}"):
        vehicle(world.shop, "van", world.now)
    with pytest.raises(Refused, match="No vehicle is called bus"):
        vehicle(world.shop, "bus", world.now)


def test_what_was_answered_ahead_is_at_hand_where_it_is_asked(world: World) -> None:
    job = arrived(world)
    passed(world, job)
    desk.agree(
        world.shop, world.by("FOR"), job=job, basis="time", said_by="the customer", means="letter",
        ahead=[desk.AnsweredAhead(about="seat worn", answer="sleeve it", money=90)],
    )  # fmt: skip
    places.move(world.shop, world.by("FOR"), job=job, place="1", lift=True)
    world.on("T1", job, "3")
    card = bay(world.shop, "T1", world.now).card
    assert card is not None
    assert card.desk.agreement is not None
    assert [(one.about, one.answer, one.money) for one in card.desk.agreement.ahead] == [
        ("seat worn", "sleeve it", 90)
    ]
