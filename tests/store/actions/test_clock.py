"""Clocks: one a person, one instant for both ends, and both truths kept when put right."""

from __future__ import annotations

import math
from datetime import date, timedelta

import pytest

from store.actions import clock, day_sheet, holding, jobs, phases
from store.actions.clock import AlreadyClocked, LeftRunning, NoClock
from store.actions.trouble import InTheFuture, MayNot, NotEmployed
from store.actions.undo.taking_back import undo
from store.file.facts import calendar_of
from store.file.labour import phase_labour_h
from store.views.job import job_card
from tests.store.actions.made import World


def _labour(w: World, job: str, phase: str = "1") -> float:
    with w.shop.reading() as db:
        return phase_labour_h(db, calendar_of(db), job, phase, w.now)


def _clock(w: World) -> int:
    found = w.one("select max(seq) from clock")
    assert isinstance(found, int)
    return found


def _job(w: World) -> str:
    w.to(8)
    return w.take()


def test_a_second_clock_is_refused_and_leaves_no_trace(world: World) -> None:
    job = _job(world)
    world.on("T1", job, "1")
    world.refused(
        lambda: world.on("T1", job, "1"), f"still clocked on {job}.1", kind=AlreadyClocked
    )
    world.refused(
        lambda: clock.clock_over(world.shop, world.by("T1"), job=job, phase="1"), "already"
    )
    world.off("T1")
    world.refused(lambda: world.off("T1"), kind=NoClock)


def test_going_over_is_one_instant(world: World) -> None:
    job = _job(world)
    world.on("T1", job, "1")
    world.now += timedelta(minutes=10, seconds=7)
    clock.clock_over(world.shop, world.by("T1"), job=job, phase="2")
    rows = world.all("select since, until from clock order by seq")
    assert rows[0][1] == rows[1][0]
    assert rows[1][1] is None


def test_a_refused_going_over_leaves_the_clock_running(world: World) -> None:
    job = _job(world)
    world.on("T1", job, "1")
    world.refused(lambda: clock.clock_over(world.shop, world.by("T1"), job=job, phase="9"))
    assert world.one("select count(*) from clock where until is null") == 1


def test_away_and_back_is_not_the_jobs_time(world: World) -> None:
    job = _job(world)
    world.on("T1", job, "1")
    world.refused(lambda: clock.clock_back(world.shop, world.by("T1")), "not away")
    world.to(9)
    clock.clock_away(world.shop, world.by("T1", minutes=0))
    world.refused(lambda: clock.clock_away(world.shop, world.by("T1")), "away already")
    world.to(9, 15)
    clock.clock_back(world.shop, world.by("T1", minutes=0))
    world.to(10)
    clock.clock_off(world.shop, world.by("T1", minutes=0))
    assert math.isclose(_labour(world, job), 1.75 - 2 / 60, abs_tol=1e-6)
    assert world.one("select part from clock where seq = ?", _clock(world)) == "lead"


def test_back_to_a_phase_that_cannot_go_on_says_so(world: World) -> None:
    job = _job(world)
    world.on("T1", job, "1")
    clock.clock_away(world.shop, world.by("T1"))
    world.finish("T2", job, "1")
    world.refused(lambda: clock.clock_back(world.shop, world.by("T1")), "is finished")
    world.on("T2", job, "2")
    clock.clock_over(world.shop, world.by("T1"), job=job, phase="2")


def test_a_break_inside_is_not_labour_unless_worked_through(world: World) -> None:
    job = _job(world)
    clock.clock_on(world.shop, world.by("T1", minutes=0), job=job, phase="1")
    since = world.now
    world.to(14)
    clock.clock_off(world.shop, world.by("T1", minutes=0))
    wall = (world.now - since) / timedelta(hours=1)
    assert math.isclose(_labour(world, job), wall - 0.75, abs_tol=1e-6)
    day_sheet.correct_clock(world.shop, world.by("T1"), clock=_clock(world), breaks_worked=True)
    assert math.isclose(_labour(world, job), wall, abs_tol=1e-6)


