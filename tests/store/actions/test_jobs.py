"""A job's life: phases and routes, holds and extra work, lifts, closing."""

from __future__ import annotations

import json
import math
from datetime import date

from store.actions import holding, jobs, phases, places, settings
from store.actions.trouble import NoSuch
from store.file.privates import said_by
from tests.store.actions.made import World

GOOD = {"a": 0.1, "b": 0.12}


def _job(w: World) -> str:
    w.to(8)
    return w.take()


def _decides(w: World) -> str:
    job = _job(w)
    w.do("T2", job, "1")
    w.on("T2", job, "2")
    w.sign("T2", job, "HL", readings={"gross": 2000})
    w.sign("T2", job, "LK", readings=GOOD)
    w.sign("FOR", job, "LK")
    w.finish("T2", job, "2")
    w.on("T2", job, "3")
    return job


def _last_estimate(w: World, job: str) -> tuple[float, float, str]:
    rows = w.all(
        "select middle_h, cautious_h, cause from estimate_change where job = ? order by seq desc",
        job,
    )
    middle, cautious, cause = rows[0]
    assert isinstance(middle, float)
    assert isinstance(cautious, float)
    return middle, cautious, str(cause)


def test_an_answer_changes_route_hours_and_kits_and_what_was_done_stays(world: World) -> None:
    job = _decides(world)
    agreed = world.all("select content from estimate where job = ?", job)
    before = _last_estimate(world, job)
    done = world.sign("T2", job, "BU", answer="B")
    assert "falls away: 4 chain set" in done.says
    assert "new: 4b guides only" in done.says
    chain, guides = world.phase(job, "B2"), world.phase(job, "B2b")
    assert (chain.state, chain.note) == ("skipped", "Which build? shrunk on")
    assert (guides.phase, guides.state, json.loads(guides.kits)) == ("4b", "to come", [])
    assert chain.position < guides.position < world.phase(job, "B3").position
    after = _last_estimate(world, job)
    assert math.isclose(before[0] - after[0], 1.6 - 0.8, abs_tol=1e-6)
    assert after[2] == "Which build? shrunk on"
    assert world.all("select content from estimate where job = ?", job) == agreed
    assert world.phase(job, "1").state == "finished"
    assert json.loads(str(world.one("select options from job where job = ?", job))) == {
        "build": "B"
    }
    assert world.step(job, "B1:3").state == "open"


def test_the_planned_work_ends_but_what_is_open_is_closed(world: World) -> None:
    job = _decides(world)
    world.sign("T2", job, "BU", answer="end")
    rows = world.all("select code, state from phase where job = ?", job)
    states = {str(row[0]): row[1] for row in rows}
    assert [states[c] for c in ("B2", "B3", "B4", "B5")] == ["skipped"] * 4
    assert [states[c] for c in ("GB-on", "Z1", "Z2")] == ["to come"] * 3


def test_a_phase_that_falls_away_is_held_no_longer(world: World) -> None:
    job = _decides(world)
    holding.hold(world.shop, world.by("T1"), job=job, phase="4", reason="tool")
    world.sign("T2", job, "BU", answer="B")
    assert world.one("select count(*) from hold where until is null") == 0


def test_what_ends_an_open_condition_is_not_left_out(world: World) -> None:
    job = _job(world)
    world.do("T2", job, "1")
    world.on("T2", job, "2")
    world.refused(
        lambda: phases.skip(world.shop, world.by("FOR"), job=job, phase="8", reason="no"),
    )
    world.sign("T2", job, "HL", readings={"gross": 2000})
    holds = world.refused(
        lambda: phases.skip(world.shop, world.by("FOR"), job=job, phase="5", reason="no"),
        "cannot be left out", "hold point",
    )  # fmt: skip
    assert "Grams recovered" in holds


