"""The hand-over: all of what is open is named, one act ends the job, and what follows is set."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from store.actions import follow_ups, handing_over, holding, jobs, people
from store.actions.undo import taking_back as undo
from store.edges.events.jobs import OdometerRead, StateChanged
from store.file.verify import verify
from store.rules.follow_ups import ToDo
from tests.store.actions.made import World
from tests.store.made_end import all_signed, handed_over, with_kits


def _hand(world: World, job: str, badge: str = "FOR", **said: Any) -> object:
    return handing_over.hand_over(world.shop, world.by(badge), job=job, **said)


@pytest.fixture
def at_work(world: World) -> World:
    world.to(8)
    return world


def test_one_act_reads_the_odometer_sets_what_follows_and_closes(at_work: World) -> None:
    job = all_signed(at_work)
    before = at_work.events()
    _hand(at_work, job, odometer=80_000, unit="km", to="Kim Invented", warranty_months=12)
    kinds = [row[0] for row in at_work.all("select kind from ledger where seq > ?", before)]
    assert kinds == [
        "customer-known", "customer-of-job", "handed-over", "odometer-read", "follow-ups-set",
        "job-closed",
    ]  # fmt: skip
    assert at_work.one("select count(*) from entry where seq > ?", before) == 1
    assert at_work.one("select state from job where job = ?", job) == "closed"
    assert at_work.one("select count(*) from clock where job = ? and not confirmed", job) == 0
    payloads = at_work.all("select payload from ledger where seq > ?", before)
    assert not any("Kim" in str(row[0]) for row in payloads), "a name is kept outside the ledger"
    assert verify(at_work.shop.path).ok


def test_everything_that_is_open_is_named_in_one_line(at_work: World) -> None:
    job = at_work.take("WP", "2")
    at_work.do("T2", job, "1")
    at_work.on("T2", job, "2")
    at_work.sign("T2", job, "HL", readings={"gross": 2000})
    at_work.sign("T2", job, "W1:1")
    holding.find(
        at_work.shop, at_work.by("T2"), job=job, phase="2", kind="surprise", text="hose split",
        hours=1,
    )  # fmt: skip
    at_work.on("T1", at_work.take("TC", "1"), "1")
    at_work.refused(
        lambda: _hand(at_work, job), f"{job} cannot be handed over", f"{job}.2 coolant drained",
        f"{job}.6 road test and final check is to come", "held: approval",
        "the customer's word: hose split", "open condition: no coolant",
        "open condition: wheels not tightened", "Final check: not signed (the foreman",
    )  # fmt: skip


def test_the_clock_that_runs_and_the_final_check_are_named(at_work: World) -> None:
    job = all_signed(at_work, but_final=True)
    says = at_work.refused(lambda: _hand(at_work, job), "the clock of T2 on", "Final check")
    assert says.count(";") == 2
    assert at_work.refused(
        lambda: jobs.close(at_work.shop, at_work.by("FOR"), job=job), "Final check: not signed"
    )


def test_an_odometer_that_runs_backwards_refuses_the_whole_act(at_work: World) -> None:
    job = all_signed(at_work)
    vehicle = str(at_work.one("select vehicle from job where job = ?", job))
    with at_work.shop.changing(at_work.by("FOR")) as change:
        change.record(OdometerRead(vehicle=vehicle, value=50_000, unit="miles"))
    at_work.refused(
        lambda: _hand(at_work, job, odometer=80_000, unit="km"),
        "ran backwards: 80,000 km now, 80,467 km before",
    )
    at_work.refused(lambda: _hand(at_work, job, odometer=1, unit="furlongs"), "km or miles")
    _hand(at_work, job, odometer=50_012)
    assert at_work.one("select unit from odometer order by seq desc limit 1") == "miles"
    wheels = at_work.one("select distance from follow_up where job = ? and line = 1", job)
    assert wheels == pytest.approx(50_012 + 62.1, abs=0.1), "100 km in miles"


def test_kits_are_counted_and_a_missing_piece_is_explained(at_work: World) -> None:
    with_kits(at_work)
    job = all_signed(at_work)
    at_work.refused(
        lambda: _hand(at_work, job), "Count the kits", "locks locking set, 2: crank pin, two cam"
    )
    at_work.refused(lambda: _hand(at_work, job, kits={"link": 1}), f"{job} has no kit link")
    at_work.refused(lambda: _hand(at_work, job, kits={"locks": 1}), "missing: 1 of locks")
    _hand(at_work, job, kits={"locks": 1}, missing="pin bent, on the bench")
    content = str(at_work.one("select content from handed_over where job = ?", job))
    assert '"kits":{"locks":1},"missing":"pin bent, on the bench"' in content


def test_the_usual_follow_ups_are_set_where_nothing_else_is_said(at_work: World) -> None:
    with_kits(at_work)
    job = all_signed(at_work)
    _hand(at_work, job, odometer=1_000, unit="km", kits="all there", warranty_months=12)
    rows = at_work.all("select what, who, day, distance, since from follow_up where job = ?", job)
    assert [(str(row[0])[:18], *row[1:4]) for row in rows] == [
        ("Wheels tightened a", "customer or shop", None, 1_100.0),
        ("Call: is all well?", "foreman", "2026-10-17", None),
        ("Coolant level cold", "shop", "2026-10-26", 1_500.0),
        ("Warranty ends on 2", "owner", "2027-09-14", None),
    ]
    assert {row[4] for row in rows} == {"2026-10-12"}
    other = all_signed(at_work, "1")
    _hand(at_work, other, kits="all there", follow_ups=[ToDo("ring", "foreman", date(2026, 11, 1))])
    assert at_work.all("select what, day from follow_up where job = ?", other) == [
        ("ring", "2026-11-01")
    ]


def test_refused_advice_is_asked_about_again_and_distances_without_odometer_are_days(
    at_work: World,
) -> None:
    job = all_signed(at_work, but_final=True)
    holding.find(
        at_work.shop, at_work.by("T2"), job=job, phase="6", kind="advice", text="discs worn"
    )
    at_work.sign("OWN", job, "HX", readings={"open": 0})
    at_work.finish("T2", job, "6")
    _hand(at_work, job)
    rows = at_work.all("select what, day, distance from follow_up where job = ?", job)
    assert all(row[1] is not None and row[2] is None for row in rows)
    assert any("within 1,000 km" in str(row[0]) for row in rows)
    assert any(str(row[0]).startswith("Ask again: discs worn") for row in rows)


def test_a_line_that_is_wrong_leaves_nothing_behind(at_work: World) -> None:
    job = all_signed(at_work)
    yesterday = ToDo("ring", "foreman", date(2026, 10, 11))
    at_work.refused(lambda: _hand(at_work, job, follow_ups=[yesterday]), "is past")
    at_work.refused(lambda: _hand(at_work, job, follow_ups=[ToDo("ring", "foreman")]), "Say when")
    assert at_work.one("select state from job where job = ?", job) == "finished"


def test_a_hand_over_is_not_taken_back_and_not_done_twice(at_work: World) -> None:
    job = all_signed(at_work)
    _hand(at_work, job)
    at_work.refused(lambda: _hand(at_work, job), "is closed")
    at_work.refused(lambda: undo.undo(at_work.shop, at_work.by("FOR")), "cannot be taken back")


def test_closing_alone_leaves_no_hand_over_on_record(at_work: World) -> None:
    job = all_signed(at_work)
    jobs.close(at_work.shop, at_work.by("FOR"), job=job)
    assert at_work.one("select count(*) from handed_over where job = ?", job) == 0
    at_work.refused(lambda: _hand(at_work, job), "is closed")


def test_nothing_agreed_is_nothing_to_close(at_work: World) -> None:
    job = at_work.take("WP", None)
    with at_work.shop.changing(at_work.by("FOR")) as change:
        change.record(StateChanged(job=job, state="quoted"))
    at_work.refused(lambda: _hand(at_work, job), "nothing was agreed")
    at_work.refused(lambda: jobs.close(at_work.shop, at_work.by("FOR"), job=job), "decline it")


def test_a_small_job_is_handed_over_by_whoever_may_close_it(at_work: World) -> None:
    job = jobs.take_small(at_work.shop, at_work.by("T2"), text="lamp", vehicle="old saloon").job
    assert job
    at_work.do("T2", job, "1")
    _hand(at_work, job, "T2")
    assert at_work.one("select count(*) from follow_up where job = ?", job) == 0


def test_in_a_shop_of_one_the_owner_signs_alone_only_what_is_on_the_list(at_work: World) -> None:
    """Common practice, no source: a lone worker's second signature waits, or the owner allows a
    named list of harmless points."""
    job = all_signed(at_work, but_final=True)
    at_work.off("T2")
    at_work.on("OWN", job, "6")
    at_work.off("OWN")
    for badge in ("FOR", "T1", "T2"):
        people.change_person(
            at_work.shop, at_work.by("OWN"), badge=badge, until_day=date(2026, 10, 11)
        )
    at_work.refused(
        lambda: at_work.sign("OWN", job, "HX", readings={"open": 0}),
        "second pair of eyes", "people alone --hold-point HX",
    )  # fmt: skip
    people.allow_alone(at_work.shop, at_work.by("OWN"), codes=["HX"], reason="I work alone")
    at_work.sign("OWN", job, "HX", readings={"open": 0})
    at_work.finish("OWN", job, "6")
    _hand(at_work, job, "OWN")


def test_what_follows_is_moved_done_dropped_and_each_is_taken_back(at_work: World) -> None:
    job, shop = handed_over(at_work), at_work.shop
    lines = "select state, outcome, day, distance from follow_up where job = ? and line = ?"

    def line(number: int) -> tuple[object, ...]:
        return at_work.all(lines, job, number)[0]

    assert line(1) == ("done", "tight", None, 123_600)
    assert line(3)[0] == "dropped"
    undo.undo(shop, at_work.by("FOR"))
    assert line(3) == ("open", None, "2026-11-09", 124_500)
    before = line(2)
    follow_ups.move_follow_up(
        shop, at_work.by("T1"), job=job, line=2, day=date(2026, 12, 1), distance=130_000
    )
    assert line(2) == ("open", None, "2026-12-01", 130_000)
    undo.undo(shop, at_work.by("T1"))
    assert line(2) == before
    follow_ups.set_follow_ups(
        shop, at_work.by("T2"), job=job, lines=[ToDo("ring", "foreman", date(2026, 11, 1))]
    )
    undo.undo(shop, at_work.by("T2"))
    assert line(6)[0] == "withdrawn"
    at_work.refused(lambda: _done(at_work, job, 6), "no follow-up 6")
    at_work.refused(lambda: _done(at_work, job, 1), "was done: tight")
    at_work.refused(lambda: _done(at_work, job, 2, " "), "what came of it")
    at_work.refused(
        lambda: follow_ups.move_follow_up(shop, at_work.by("FOR"), job=job, line=2), "Say when"
    )
    at_work.refused(
        lambda: follow_ups.move_follow_up(
            shop, at_work.by("FOR"), job=job, line=2, day=date(2026, 10, 1)
        ),
        "is past",
    )  # fmt: skip
    at_work.refused(
        lambda: follow_ups.set_follow_ups(shop, at_work.by("FOR"), job=job, lines=[]), "Say what"
    )
    assert verify(shop.path).ok


def _done(world: World, job: str, line: int, outcome: str = "well") -> object:
    return follow_ups.follow_up_done(
        world.shop, world.by("FOR"), job=job, line=line, outcome=outcome
    )