def test_a_clock_left_running_counts_to_the_shifts_end_and_asks(world: World) -> None:
    job = _job(world)
    world.to(14, 10)
    clock.clock_on(world.shop, world.by("T1", minutes=0), job=job, phase="1")
    world.to(7, 26, 1)
    assert math.isclose(_labour(world, job), 2 + 20 / 60, abs_tol=1e-6)
    for act in (
        lambda: world.off("T1"),
        lambda: clock.clock_over(world.shop, world.by("T1"), job=job, phase="2"),
        lambda: clock.clock_away(world.shop, world.by("T1")),
        lambda: clock.clock_indirect(world.shop, world.by("T1"), reason="tidying"),
        lambda: world.finish("T2", job, "1"),
    ):
        world.refused(act, "left running since Mon 12 Oct 14:10", "16:30", kind=LeftRunning)
    world.refused(
        lambda: clock.clock_off(world.shop, world.by("T1", at=world.at(13))), "Give a later time"
    )
    world.refused(
        lambda: clock.clock_off(world.shop, world.by("T1", at=world.at(13, 0, 2))), kind=InTheFuture
    )
    day_sheet.stop_left_running(world.shop, world.by("T1"))
    assert world.one("select until from clock") == "2026-10-12T14:30:00.000000+00:00"
    assert math.isclose(_labour(world, job), 2 + 20 / 60, abs_tol=1e-6)


def test_work_after_the_shift_counts_when_the_person_says_so(world: World) -> None:
    job = _job(world)
    world.to(15, 30)
    clock.clock_on(world.shop, world.by("T1", minutes=0), job=job, phase="1")
    world.to(8, 0, 1)
    day_sheet.stop_left_running(world.shop, world.by("T1"), stopped_at=world.at(20))
    assert math.isclose(_labour(world, job), 4.5, abs_tol=1e-6)
    world.refused(lambda: day_sheet.stop_left_running(world.shop, world.by("T1")), "no clock")


def test_late_entries_lie_where_they_were_and_keep_when_they_were_written(world: World) -> None:
    job = _job(world)
    world.to(10)
    clock.clock_on(world.shop, world.by("T1", at=world.at(9)), job=job, phase="1")
    row = world.all("select happened_at, recorded_at from ledger where kind = 'clocked-on'")
    assert row == [("2026-10-12T07:00:00.000000+00:00", "2026-10-12T08:01:00.000000+00:00")]
    world.refused(
        lambda: clock.clock_on(world.shop, world.by("T2", at=world.at(11)), job=job, phase="1"),
        kind=InTheFuture,
    )


def test_a_correction_keeps_both_truths(world: World) -> None:
    job, other = _job(world), world.take(lift="2")
    world.on("T1", job, "1")
    first = _clock(world)
    world.to(9)
    day_sheet.correct_clock(
        world.shop, world.by("T1"), clock=first, where=day_sheet.Where(other, "1"), why="wrong job"
    )
    assert world.phase(job, "1").state == "to come"
    assert world.phase(other, "1").state == "under way"
    assert world.all("select job, until from clock") == [(other, None)]
    kinds = [kind for (kind,) in world.all("select kind from ledger where seq >= ?", first)]
    assert kinds[:2] == ["clocked-on", "clock-corrected"]
    world.refused(
        lambda: day_sheet.correct_clock(
            world.shop, world.by("T1"), clock=first, where=day_sheet.Where(other, "1")
        ),
        "says so already",
    )


def test_moving_a_clock_away_takes_its_open_conditions_along(world: World) -> None:
    job = _job(world)
    world.do("T1", job, "1")
    world.on("T1", job, "2")
    assert world.all("select code from condition") == [("unbalanced",)]
    day_sheet.remove_clock(world.shop, world.by("T1"), clock=_clock(world))
    assert world.all("select code from condition") == []
    assert world.phase(job, "2").state == "to come"


def test_a_split_moves_what_follows(world: World) -> None:
    job = _job(world)
    clock.clock_on(world.shop, world.by("T1", minutes=0), job=job, phase="1")
    seq = _clock(world)
    world.refused(
        lambda: day_sheet.split_clock(
            world.shop, world.by("T1"), clock=seq, at=world.at(8, 10),
            where=day_sheet.Where(reason="parts"),
        ),
        "still runs",
    )  # fmt: skip
    world.to(10)
    clock.clock_off(world.shop, world.by("T1", minutes=0))
    for at in (world.at(7), world.at(11), world.at(10)):
        world.refused(
            lambda a=at: day_sheet.split_clock(  # type: ignore[misc]  # bound at once
                world.shop, world.by("T1", minutes=0), clock=seq, at=a,
                where=day_sheet.Where(reason="parts"),
            ),
            "outside the clock",
        )  # fmt: skip
    day_sheet.split_clock(
        world.shop, world.by("T1"), clock=seq, at=world.at(9),
        where=day_sheet.Where(reason="parts"),
    )  # fmt: skip
    assert math.isclose(_labour(world, job), 1 - 1 / 60, abs_tol=1e-6)
    assert world.all("select job, reason from clock order by seq") == [(job, None), (None, "parts")]