def test_a_phase_that_takes_too_long_is_asked_why_once(world: World) -> None:
    job = _job(world)
    world.on("T1", job, "1")
    world.to(15)
    done = world.finish("T1", job, "1")
    assert "over its cautious" in done.says
    phases.finish(world.shop, world.by("T1"), job=job, phase="1", why="rust")
    assert world.phase(job, "1").note == "rust"
    world.refused(lambda: world.finish("T1", job, "1"), "is finished", "reopen")


def test_a_standing_phase_begins_by_itself_and_takes_no_clock(world: World) -> None:
    world.to(8)
    job = world.take("WP")
    world.do("T2", job, "1")
    world.on("T2", job, "2")
    world.sign("T2", job, "HL", readings={"gross": 2000})
    world.finish("T2", job, "2")
    world.on("T2", job, "3")
    assert "4 dry has begun" in world.finish("T2", job, "3").says
    world.refused(lambda: world.on("T2", job, "4"), "nobody clocks on it")
    phases.reopen(world.shop, world.by("T1"), job=job, phase="3")
    assert world.phase(job, "4").state == "to come"
    world.finish("T2", job, "3")
    assert world.phase(job, "4").state == "under way"
    world.finish("T1", job, "4")


def test_reopening_voids_just_what_it_covered(world: World) -> None:
    job = _decides(world)
    world.sign("T2", job, "B1:1")
    world.sign("T2", job, "BU", answer="A")
    world.finish("T2", job, "3")
    done = phases.reopen(world.shop, world.by("T1"), job=job, phase="3", why="dirt")
    assert f"{job}.3.1" in done.says
    assert world.step(job, "LK").state == "done"
    assert world.step(job, "B1:1").state == "open"
    assert world.step(job, "BU").state == "done"
    phases.reopen(world.shop, world.by("T1"), job=job, phase="1")
    assert world.step(job, "LK").state == "open"
    assert world.step(job, "HL").state == "open"
    assert world.phase(job, "2").state == "under way"
    world.refused(
        lambda: phases.reopen(world.shop, world.by("T1"), job=job, phase="4"), "nothing to open"
    )


def test_closing_names_everything_that_is_open(world: World) -> None:
    job = _job(world)
    world.on("T1", job, "1")
    holding.find(
        world.shop, world.by("T2"), job=job, phase="2", kind="surprise", text="stud", hours=1
    )
    says = world.refused(lambda: jobs.close(world.shop, world.by("FOR"), job=job))
    for word in ("1 reception is under way", "clock of T1", "held: approval", "stud", ".10 road"):
        assert word in says


def test_extra_work_is_answered_line_by_line(world: World) -> None:
    job = _job(world)
    for text, hours in (("stud", 1.5), ("seal", 0.5), ("mount", 1.0)):
        holding.find(
            world.shop, world.by("T1"), job=job, phase="1", kind="surprise", text=text, hours=hours
        )
    before, frozen = _last_estimate(world, job), world.all("select * from estimate")
    middle = world.phase(job, "1").middle_h
    holding.answer_supplement(
        world.shop, world.by("FOR"), job=job, approve=True, lines=[1, 3], told_by="Mr B",
        means="telephone",
    )  # fmt: skip
    assert math.isclose(world.phase(job, "1").middle_h, middle + 2.5, abs_tol=1e-6)
    assert math.isclose(_last_estimate(world, job)[0], before[0] + 2.5, abs_tol=1e-3)
    assert world.all("select * from estimate") == frozen
    world.refused(lambda: world.on("T1", job, "1"), "customer's word")
    world.refused(
        lambda: holding.answer_supplement(
            world.shop, world.by("FOR"), job=job, approve=True, lines=[1]
        ),
        "line 1 waits for no answer", "Waiting are: 2",
    )  # fmt: skip
    done = holding.answer_supplement(world.shop, world.by("FOR"), job=job, approve=False)
    assert f"{job}.1 can go on" in done.says
    assert math.isclose(world.phase(job, "1").middle_h, middle + 2.5, abs_tol=1e-6)
    world.refused(
        lambda: holding.answer_supplement(world.shop, world.by("FOR"), job=job, approve=True),
        "no extra work",
    )
    money = world.all("select line, hours, money, state from supplement order by line")
    assert money[0] == (1, 1.5, 135.0, "approved")
    assert money[1][3] == "refused"


