"""The qualifying check: a job's first phases, judged before money is spent."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from store.actions import books, clock, holding, jobs, phases, places
from store.actions.desk import acts as desk
from store.actions.desk.check import Result
from store.actions.undo import taking_back as undo
from store.file.verify import verify
from tests.store.actions.made import World
from tests.store.made_desk import BOOK, FAMILY, agreed, arrived, check, enquiry, passed, with_checks


@pytest.fixture(autouse=True)
def _checked(world: World) -> None:
    with_checks(world)


def route(world: World, job: str) -> list[tuple[object, ...]]:
    return world.all("select phase, code, state from phase where job = ? order by position", job)


def judge(
    world: World, job: str, result: Result = "pass", text: str | None = None
) -> Callable[[], object]:
    return lambda: desk.judge_check(world.shop, world.by("FOR"), job=job, result=result, text=text)


def test_it_is_laid_when_the_vehicle_is_here_and_the_work_is_chosen(world: World) -> None:
    job = enquiry(world, "SE")
    assert route(world, job) == []
    desk.arrive(world.shop, world.by("T1"), job=job)
    assert route(world, job) == [("1", "R0", "to come"), ("2", "SQ", "to come")]


def test_it_is_laid_when_the_work_of_a_vehicle_that_is_here_is_chosen(world: World) -> None:
    job = enquiry(world)
    desk.arrive(world.shop, world.by("T1"), job=job)
    done = desk.choose_work(world.shop, world.by("T1"), job=job, operations=["SE"], family=FAMILY)
    assert "First the check: " in done.says
    assert [one[1] for one in route(world, job)] == ["R0", "SQ"]


def test_work_without_a_check_has_none(world: World) -> None:
    job = arrived(world, "LA")
    assert route(world, job) == []
    world.refused(judge(world, job), "no qualifying check")


def test_a_vehicle_that_is_not_here_has_no_check_to_judge(world: World) -> None:
    job = enquiry(world, "SE")
    world.refused(judge(world, job), "not here")
    bare = enquiry(world, vehicle="bare")
    desk.arrive(world.shop, world.by("T1"), job=bare)
    world.refused(judge(world, bare), "about")


def test_it_is_sold_on_its_own_and_its_price_stays(world: World) -> None:
    job = arrived(world)
    before = world.all("select money, basis, more, content from estimate where job = ?", job)
    assert [one[:3] for one in before] == [(99.0, "fixed price", '{"check":true}')]
    assert world.all("select agreed_seq, basis from job where job = ?", job) == [(None, None)]
    passed(world, job)
    agreed(world, job)
    now = world.all("select money, basis, more, content from estimate where job = ?", job)
    assert now[0] == before[0]
    assert len(now) == 2


def test_it_is_clocked_and_held_like_any_work(world: World) -> None:
    job = arrived(world)
    world.do("T1", job, "1")
    world.on("T1", job, "2")
    holding.hold(world.shop, world.by("T1"), job=job, phase="2", reason="tool")
    holding.release(world.shop, world.by("T1"), job=job, phase="2")
    world.on("T1", job, "2")
    undo.undo(world.shop, world.by("T1"))
    assert world.all("select state from job where job = ?", job) == [("arrived",)]


def test_the_job_is_not_done_when_its_check_is(world: World) -> None:
    job = arrived(world)
    check(world, job)
    assert world.all("select state, finished_at from job where job = ?", job) == [("arrived", None)]
    world.refused(lambda: jobs.close(world.shop, world.by("FOR"), job=job))


def test_a_check_may_be_done_on_a_lift(world: World) -> None:
    job = arrived(world)
    places.move(world.shop, world.by("FOR"), job=job, place="1", lift=True)
    passed(world, job)
    assert world.one("select state from job where job = ?", job) == "arrived"
    agreed(world, job)
    assert world.one("select state from job where job = ?", job) == "on-lift"


def test_it_passes_only_when_it_is_whole(world: World) -> None:
    job = arrived(world)
    world.refused(judge(world, job), f"{job}.2.1")
    world.do("T1", job, "1")
    world.on("T1", job, "2")
    world.refused(judge(world, job), "clock of T1", f"{job}.2")
    world.sign("T1", job, "fit", answer="yes")
    clock.clock_off(world.shop, world.by("T1"))
    world.refused(judge(world, job, "pass with conditions", "loud"), "under way")
    phases.finish(world.shop, world.by("T1"), job=job, phase="2")
    judge(world, job)()
    assert world.all("select check_result, check_text from job where job = ?", job) == [
        ("pass", None)
    ]


def test_conditions_and_reasons_are_said(world: World) -> None:
    job = arrived(world)
    check(world, job)
    world.refused(judge(world, job, "pass with conditions"), "which")
    world.refused(judge(world, job, "fail", "  "), "why")
    judge(world, job, "pass with conditions", "tyres worn")()
    assert world.one("select check_text from job where job = ?", job) == "tyres worn"


def test_a_failed_check_says_what_has_been_spent(world: World) -> None:
    job = arrived(world)
    check(world, job, answer="no")
    done = desk.judge_check(
        world.shop, world.by("FOR"), job=job, result="fail", text="a cover above it"
    )
    assert "0.5 h" in done.says
    assert "EUR" in done.says


def test_nothing_is_agreed_or_quoted_after_a_failed_check(world: World) -> None:
    job = arrived(world)
    check(world, job)
    judge(world, job, "fail", "block cracked")()
    world.refused(lambda: agreed(world, job), "failed", "block cracked")
    world.refused(lambda: desk.quote(world.shop, world.by("FOR"), job=job), "failed")
    judge(world, job)()
    agreed(world, job)


def test_other_work_after_a_failed_check_has_its_own(world: World) -> None:
    job = arrived(world)
    check(world, job, answer="no")
    judge(world, job, "fail", "a cover")()
    desk.choose_work(world.shop, world.by("T1"), job=job, operations=["PU"])
    assert route(world, job) == [
        ("1", "R0", "finished"), ("2", "SQ", "finished"), ("3", "PQ", "to come"),
    ]  # fmt: skip
    assert world.one("select check_result from job where job = ?", job) is None
    world.do("T1", job, "3")
    judge(world, job)()
    agreed(world, job)
    assert [one[:2] for one in route(world, job)] == [
        ("1", "R0"), ("2", "SQ"), ("3", "PQ"), ("4", "S1"), ("5", "P1"), ("6", "Z0"),
    ]  # fmt: skip


def test_an_answer_that_ends_the_work_keeps_it_from_being_agreed(world: World) -> None:
    job = arrived(world)
    check(world, job, answer="no")
    world.refused(lambda: agreed(world, job), "ended this work")


def test_a_check_that_was_not_begun_falls_away_with_its_work(world: World) -> None:
    job = arrived(world)
    desk.choose_work(world.shop, world.by("T1"), job=job, operations=["PU"])
    assert route(world, job) == [
        ("1", "R0", "to come"), ("2", "SQ", "skipped"), ("3", "PQ", "to come"),
    ]  # fmt: skip
    desk.choose_work(world.shop, world.by("T1"), job=job, operations=["SE"])
    assert route(world, job) == [
        ("1", "R0", "to come"), ("2", "SQ", "to come"), ("3", "PQ", "skipped"),
    ]  # fmt: skip
    desk.choose_work(world.shop, world.by("T1"), job=job, operations=[])
    assert {one[2] for one in route(world, job)} == {"skipped"}
    assert verify(world.shop.path).ok


def test_two_checks_are_one_stretch(world: World) -> None:
    job = arrived(world, "SE", "PU")
    assert [one[:2] for one in route(world, job)] == [("1", "R0"), ("2", "SQ"), ("3", "PQ")]
    check(world, job)
    world.refused(judge(world, job), f"{job}.3", "to come")


def test_the_rest_follows_with_the_next_numbers(world: World) -> None:
    job = arrived(world)
    passed(world, job)
    before = route(world, job)
    agreed(world, job)
    assert route(world, job) == [
        *before, ("3", "S1", "to come"), ("4", "S3", "to come"), ("5", "Z0", "to come"),
    ]  # fmt: skip
    assert world.one("select state from job where job = ?", job) == "waiting"


def test_what_is_agreed_before_its_check_is_checked_all_the_same(world: World) -> None:
    job = arrived(world)
    agreed(world, job)
    world.refused(judge(world, job), f"{job}.2.1")
    check(world, job)
    judge(world, job)()
    assert world.one("select check_result from job where job = ?", job) == "pass"


def test_the_waiting_job_goes_on_where_it_stood(world: World) -> None:
    job = arrived(world)
    passed(world, job)
    agreed(world, job)
    places.move(world.shop, world.by("FOR"), job=job, place="2", lift=True)
    world.on("T1", job, "3")
    world.sign("T1", job, "seat", answer="worn")
    assert ("3b", "S2", "to come") in route(world, job)
    assert verify(world.shop.path).ok


OPEN_AFTER_THE_CHECK = (
    BOOK.replace(
        "[families.engine]",
        '[[condition]]\ncode = "plug-out"\ntext = "drain plug out"\nforbids = ["hand-over"]\n\n'
        "[families.engine]",
    )
    .replace(
        "qualifies = true\n[[phase.step]]",
        'qualifies = true\nopens = ["plug-out"]\n[[phase.step]]',
    )
    .replace('class = "refit"\nhours = 0.7', 'class = "refit"\nhours = 0.7\ncloses = ["plug-out"]')
)
"""The same work, but its check leaves something open that only its last phase closes."""


def test_what_a_failed_check_left_open_is_laid_to_be_ended_before_it_goes_back(
    world: World,
) -> None:
    books.load_workbook(world.shop, world.by("FOR"), source=OPEN_AFTER_THE_CHECK)
    job = arrived(world)
    check(world, job)
    done = desk.judge_check(world.shop, world.by("FOR"), job=job, result="fail", text="no seal")
    assert f"Laid to end it: {job}.3 shut and drive" in done.says
    world.refused(
        lambda: desk.turn_away(world.shop, world.by("FOR"), job=job, why="no seal"),
        "drain plug out",
    )
    world.do("T1", job, "3")
    desk.turn_away(world.shop, world.by("FOR"), job=job, why="no seal")
    assert world.all("select state from job where job = ?", job) == [("turned-away",)]
    assert verify(world.shop.path).ok


def test_a_passed_check_that_is_declined_is_shut_first_too(world: World) -> None:
    books.load_workbook(world.shop, world.by("FOR"), source=OPEN_AFTER_THE_CHECK)
    job = arrived(world)
    passed(world, job)
    again = world.by("FOR")
    done = desk.decline(world.shop, again, job=job, why="too dear", said_by="x", means="letter")
    assert "cannot go back yet: drain plug out" in done.says
    assert [one[1:] for one in route(world, job)][-1] == ("Z0", "to come")
    assert world.all("select state from job where job = ?", job) == [("arrived",)]
    world.do("T1", job, "3")
    desk.decline(
        world.shop, world.by("FOR"), job=job, why="too dear", said_by="x", means="letter"
    )  # fmt: skip
    assert world.all("select state from job where job = ?", job) == [("declined",)]
