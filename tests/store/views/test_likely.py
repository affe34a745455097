"""The floor, the job card and the bay read stored forecasts, moved to now."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from store.actions import holding, jobs
from store.file.layout import LEARNED
from store.file.learned.kept import (
    Forecast,
    PhaseLeft,
    Spread,
    keep_forecasts,
    newest_position,
)
from store.sums import moving
from store.views.bay import bay
from store.views.floor import floor
from store.views.job import job_card
from store.views.outside import money
from store.views.values import Job
from tests.store.actions.made import World, make
from tests.store.file.learned.made import spread


@pytest.fixture(name="world")
def world_fixture(tmp_path: Path) -> Iterator[World]:
    made = make(tmp_path)
    made.to(8, 0)
    yield made
    made.shop.close()


def known(world: World, job: str, *, finish: Spread | None = None, labour: float = 0.0) -> Forecast:
    """Every phase that is left takes 3 h, all together 20 h, the end is 30 open hours off."""
    with world.shop.reading() as db:
        left = db.execute(
            "select phase from phase where job = ? and kind = 'labour' "
            "and state in ('to come', 'under way')",
            [job],
        ).fetchall()
    return Forecast(
        job, world.events(), 1, world.now, labour, spread(20.0), finish or spread(30.0),
        {row[0]: PhaseLeft(labour, spread(3.0)) for row in left},
    )  # fmt: skip


def keep(world: World, one: Forecast) -> None:
    """As the learner does."""
    with world.shop.beside() as db:
        assert keep_forecasts(db, [one], newest_position(db))


def seen(world: World, job: str) -> Job:
    """The job on the floor."""
    found = floor(world.shop, world.now)
    every = [lane.job for lane in found.lanes if lane.job] + [*found.waiting, *found.elsewhere]
    return next(one for one in every if one.number == job)


def test_without_a_forecast_the_work_book_speaks_and_no_promise_has_a_chance(world: World) -> None:
    job = world.take("TC", "1")
    jobs.promise(world.shop, world.by("FOR"), job=job, at=world.at(16, day=3))
    before = seen(world, job)
    assert before.promise_chance is None
    assert before.remaining.middle == pytest.approx(before.estimate.middle)
    with world.shop.beside() as db:
        for name in LEARNED:
            db.execute(f"drop table {name}")
    assert seen(world, job) == before


def test_hours_left_and_the_end_are_the_forecasts(world: World) -> None:
    job = world.take("TC", "1")
    keep(world, known(world, job))
    found = seen(world, job)
    assert found.remaining.middle == pytest.approx(20.0)
    assert found.remaining.cautious == pytest.approx(spread(20.0).quantiles[15])
    assert found.phase is not None
    assert found.phase.remaining.middle == pytest.approx(3.0)
    calendar = floor(world.shop, world.now).calendar
    assert found.finish is not None
    assert calendar.working_h(world.now, found.finish.middle) == pytest.approx(30.0)
    assert [calendar.working_h(world.now, one) for one in found.finish_quantiles] == pytest.approx(
        spread(30.0).quantiles
    )
    card = job_card(world.shop, job, world.now)
    assert card.job == found
    assert {one.remaining.middle for one in card.phases if one.kind == "labour"} == {3.0}


def test_the_pieces_ahead_end_where_the_middle_forecast_ends(world: World) -> None:
    job = world.take("TC", "1")
    keep(world, known(world, job))
    found = seen(world, job)
    assert found.finish is not None
    assert found.ahead[-1].until == found.finish.middle
    assert all(a.until <= b.since for a, b in zip(found.ahead, found.ahead[1:], strict=False))
    labour = [one for one in found.ahead if one.kind == "labour"]
    left = [one for one in job_card(world.shop, job, world.now).phases if one.kind == "labour"]
    assert [one.phase for one in labour] == [one.number for one in left]


def test_a_phase_under_way_goes_on_from_the_labour_in_it(world: World) -> None:
    job = world.take("TC", "1")
    world.on("T1", job, "1")
    keep(world, known(world, job))
    world.now += timedelta(hours=1)
    labour = 1.0
    found = seen(world, job)
    assert found.phase is not None
    assert found.phase.remaining.middle == pytest.approx(
        moving.left(spread(3.0).quantiles, labour)[9]
    )
    assert found.remaining.middle == pytest.approx(moving.left(spread(20.0).quantiles, labour)[9])
    mine = bay(world.shop, "T1", world.now).clock
    assert mine is not None
    assert mine.remaining == found.phase.remaining


def test_an_end_that_does_not_come_nearer_is_not_nearly_done(world: World) -> None:
    job = world.take("TC", "1")
    keep(world, known(world, job, finish=spread(2.0)))
    world.to(16, 0)
    found = seen(world, job)
    assert found.finish is not None
    calendar = floor(world.shop, world.now).calendar
    passed = calendar.working_h(world.at(8, 1), world.now)
    assert passed > spread(2.0).quantiles[-1]
    left = calendar.working_h(world.now, found.finish.middle)
    assert left == pytest.approx(moving.left(spread(2.0).quantiles, passed)[9])
    assert left > 0.1


def test_a_route_that_changed_since_has_its_hours_from_the_book_until_it_is_known(
    world: World,
) -> None:
    job = world.take("TC", "1")
    one = known(world, job)
    keep(world, one)
    phases = dict(one.phases)
    del phases["4"]
    keep(world, replace(one, phases=phases))
    found = seen(world, job)
    assert found.remaining.middle == pytest.approx(found.estimate.middle)
    assert found.finish is not None
    assert found.phase is not None
    assert found.phase.remaining.middle == pytest.approx(3.0)


@pytest.mark.parametrize(
    ("days", "chance", "risk"),
    [(0, 0.05, True), (3, 0.53, True), (4, 0.81, False), (30, 0.95, False)],
)
def test_a_promise_has_its_chance_and_is_called_out_under_fifty_five(
    world: World, days: int, chance: float, risk: bool
) -> None:
    job = world.take("TC", "1")
    jobs.promise(world.shop, world.by("FOR"), job=job, at=world.at(15, day=days))
    keep(world, known(world, job))
    found = seen(world, job)
    assert found.promise is not None
    hours = floor(world.shop, world.now).calendar.working_h(world.now, found.promise)
    assert found.promise_chance == pytest.approx(
        moving.chance(spread(30.0).quantiles, hours), abs=1e-4
    )
    assert found.promise_chance == pytest.approx(chance, abs=0.01)
    assert ("promise-at-risk" in found.flags) == risk


def test_a_promise_that_has_passed_is_hardly_kept(world: World) -> None:
    job = world.take("TC", "1")
    jobs.promise(world.shop, world.by("FOR"), job=job, at=world.at(9))
    keep(world, known(world, job))
    world.to(10, 0)
    assert seen(world, job).promise_chance == 0.05


def test_a_held_job_keeps_its_hold_ahead_within_the_forecast(world: World) -> None:
    job = world.take("TC", "1")
    holding.hold(
        world.shop, world.by("FOR"), job=job, phase=None, reason="parts", until=world.at(12, day=1),
        next_move="desk",
    )  # fmt: skip
    keep(world, known(world, job))
    found = seen(world, job)
    assert found.finish is not None
    assert (found.ahead[0].kind, found.ahead[0].until) == ("held", world.at(12, day=1))
    assert found.ahead[-1].until == found.finish.middle


def test_the_floor_says_when_the_learner_has_something_to_do(world: World) -> None:
    assert not floor(world.shop, world.now).to_learn
    jobs.take_small(world.shop, world.by("T1"), text="lamp", vehicle="van")
    assert not floor(world.shop, world.now).to_learn
    job = world.take("TC", "1")
    assert floor(world.shop, world.now).to_learn
    keep(world, known(world, job))
    assert not floor(world.shop, world.now).to_learn
    assert not floor(world.shop, world.now + timedelta(hours=3)).to_learn
    assert floor(world.shop, world.now + timedelta(hours=6)).to_learn


def test_each_look_asks_one_question_more_however_many_jobs_there_are(world: World) -> None:
    asked: list[str] = []
    for lift in ("1", "2"):
        keep(world, known(world, world.take("TC", lift)))
    with world.shop.reading() as db:
        db.set_trace_callback(asked.append)
    floor(world.shop, world.now)
    with world.shop.reading() as db:
        db.set_trace_callback(None)
    assert sum("learned_forecast" in one for one in asked) == 1


def test_two_looks_at_an_unchanged_shop_are_equal(world: World) -> None:
    keep(world, known(world, world.take("TC", "1")))
    assert floor(world.shop, world.now) == floor(world.shop, world.now)


def test_what_cannot_be_read_is_as_never_made(world: World) -> None:
    job = world.take("TC", "1")
    before = seen(world, job)
    keep(world, known(world, job))
    with sqlite3.connect(world.shop.path) as db:
        db.execute("update learned_forecast set content = '{\"left\": []}'")
    assert seen(world, job) == before


def test_money_expected_at_the_end_counts_no_extra_work_that_waits_for_its_word(
    world: World,
) -> None:
    """A forecast counts what was asked in; what nobody agreed to costs nothing yet."""
    job = world.take("TC", "1")
    holding.find(
        world.shop, world.by("FOR"), job=job, phase="1", kind="surprise", text="stud", hours=2.0
    )
    keep(world, known(world, job))
    with world.shop.reading() as db:
        rate = db.execute("select per_hour from rate").fetchone()[0]
        before = money(db, job, world.now)
    assert before.expected is not None
    assert before.expected[0] == pytest.approx(18.0 * rate, abs=0.01)
    holding.answer_supplement(world.shop, world.by("FOR"), job=job, approve=True)
    keep(world, known(world, job))
    with world.shop.reading() as db:
        after = money(db, job, world.now)
    assert after.expected is not None
    assert after.expected[0] - before.expected[0] == pytest.approx(2.0 * rate)
    assert after.expected[1] - before.expected[1] == pytest.approx(2.0 * rate)