def test_overlapping_clocks_are_named_when_the_day_is_confirmed(world: World) -> None:
    job = _job(world)
    world.to(10)
    for since, until in ((world.at(8), world.at(9)), (world.at(8, 30), world.at(9, 30))):
        day_sheet.enter_clock(
            world.shop, world.by("T1"), where=day_sheet.Where(job, "1"), since=since, until=until
        )
    day = date(2026, 10, 12)
    world.refused(
        lambda: day_sheet.confirm_day(world.shop, world.by("T1"), day=day), "overlap",
        "hoistbook correct",
    )  # fmt: skip
    day_sheet.remove_clock(world.shop, world.by("T1"), clock=_clock(world))
    world.on("T1", job, "1")
    world.refused(lambda: day_sheet.confirm_day(world.shop, world.by("T1"), day=day), "still runs")
    world.off("T1")
    day_sheet.confirm_day(world.shop, world.by("T1"), day=day)
    world.refused(
        lambda: day_sheet.confirm_day(world.shop, world.by("T1"), day=day), "confirmed already"
    )
    world.refused(
        lambda: day_sheet.correct_clock(
            world.shop, world.by("T1"), clock=_clock(world), breaks_worked=True
        ),
        kind=MayNot,
    )
    world.refused(
        lambda: day_sheet.enter_clock(
            world.shop, world.by("T1"), where=day_sheet.Where(job, "1"), since=world.at(9, 40),
            until=world.at(9, 50),
        ),
        kind=MayNot,
    )  # fmt: skip
    day_sheet.correct_clock(world.shop, world.by("FOR"), clock=_clock(world), breaks_worked=True)
    world.refused(
        lambda: day_sheet.confirm_day(world.shop, world.by("T1"), day=date(2026, 10, 13)),
        "no clock",
    )


def test_a_night_clock_overlaps_the_next_mornings(world: World) -> None:
    job = _job(world)
    world.to(9, 0, 1)
    for since, until in (
        (world.at(22), world.at(2, 0, 1)), (world.at(1, 0, 1), world.at(3, 0, 1)),
    ):  # fmt: skip
        day_sheet.enter_clock(
            world.shop, world.by("T1"), where=day_sheet.Where(job, "1"), since=since, until=until
        )
    world.refused(
        lambda: day_sheet.confirm_day(world.shop, world.by("T1"), day=date(2026, 10, 13)), "overlap"
    )


def test_two_on_a_phase_and_learners_hours_apart(world: World) -> None:
    job = _job(world)
    clock.clock_on(world.shop, world.by("T1", minutes=0), job=job, phase="1")
    clock.clock_on(world.shop, world.by("T2", minutes=0), job=job, phase="1")
    clock.clock_on(world.shop, world.by("APP", minutes=0), job=job, phase="1", part="learner")
    parts = world.all("select part from clock order by seq")
    assert parts == [("lead",), ("helper",), ("learner",)]
    start = world.now
    world.to(9)
    phases.finish(world.shop, world.by("T1", minutes=0), job=job, phase="1")
    hours = (world.now - start) / timedelta(hours=1)
    assert math.isclose(_labour(world, job), 2 * hours, abs_tol=1e-6)
    assert world.one("select count(*) from clock where until is null") == 0


@pytest.mark.parametrize(
    ("since", "until", "words"),
    [
        ((9, 0), (8, 0), "end before it begins"),
        ((9, 0), (9, 0), "end before it begins"),
        ((8, 0), (23, 0), "not come yet"),
    ],
)
def test_times_that_cannot_be(
    world: World, since: tuple[int, int], until: tuple[int, int], words: str
) -> None:
    job = _job(world)
    world.to(12)
    world.refused(
        lambda: day_sheet.enter_clock(
            world.shop, world.by("T1"), where=day_sheet.Where(job, "1"), since=world.at(*since),
            until=world.at(*until),
        ),
        words,
    )  # fmt: skip


def test_a_clock_of_days_is_a_slip(world: World) -> None:
    job = _job(world)
    world.refused(
        lambda: day_sheet.enter_clock(
            world.shop, world.by("T1"), where=day_sheet.Where(job, "1"), since=world.at(8, 0, -9),
            until=world.at(8),
        ),
        "a day at most",
    )  # fmt: skip


def test_a_clock_lies_inside_the_employment(world: World) -> None:
    job = _job(world)
    world.to(9)
    world.refused(
        lambda: day_sheet.enter_clock(
            world.shop, world.by("FOR"), where=day_sheet.Where(job, "1"), badge="T1",
            since=world.at(8, 0, -20), until=world.at(9, 0, -20),
        ),
        kind=NotEmployed,
    )  # fmt: skip


