"""Work at another firm: where it went and what was promised, in the shop's own forecasts."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import pytest

from store.actions import outwork
from store.file.learned.branches import as_it_stands
from store.file.learned.dates_part import Dates
from store.file.learned.kept import forecasts
from store.file.learned.moment import moment
from store.file.learned.own import ShopLearner
from store.file.learned.standing import Standing
from store.file.learned.turns import Turns
from store.learn.dates.learned import Learned
from store.sums.moving import quantile
from tests.store.actions.made import World, make
from tests.store.made_calls import load_away, take_away, to_firm


@pytest.fixture(name="world")
def world_fixture(tmp_path: Path) -> Iterator[World]:
    made = make(tmp_path)
    made.to(8, 0)
    load_away(made)
    yield made
    made.shop.close()


def send(world: World, job: str, promised: datetime | None) -> None:
    to_firm(world, job)
    outwork.send(
        world.shop, world.by("T2"), job=job, phase="3", what="head", firm="Facing Works",
        promised=promised,
    )  # fmt: skip


def open_hours(world: World, job: str) -> float:
    """Middle open hours until the job is done, as the learner says now."""
    Turns(world.shop, ShopLearner(), lambda: world.now).keep_up()
    with world.shop.reading() as db:
        finish = forecasts(db, [job])[job].finish
    assert finish is not None
    return quantile(finish.quantiles, 0.5)


def test_the_firm_stands_with_the_work_that_is_away(world: World) -> None:
    job = take_away(world)
    send(world, job, world.at(16, day=3))
    with world.shop.reading() as db:
        found = moment(db, [job], world.now)
    hand = found.hands[job]
    standing = Standing(found, Dates(0.0, Learned()))
    ahead = standing.ahead(hand, as_it_stands(hand))
    assert ahead is not None
    assert [one.firm for one in ahead.steps if one.kind == "outwork"] == ["Facing Works"]
    running = [one for one in ahead.running if one.kind == "outwork"]
    assert [(one.reason, one.said) for one in running] == [
        ("Facing Works", world.at(16, day=3).timestamp())
    ]


def test_a_later_promise_of_the_firm_moves_the_end(world: World) -> None:
    job = take_away(world)
    send(world, job, world.at(16, day=1))
    early = open_hours(world, job)
    outwork.chase(
        world.shop, world.by("T2"), job=job, phase="3", said="not yet", promised=world.at(16, day=9)
    )
    assert open_hours(world, job) > early + 8