def test_who_gave_the_word_is_said_afterwards_and_the_answer_stays(world: World) -> None:
    job = _job(world)
    for text in ("stud", "seal"):
        holding.find(
            world.shop, world.by("T1"), job=job, phase="1", kind="surprise", text=text, hours=1
        )
    world.refused(lambda: _note(world, job), "no extra work")
    for lines in ([1], []):
        holding.answer_supplement(
            world.shop, world.by("FOR"), job=job, approve=True, lines=lines, means="telephone"
        )
    at = world.one("select answered_at from supplement where line = 1")
    _note(world, job)
    rows = world.all("select state, answered_by, means from supplement order by line")
    assert rows[0] == ("approved", None, "telephone")
    state, word, means = rows[1]
    assert (state, means) == ("approved", "in writing"), "the newest, where no line is named"
    with world.shop.reading() as db:
        assert said_by(db, str(word)) == "Ms Vos"
    assert "Vos" not in str(word), "the ledger has an id only"
    _note(world, job, 1)
    assert world.one("select answered_at from supplement where line = 1") == at
    world.refused(lambda: _note(world, job), "says so already")
    world.refused(lambda: _note(world, job, 3), "line 3 was not answered")


def _note(world: World, job: str, *lines: int) -> None:
    holding.note_answer(
        world.shop, world.by("FOR"), job=job, lines=lines, told_by="Ms Vos", means="in writing"
    )


def test_held_again_tells_the_end_anew(world: World) -> None:
    job = _job(world)
    world.on("T1", job, "1")
    done = holding.hold(
        world.shop, world.by("T1"), job=job, phase=None, reason="parts", until=world.at(14),
        next_move="supplier",
    )  # fmt: skip
    assert "Stopped: the clock of T1" in done.says
    world.refused(lambda: world.on("T1", job, "1"), f"release {job}.")
    world.refused(
        lambda: holding.hold(
            world.shop, world.by("T1"), job=job, phase=None, reason="parts", until=world.at(14),
            next_move="supplier",
        ),
        "held already",
    )  # fmt: skip
    holding.hold(
        world.shop, world.by("T1"), job=job, phase=None, reason="parts", until=world.at(16)
    )
    assert world.all("select expected, expected_now from hold") == [
        ("2026-10-12T12:00:00.000000+00:00", "2026-10-12T14:00:00.000000+00:00")
    ]
    world.refused(
        lambda: holding.hold(
            world.shop, world.by("T1"), job=job, phase="1", reason="tool", until=world.at(7)
        ),
        "past",
    )
    world.refused(
        lambda: holding.release(world.shop, world.by("T1"), job=job, phase="1"),
        f"Held are: {job}",
    )
    holding.release(world.shop, world.by("T1"), job=job)


def test_a_lift_is_taken_too_weak_or_out_of_service(world: World) -> None:
    job = _job(world)
    other = world.take(lift=None, mass=3500)

    def move(lift: str) -> object:
        return places.move(world.shop, world.by("FOR"), job=other, place=lift, lift=True)

    world.refused(lambda: move("1"), f"taken by {job}", "Free are: 2, 3")
    world.refused(lambda: move("3"), "3,500 kg", "3,000 kg")
    world.refused(lambda: move("9"), "There are: 1, 2, 3", kind=NoSuch)
    places.withdraw_lift(world.shop, world.by("T1"), code="2", reason="lock does not engage")
    world.refused(lambda: move("2"), "lock does not engage")
    places.return_lift(world.shop, world.by("FOR"), code="2")
    done = places.move(world.shop, world.by("FOR"), job=other, place="2", lift=True)
    assert "not been looked over" in done.says
    done = places.withdraw_lift(world.shop, world.by("T1"), code="2", reason="leak")
    assert f"{other} stands on it" in done.says
    world.refused(lambda: move("2"), "is on lift 2 already")