def test_held_time_is_never_labour(world: World) -> None:
    job = _job(world)
    world.on("T1", job, "1")
    world.to(9)
    holding.hold(world.shop, world.by("T2", minutes=0), job=job, phase="1", reason="parts")
    world.refused(lambda: world.on("T1", job, "1"), "is held: parts")
    world.to(10)
    holding.release(world.shop, world.by("T2", minutes=0), job=job, phase="1")
    world.to(11)
    seq = _clock(world)
    for act in (
        lambda: day_sheet.correct_clock(
            world.shop, world.by("T1", minutes=0), clock=seq, until=world.at(9, 30)
        ),
        lambda: day_sheet.enter_clock(
            world.shop, world.by("T2", minutes=0), where=day_sheet.Where(job, "1"),
            since=world.at(9, 30), until=world.at(10, 30),
        ),
        lambda: clock.clock_on(
            world.shop, world.by("T2", minutes=0, at=world.at(9, 30)), job=job, phase="1"
        ),
    ):  # fmt: skip
        world.refused(act, "was held (parts)", "no labour")
    day_sheet.correct_clock(world.shop, world.by("T1"), clock=seq, until=world.at(8, 45))


def test_closing_a_job_confirms_its_clocks_and_foremen_put_them_right(world: World) -> None:
    world.to(8)
    done = jobs.take_small(world.shop, world.by("T1"), text="lamp", vehicle="car")
    job = done.job or ""
    world.do("T1", job, "1")
    jobs.close(world.shop, world.by("T1"), job=job)
    assert world.one("select confirmed from clock") == 1
    seq = _clock(world)
    world.refused(
        lambda: day_sheet.correct_clock(world.shop, world.by("T1"), clock=seq, breaks_worked=True),
        kind=MayNot,
    )
    day_sheet.correct_clock(world.shop, world.by("FOR"), clock=seq, breaks_worked=True)
    world.refused(lambda: world.on("T1", job, "1"), "is closed")


def test_a_clock_is_on_a_phase_or_on_no_job(world: World) -> None:
    job = _job(world)
    for where in (
        day_sheet.Where(), day_sheet.Where(job=job), day_sheet.Where(phase="1"),
        day_sheet.Where(job, "1", "parts"), day_sheet.Where(reason="sleep"),
    ):  # fmt: skip
        world.refused(
            lambda w=where: day_sheet.enter_clock(  # type: ignore[misc]  # bound at once
                world.shop, world.by("T1"), where=w, since=world.at(7), until=world.at(7, 30)
            )
        )


def test_a_day_is_confirmed_though_a_closed_job_confirmed_its_clocks_once(world: World) -> None:
    world.to(8)
    job = jobs.take_small(world.shop, world.by("T1"), text="lamp", vehicle="car").job
    assert job is not None
    world.on("T1", job, "1")
    world.to(9)
    world.finish("T1", job, "1")
    jobs.close(world.shop, world.by("T1"), job=job)
    assert world.one("select confirmed from clock where job = ?", job) == 1
    day = world.now.date()
    day_sheet.confirm_day(world.shop, world.by("T1"), day=day)
    world.refused(
        lambda: day_sheet.confirm_day(world.shop, world.by("T1"), day=day), "confirmed already"
    )


def test_a_foreman_sends_somebody_over_and_can_take_it_back(world: World) -> None:
    job = _job(world)
    world.on("T1", job, "1")
    world.refused(
        lambda: clock.clock_over(world.shop, world.by("T2"), job=job, phase="2", badge="T1"),
        kind=MayNot,
    )
    done = clock.clock_over(world.shop, world.by("FOR"), job=job, phase="2", badge="T1")
    assert "went over to" in done.says
    assert world.all("select person.badge, phase from clock join person using (person) "
                     "where until is null") == [("T1", "2")]  # fmt: skip
    newest = [(line.who, line.says) for line in job_card(world.shop, job, world.now).ledger[:2]]
    assert newest == [("For", f"T1 clocked on {job}.2"), ("For", f"T1 clocked off {job}.1")]
    undo(world.shop, world.by("FOR"))
    assert world.all("select person.badge, phase from clock join person using (person) "
                     "where until is null") == [("T1", "1")]  # fmt: skip


def test_nobody_is_sent_over_who_has_left_or_forgot_a_clock(world: World) -> None:
    job = _job(world)
    world.on("T1", job, "1")
    world.now += timedelta(days=1)
    world.refused(
        lambda: clock.clock_over(world.shop, world.by("FOR"), job=job, phase="2", badge="T1"),
        kind=LeftRunning,
    )
