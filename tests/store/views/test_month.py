"""The owner's month: which jobs count, by what they are judged, who may see whose figures."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from store.actions import books, clock, comebacks, holding, jobs, phases
from store.actions.undo import taking_back as undo
from store.file.month import facts as month_facts
from store.trouble import Refused
from store.views.month.page import Month, month, months
from store.views.month.promised import promises_of
from store.views.month.values import JobJudged
from tests.store.actions.made import World
from tests.store.made_jobs import BOOK, closed_job, plain_shop, work

OCTOBER, NOVEMBER = "2026-10", "2026-11"
OCTOBERS_END = datetime(2026, 10, 31, 23, 0, tzinfo=UTC)
"""Midnight in the shop: its clocks went back on the 25th."""


@pytest.fixture(name="world")
def world_fixture(tmp_path: Path) -> Iterator[World]:
    made = plain_shop(tmp_path)
    yield made
    made.shop.close()


def asked(world: World, which: str = OCTOBER, **more: Any) -> Month:
    """A month as of now."""
    return month(world.shop, which, world.now, **more)


def only(world: World, which: str = OCTOBER) -> JobJudged:
    """Its only job."""
    (found,) = asked(world, which).jobs
    return found


def begun(world: World, day: int = 0, **more: Any) -> str:
    """A plain job with its first phase done: half an hour of .6 as agreed."""
    world.to(8, 0, day=day)
    told: Any = {"vehicle": f"van {world.acts}", **more}
    by = world.by("FOR")
    done = jobs.take(world.shop, by, operations=["EZ"], family="B4-M-F", **told)
    assert done.job is not None
    work(world, done.job, "1", 0.5, "sound")
    return done.job


def ended(world: World, job: str, mend_h: float = 1.0) -> None:
    """Its other phases."""
    work(world, job, "2", mend_h)
    world.now += timedelta(minutes=150)
    dry = world.phase(job, "E3").phase
    phases.finish(world.shop, world.by("T1"), job=job, phase=dry)
    work(world, job, "4", 0.4)


def close(world: World, job: str) -> None:
    jobs.close(world.shop, world.by("FOR"), job=job)


# Which jobs count


@pytest.mark.parametrize(
    ("at", "counts_in"),
    [(OCTOBERS_END - timedelta(seconds=1), OCTOBER), (OCTOBERS_END, NOVEMBER),
     (OCTOBERS_END - timedelta(hours=1), OCTOBER)],
)  # fmt: skip
def test_a_job_counts_in_the_month_of_the_shop_in_which_it_was_closed(
    world: World, at: datetime, counts_in: str
) -> None:
    """One second before midnight and midnight, when the hour is no summer time any more."""
    job = begun(world)
    ended(world, job)
    world.now = at - timedelta(minutes=1)
    close(world, job)
    assert world.now == at
    world.now += timedelta(days=3)
    told = {one: [each.job for each in asked(world, one).jobs] for one in (OCTOBER, NOVEMBER)}
    assert told == {OCTOBER: [], NOVEMBER: [], counts_in: [job]}


def test_a_phase_counts_in_the_month_in_which_it_was_finished(world: World) -> None:
    job = begun(world)
    world.now = OCTOBERS_END + timedelta(hours=32)
    ended(world, job)
    close(world, job)
    assert [one.phase for one in asked(world).phases] == ["1"]
    assert [one.code for one in asked(world, NOVEMBER).phases] == ["E2", "E4"]
    assert only(world, NOVEMBER).labour_h == pytest.approx(1.9, abs=0.1)


def test_declined_jobs_and_those_still_open_are_none(world: World) -> None:
    begun(world)
    told = asked(world)
    assert (told.jobs, told.accuracy.jobs) == ((), 0)
    assert told.said[0] == "No job was closed in October 2026 yet: look at a month before."
    assert told.empty == told.said[0]


def test_small_jobs_count_and_stand_apart(world: World) -> None:
    closed_job(world, 0)
    done = jobs.take_small(world.shop, world.by("T1"), text="lamp", vehicle="van", hours=0.5)
    assert done.job is not None
    world.on("T1", done.job, "1")
    clock.clock_off(world.shop, world.by("T1", minutes=30))
    phases.finish(world.shop, world.by("T1"), job=done.job, phase="1")
    close(world, done.job)
    told = asked(world)
    assert {one.key: one.accuracy.jobs for one in told.kinds} == {"deep": 1, "small": 1}
    assert [one.key for one in told.operations] == ["EZ"]
    assert told.accuracy.jobs == 2


# By what a job is judged


def test_a_job_is_judged_by_the_labour_of_lead_and_helpers_never_of_a_learner(
    world: World,
) -> None:
    job = begun(world)
    world.on("T1", job, "2")
    clock.clock_on(world.shop, world.by("T2"), job=job, phase="2", part="helper")
    clock.clock_on(world.shop, world.by("APP"), job=job, phase="2", part="learner")
    clock.clock_off(world.shop, world.by("T1", minutes=60))
    clock.clock_off(world.shop, world.by("T2"))
    clock.clock_off(world.shop, world.by("APP"))
    phases.finish(world.shop, world.by("T1"), job=job, phase="2")
    world.now += timedelta(minutes=150)
    phases.finish(world.shop, world.by("T1"), job=job, phase=world.phase(job, "E3").phase)
    work(world, job, "4", 0.4)
    close(world, job)
    found = only(world)
    parts = dict.fromkeys(("lead", "helper", "learner"), 0.0)
    for phase in found.phases:
        for one in phase.clocks:
            parts[one.part] += one.hours
    assert min(parts.values()) > 0.9
    assert found.labour_h == pytest.approx(parts["lead"] + parts["helper"])
    assert found.lead == "T1"


def test_agreed_extra_work_is_part_of_what_it_is_judged_by(world: World) -> None:
    job = begun(world)
    world.on("T1", job, "2")
    holding.find(
        world.shop, world.by("T1"), job=job, phase="2", kind="surprise", text="stud", hours=1.0
    )
    before = world.events()
    holding.answer_supplement(world.shop, world.by("FOR"), job=job, approve=True, told_by="she")
    ended(world, job)
    close(world, job)
    found = only(world)
    assert found.estimate_h is not None
    assert found.first_h is not None
    assert found.extra_h == pytest.approx(found.estimate_h - found.first_h)
    assert found.extra_h == pytest.approx(1.0, abs=0.1)
    assert found.cautious_h is not None
    assert found.cautious_h > found.changes[0].cautious_h + 0.9
    assert (found.route_h, found.other_h) == (0, 0)
    told = asked(world).changes
    assert [(one.job, one.says) for one in told.extra] == [(job, "extra work agreed: stud")]
    assert told.extra[0].events[0] > before


def test_refused_extra_work_and_work_taken_back_change_nothing(world: World) -> None:
    job = begun(world)
    world.on("T1", job, "2")
    for approve in (False, True):
        holding.find(
            world.shop, world.by("T1"), job=job, phase="2", kind="surprise", text="stud", hours=1.0
        )
        holding.answer_supplement(
            world.shop, world.by("FOR"), job=job, approve=approve, told_by="she"
        )
    undo.undo(world.shop, world.by("FOR"))
    holding.answer_supplement(world.shop, world.by("FOR"), job=job, approve=False, told_by="she")
    ended(world, job)
    close(world, job)
    found = only(world)
    assert found.estimate_h == pytest.approx(found.first_h)
    assert found.extra_h == pytest.approx(0)
    assert [one.cause for one in found.changes] == ["agreed", "supplement", "supplement"]


def test_a_changed_route_is_part_of_what_it_is_judged_by_and_stands_apart(world: World) -> None:
    """The worn seat is now done by hand: a labour phase more."""
    outwork = 'name = "seat made new"\nkind = "outwork"\nplace = "outside"\nhours = 8.0'
    by_hand = 'name = "seat made new"\nplace = "ground"\nhours = 3.0'
    assert outwork in BOOK
    books.load_workbook(world.shop, world.by("FOR"), source=BOOK.replace(outwork, by_hand))
    world.to(8, 0)
    job = world.take("EZ", lift=None)
    work(world, job, "1", 0.5, "worn")
    work(world, job, world.phase(job, "EW").phase, 1.5)
    ended(world, job)
    close(world, job)
    found = only(world)
    assert found.first_h == pytest.approx(2.6, abs=0.1)
    assert found.route_h == pytest.approx(3.0, abs=0.1)
    assert (found.extra_h, found.other_h) == (0, 0)
    assert found.lost_h == pytest.approx(found.labour_h - 5.6, abs=0.1)
    assert [one.job for one in asked(world).changes.route] == [job]


def test_a_phase_left_out_is_neither_extra_work_nor_a_route(world: World) -> None:
    job = begun(world)
    phases.skip(world.shop, world.by("FOR"), job=job, phase="2", reason="not wanted")
    world.now += timedelta(minutes=150)
    phases.finish(world.shop, world.by("T1"), job=job, phase=world.phase(job, "E3").phase)
    work(world, job, "4", 0.4)
    close(world, job)
    found = only(world)
    assert found.other_h == pytest.approx(-1.5, abs=0.1)
    assert (found.extra_h, found.route_h) == (0, 0)
    assert found.estimate_h == pytest.approx(1.1, abs=0.05)


def test_a_comeback_is_judged_too_and_says_that_it_never_teaches(world: World) -> None:
    first = closed_job(world, 0)
    job = begun(world, 1, vehicle=only(world).vehicle)
    comebacks.come_back(world.shop, world.by("FOR"), job=job, of=first, cause="weeps")
    ended(world, job)
    close(world, job)
    told = asked(world)
    assert [one.not_teaching for one in told.jobs] == [None, f"comeback of {first}"]
    assert told.accuracy.jobs == 2


# Promises


@pytest.mark.parametrize(("hour", "kept"), [(18, 1), (9, 0)])
def test_a_promise_is_kept_where_the_last_phase_was_finished_by_it(
    world: World, hour: int, kept: int
) -> None:
    job = begun(world, promise=world.at(hour))
    ended(world, job)
    world.now += timedelta(days=4)
    close(world, job)
    told = asked(world).promises
    assert told.kept is not None
    assert (told.kept.held, told.kept.count, len(told.late)) == (kept, 1, 1 - kept)
    assert told.says == f"{kept} of 1 promises were kept."


def test_a_promise_is_kept_at_its_very_instant_and_not_a_second_later(world: World) -> None:
    closed_job(world, 0)
    job = only(world)
    assert job.ready_at is not None
    just = replace(job, promised=job.ready_at)
    late = replace(job, promised=job.ready_at - timedelta(seconds=1))
    told = promises_of([just, late])
    assert told.kept is not None
    assert (told.kept.held, told.kept.count) == (1, 2)


def test_the_first_promise_is_kept_apart_from_the_last_and_one_after_the_work_is_none(
    world: World,
) -> None:
    job = begun(world, promise=world.at(9, 30))
    jobs.promise(world.shop, world.by("FOR"), job=job, at=world.at(10), chance=0.9)
    ended(world, job)
    jobs.promise(world.shop, world.by("FOR"), job=job, at=world.at(18))
    close(world, job)
    told = asked(world)
    assert told.jobs[0].first_promised == world.at(9, 30)
    assert told.jobs[0].promised == world.at(10)
    assert told.jobs[0].chance == 0.9
    assert told.promises.kept is not None
    assert told.promises.kept.held == 0
    assert told.promises.says == (
        "0 of 1 promises were kept. Of 1 given at a chance 0 held, 1 should have: too few to tell."
    )


def test_a_promise_taken_back_was_never_given(world: World) -> None:
    job = begun(world)
    jobs.promise(world.shop, world.by("FOR"), job=job, at=world.at(9, 30))
    undo.undo(world.shop, world.by("FOR"))
    ended(world, job)
    close(world, job)
    told = asked(world)
    assert (told.jobs[0].first_promised, told.jobs[0].promised) == (None, None)
    assert told.promises.kept is None
    assert told.promises.says == "Nobody was promised a day."


# Which month, and who reads


def test_one_job_has_figures_and_no_verdict(world: World) -> None:
    closed_job(world, 0, mend_h=2.0)
    told = asked(world)
    assert told.accuracy.bias is not None
    assert told.accuracy.bias.low is None
    assert told.said[0].endswith("1 job: too few to say more.")
    assert all("too few to say" in one.says for one in told.operations)


def test_a_month_that_runs_says_up_to_when_it_is_told(world: World) -> None:
    closed_job(world, 0)
    world.to(16, 5, day=2)
    told = asked(world)
    assert told.span.running
    assert told.following is None
    assert told.said[-1] == "October 2026 still runs: told up to Wed 14 Oct 16:05."


def test_a_month_in_which_nothing_was_closed_says_so(world: World) -> None:
    closed_job(world, 0)
    world.now = OCTOBERS_END + timedelta(days=40)
    told = asked(world, NOVEMBER)
    assert (
        told.empty == "No job was closed in November 2026: nothing to judge. Look at another month."
    )
    assert (told.previous, told.following) == (OCTOBER, "2026-12")
    assert [one.key for one in told.before] == [OCTOBER]


@pytest.mark.parametrize(
    ("of", "words"),
    [
        ("2026-09", ("begin in 2026-10", "2026-09")),
        ("2026-11", ("not begun", "newest month is 2026-10")),
        ("2026-13", ("no month", "2026-10")),
        ("last\nmonth", ("no month",)),
        ("", ("no month",)),
    ],
)
def test_what_is_no_month_of_the_shop_is_refused(
    world: World, of: str, words: tuple[str, ...]
) -> None:
    world.refused(lambda: asked(world, of), *words)


def test_the_months_go_from_the_first_entry_to_now(world: World) -> None:
    closed_job(world, 0)
    world.now = OCTOBERS_END + timedelta(days=31, hours=2)
    found = months(world.shop, world.now)
    assert [(one.month, one.jobs, one.running) for one in found] == [
        ("2026-12", 0, True), (NOVEMBER, 0, False), (OCTOBER, 1, False),
    ]  # fmt: skip


def test_only_the_owner_sees_who_led_what(world: World) -> None:
    job = closed_job(world, 0)
    assert [one.key for one in asked(world, by="OWN").leads] == ["T1"]
    assert [one.key for one in asked(world).leads] == ["T1"]
    assert [one.key for one in asked(world, by="T1").leads] == ["T1"]
    for by in ("T2", "FOR"):
        told = asked(world, by=by)
        assert told.leads == ()
        assert [(one.job, one.lead) for one in told.jobs] == [(job, None)]
        assert {one.badge for one in told.phases} == {None}
        assert told.accuracy == asked(world).accuracy


@pytest.mark.parametrize("by", ["T2", "APP", "FOR"])
def test_whoever_asks_for_anothers_figures_is_refused(world: World, by: str) -> None:
    closed_job(world, 0)
    world.refused(lambda: asked(world, by=by, of="T1"), by, "T1", "owner")


@pytest.mark.parametrize("by", ["OWN", None, "T1"])
def test_the_owner_and_oneself_see_ones_figures(world: World, by: str | None) -> None:
    closed_job(world, 0)
    assert asked(world, by=by, of="t1").accuracy.jobs == 1


def test_of_somebody_who_led_nothing_there_is_nothing_to_judge(world: World) -> None:
    closed_job(world, 0)
    told = asked(world, by="OWN", of="T2")
    assert (told.accuracy.jobs, told.accuracy.bias, told.jobs) == (0, None, ())


def test_a_badge_that_nobody_has_is_refused(world: World) -> None:
    refusals: list[Callable[[], Month]] = [
        lambda: asked(world, by="ZZ"), lambda: asked(world, of="ZZ")
    ]  # fmt: skip
    for one in refusals:
        world.refused(one, "no badge ZZ")


def test_two_looks_at_an_unchanged_shop_are_equal_and_write_nothing(world: World) -> None:
    closed_job(world, 0)
    events, tables = world.events(), world.tables()
    assert asked(world) == asked(world)
    assert (world.events(), world.tables()) == (events, tables)


def test_what_was_read_for_another_month_is_what_is_there_and_a_new_entry_is_seen(
    world: World,
) -> None:
    first = closed_job(world, 0)
    job = begun(world, 1)
    world.now = OCTOBERS_END + timedelta(hours=32)
    ended(world, job)
    assert [one.job for one in asked(world).jobs] == [first]
    close(world, job)
    kept = asked(world, NOVEMBER), asked(world)
    month_facts._kept.clear()  # pyright: ignore[reportPrivateUsage]  # read anew, the other way round
    assert (asked(world), asked(world, NOVEMBER)) == kept[::-1]
    assert [one.job for one in kept[0].jobs] == [job]


def test_a_shop_that_just_began_has_its_first_month(world: World) -> None:
    told = asked(world)
    assert (told.previous, told.following, told.before) == (None, None, ())
    with pytest.raises(Refused):
        asked(world, "2026-08")