def test_an_overdue_inspection_warns_or_refuses_as_the_owner_says(world: World) -> None:
    world.to(8)
    places.inspect_lift(
        world.shop, world.by("FOR"), code="2", day=date(2025, 1, 1), months=12, source="rule",
        inspector="Ann",
    )  # fmt: skip
    job = world.take(lift=None)
    settings.change_setting(world.shop, world.by("OWN"), name="overdue lift refused", value=True)
    world.refused(
        lambda: places.move(world.shop, world.by("FOR"), job=job, place="2", lift=True),
        "1 Jan 2026", "rule",
    )  # fmt: skip
    settings.change_setting(world.shop, world.by("OWN"), name="overdue lift refused", value=False)
    done = places.move(world.shop, world.by("FOR"), job=job, place="2", lift=True)
    assert "was due 1 Jan 2026" in done.says


def test_body_and_unit_stand_in_two_places(world: World) -> None:
    job = _job(world)
    places.move(world.shop, world.by("T1"), job=job, place="ST", lift=False, part="unit")
    rows = world.all("select part, code from job_place join place using (place) order by part")
    assert rows == [("body", "1"), ("unit", "ST")]
    assert world.one("select state from job where job = ?", job) == "on-lift"
    other = world.take(lift="2")
    world.refused(
        lambda: places.move(
            world.shop, world.by("T1"), job=other, place="ST", lift=False, part="unit"
        ),
        f"Stand ST is taken by {job}",
    )
    world.refused(
        lambda: places.move(
            world.shop, world.by("T1"), job=other, place="3", lift=True, part="unit"
        ),
        "whole vehicles",
    )


def test_nothing_is_dated_back_behind_where_it_stands(world: World) -> None:
    job = _job(world)
    world.to(10)
    places.move(world.shop, world.by("FOR"), job=job, place="2", lift=True)
    world.to(11)
    world.refused(
        lambda: places.move(
            world.shop, world.by("T1", at=world.at(9)), job=job, place="1", lift=True
        ),
        "came to 2 later",
    )


def test_a_known_vehicle_comes_again_under_its_name_in_any_case(world: World) -> None:
    for text in ("van A", "VAN a"):
        jobs.take_small(world.shop, world.by("T1"), text="lamp", vehicle=text)
    assert world.one("select count(*) from vehicle where label like 'van%'") == 1


def test_small_jobs_run_from_text_to_closed(world: World) -> None:
    world.to(8)
    done = jobs.take_small(
        world.shop, world.by("APP"), text="  brake light ", vehicle="car", hours=0.5
    )
    job = done.job or ""
    assert world.phase(job, "1").name == "brake light"
    for hours in (0.0, -1.0, float("nan"), 1e9):
        world.refused(
            lambda h=hours: jobs.take_small(  # type: ignore[misc]  # bound at once
                world.shop, world.by("T1"), text="x", vehicle="car", hours=h
            )
        )
    world.do("APP", job, "1")
    assert world.one("select state from job where job = ?", job) == "finished"
    jobs.close(world.shop, world.by("T1"), job=job)
    world.refused(lambda: jobs.close(world.shop, world.by("FOR"), job=job), "is closed")


def test_cautious_is_the_owners_chance_everywhere(world: World) -> None:
    settings.change_setting(world.shop, world.by("OWN"), name="cautious", value=0.9)
    job = _decides(world)
    taken = _last_estimate(world, job)
    assert math.isclose(world.phase(job, "1").cautious_h, 0.8, abs_tol=1e-3)
    world.sign("T2", job, "BU", answer="B")
    world.sign("T2", job, "B1:1")
    middle, cautious, _ = _last_estimate(world, job)
    assert cautious / middle > 1.02 * (taken[1] / taken[0]) - 0.05
    assert math.isclose(world.phase(job, "B2b").cautious_h, 1.2, abs_tol=1e-3)
