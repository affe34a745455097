"""The shop at one moment: who waits for which lift, what holds a whole job, who owes a name."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from store.actions import clock, holding, places
from store.file.learned.due import LIVE, due
from store.file.learned.moment import Moment, behind, moment
from store.file.learned.own import VERSIONS
from store.file.verify import verify
from tests.store.actions.made import World, make
from tests.store.made_acts import learner, outlook, stuck_shop


@pytest.fixture(name="world")
def world_fixture(tmp_path: Path) -> Iterator[World]:
    made = make(tmp_path)
    made.to(8, 0)
    yield made
    made.shop.close()


def here(world: World) -> Moment:
    with world.shop.reading() as db:
        return moment(db, [row[0] for row in db.execute(LIVE)], world.now)


def line(world: World) -> tuple[dict[str, int], int | None]:
    now = here(world)
    return behind(now.hands, now.lifts)


def test_whoever_waits_takes_the_first_free_lift_that_carries_it(world: World) -> None:
    for lift in ("1", "2"):
        world.take("WP", lift)
    heavy, light = world.take("WP", None, mass=3900), world.take("WP", None, mass=1500)
    assert line(world) == ({heavy: 0}, 1), "lift 3 carries 3,000 kg"
    places.move(world.shop, world.by("T1"), job=light, place="3", lift=True)
    late = world.take("WP", None)
    assert line(world) == ({heavy: 0, late: 1}, 2)


def test_with_a_lift_left_nobody_waits(world: World) -> None:
    world.take("WP", None)
    assert line(world) == ({}, None)


def test_a_lift_out_of_service_is_no_lift(world: World) -> None:
    for lift in ("1", "2", "3"):
        places.withdraw_lift(world.shop, world.by("T1"), code=lift, reason="oil leaks")
    job = world.take("WP", None)
    assert line(world) == ({job: 0}, 1)
    assert here(world).lifts.stands == ()


def test_a_hold_of_a_whole_job_lies_on_what_comes_next(world: World) -> None:
    job, fresh = world.take("WP", "1"), world.take("WP", None)
    world.do("T1", job, "1")
    for one in (job, fresh):
        holding.hold(world.shop, world.by("T1"), job=one, phase=None, reason="parts")
    assert {one.job: one.seq for one in here(world).spans if one.kind == "held"} == {
        job: 2, fresh: 1,
    }  # fmt: skip


def test_a_job_that_waits_and_is_held_comes_in_no_sooner_than_it_can(world: World) -> None:
    world.take("WP", "1")
    job = world.take("WP", None)
    learner(world).keep_up()
    free = outlook(world).before[job]
    holding.hold(
        world.shop, world.by("T1"), job=job, phase=None, reason="parts",
        until=world.now + timedelta(days=3),
    )  # fmt: skip
    held = outlook(world).before[job]
    assert held.quantiles[9] > free.quantiles[9] + 8, "said to last three days"
    holding.release(world.shop, world.by("T1"), job=job)
    assert outlook(world).before[job].quantiles[9] < held.quantiles[9] - 8
    assert verify(world.shop.path).ok


def test_a_name_owed_keeps_a_job_from_going_on_while_nobody_is_there(tmp_path: Path) -> None:
    world = stuck_shop(tmp_path)
    learner(world).keep_up()
    owed = outlook(world).before["1002"].mean
    since = [one.owed_since for one in here(world).hands["1002"].phases if one.owed_since]
    assert since == [world.at(8, 56).timestamp()]
    world.sign("T2", "1002", "LK")
    assert outlook(world).before["1002"].mean < owed
    assert not any(one.owed_since for one in here(world).hands["1002"].phases)
    with world.shop.reading() as db:
        assert "1002" in due(db, VERSIONS, world.now).concerned
    world.on("T1", "1002", "2")
    clock.clock_off(world.shop, world.by("T1"))
    world.shop.close()
