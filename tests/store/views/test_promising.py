"""Dates that can be promised, by their chance: the chance that the job's own promise would have."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from store.actions import jobs
from store.trouble import Refused
from store.views.promising import promising
from tests.store.actions.made import World, make
from tests.store.views.test_likely import keep, known, seen


@pytest.fixture(name="world")
def world_fixture(tmp_path: Path) -> Iterator[World]:
    made = make(tmp_path)
    made.to(8, 0)
    yield made
    made.shop.close()


def test_the_first_date_holds_at_the_shops_own_chance_and_is_a_quarter_of_an_hour(
    world: World,
) -> None:
    job = world.take()
    keep(world, known(world, job))
    told = promising(world.shop, job, world.now)
    own, even, sure = told.offers
    assert own.level == told.cautious == 0.8
    assert [one.chance is not None and one.chance >= one.level for one in told.offers] == [True] * 3
    assert even.at < own.at < sure.at
    assert all(one.at.minute % 15 == 0 and one.at.second == 0 for one in told.offers)
    finish = seen(world, job).finish
    assert finish is not None
    assert timedelta(0) <= own.at - finish.cautious < timedelta(minutes=15)


def test_what_was_promised_has_the_chance_that_was_said(world: World) -> None:
    job = world.take()
    keep(world, known(world, job))
    own = promising(world.shop, job, world.now).offers[0]
    jobs.promise(world.shop, world.by("FOR", minutes=0), job=job, at=own.at, chance=own.chance)
    assert seen(world, job).promise_chance == own.chance


def test_where_nothing_was_learned_the_books_figures_have_no_chance(world: World) -> None:
    job = world.take()
    told = promising(world.shop, job, world.now)
    assert [one.chance for one in told.offers] == [None, None]
    assert told.chance(world.now + timedelta(days=9)) is None
    assert told.seq is None


def test_a_job_that_is_not_there_is_refused(world: World) -> None:
    with pytest.raises(Refused, match="There is no job 9999"):
        promising(world.shop, "9999", world.now)
