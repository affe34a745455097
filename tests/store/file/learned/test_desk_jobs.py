"""Jobs that came over the desk: checks teach hours, and days at the desk are no days of work."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from store.actions import holding, jobs, phases, places
from store.actions.desk import acts as desk
from store.file.learned.hand import hands
from store.file.learned.kept import Forecast, forecasts
from store.file.learned.own import ShopLearner
from store.file.learned.turns import Turns
from store.file.past_spans import own_spans, spans
from store.file.past_work import past_work
from tests.store.actions.made import World, make
from tests.store.made_desk import FAMILY, agreed, arrived, enquiry, with_checks


@pytest.fixture(name="world")
def world_fixture(tmp_path: Path) -> Iterator[World]:
    made = with_checks(make(tmp_path))
    made.to(8)
    yield made
    made.shop.close()


def work(world: World, job: str, phase: str, hours: float, answer: str | None = None) -> None:
    """T1 works on a phase, answers its decision and finishes it."""
    world.on("T1", job, phase)
    if answer is not None:
        world.sign("T1", job, "fit" if phase == "2" else "seat", answer=answer)
    phases.finish(world.shop, world.by("T1", minutes=60 * hours), job=job, phase=phase)


def checked(world: World, vehicle: str) -> str:
    """A job whose check was done and passed, and to which the customer agreed."""
    job = arrived(world, vehicle=vehicle)
    work(world, job, "1", 0.5)
    work(world, job, "2", 0.6, "yes")
    desk.judge_check(world.shop, world.by("FOR"), job=job, result="pass")
    agreed(world, job)
    return job


def done(world: World, day: int) -> str:
    """A job checked on one day and done on another."""
    job = checked(world, f"van {day}")
    world.to(8, day=day)
    places.move(world.shop, world.by("FOR"), job=job, place="2", lift=True)
    work(world, job, "3", 1.5, "sound")
    work(world, job, "4", 0.8)
    work(world, job, "5", 0.7)
    jobs.close(world.shop, world.by("FOR"), job=job)
    return job


def known(world: World, *numbers: str) -> dict[str, Forecast]:
    """What the learner says of jobs."""
    Turns(world.shop, ShopLearner(), lambda: world.now).keep_up()
    with world.shop.reading() as db:
        return forecasts(db, numbers)


def test_a_check_teaches_its_hours_and_no_days(world: World) -> None:
    job = done(world, day=1)
    with world.shop.reading() as db:
        records, happened = past_work(db), spans(db)
    assert [one.phase for one in records] == ["R0", "SQ", "S1", "S3", "Z0"]
    assert [one.seq for one in happened] == [3, 4, 5]
    assert {one.job for one in happened} == {job}


def test_the_same_job_without_the_desk_teaches_all_its_days(world: World) -> None:
    job = world.take("SE", "2")
    for phase, answer in (("1", None), ("2", "yes"), ("3", "sound"), ("4", None), ("5", None)):
        work(world, job, phase, 0.5, answer)
    jobs.close(world.shop, world.by("FOR"), job=job)
    with world.shop.reading() as db:
        assert [one.seq for one in spans(db)] == [1, 2, 3, 4, 5]


def test_a_hold_that_outlasts_the_word_counts(world: World) -> None:
    job = arrived(world)
    work(world, job, "1", 0.5)
    holding.hold(world.shop, world.by("T1"), job=job, phase="2", reason="tool")
    agreed(world, job)
    with world.shop.reading() as db:
        assert [(one.kind, one.seq) for one in own_spans(db, [job])] == [("held", 2)]


def test_only_what_is_laid_has_a_forecast(world: World) -> None:
    done(world, day=1)
    here, asked, bare = arrived(world), enquiry(world, "SE", vehicle="a"), enquiry(world)
    found = known(world, here, asked, bare)
    assert set(found) == {here}
    finish = found[here].finish
    assert finish is not None
    assert finish.quantiles[9] < 4
    with world.shop.reading() as db:
        hand = hands(db, [here], world.now)[here]
    assert (hand.agreed, hand.been_on, hand.line, hand.is_worked) == (False, False, None, False)


def test_days_between_the_check_and_the_lift_are_no_waiting_for_a_person(world: World) -> None:
    done(world, day=1)
    job = checked(world, "blue van")
    taken = jobs.take(
        world.shop, world.by("FOR"), operations=["SE"], family=FAMILY, vehicle="grey car"
    ).job or ""  # fmt: skip
    soon = known(world, job, taken)
    world.now += timedelta(days=6)
    late = known(world, job, taken)
    for number in (job, taken):
        first, last = soon[number].finish, late[number].finish
        assert first is not None
        assert last is not None
        assert last.quantiles[9] == pytest.approx(first.quantiles[9], rel=0.25)
    assert late[job].finish.quantiles[9] < late[taken].finish.quantiles[9]  # type: ignore[union-attr]  # asserted


def test_a_declined_job_is_nobody_s_to_do(world: World) -> None:
    job = arrived(world)
    work(world, job, "1", 0.5)
    desk.decline(world.shop, world.by("FOR"), job=job, why="too dear")
    assert known(world, job) == {}
