"""The shop's own past asked anew: which jobs are judged, by what, and that nothing is written."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from store.actions import history, settings
from store.file.shop import Shop
from store.views.hindsight import FIRST, Hindsight, hindsight
from store.views.history import past
from tests.store.actions.made import World
from tests.store.made_jobs import closed_job, plain_shop
from tests.store.made_past import finished


@pytest.fixture(name="world")
def world_fixture(tmp_path: Path) -> Iterator[World]:
    made = plain_shop(tmp_path)
    yield made
    made.shop.close()


def asked(world: World) -> Hindsight:
    """What a past that is not empty comes to."""
    found = hindsight(world.shop, world.now)
    assert found is not None
    return found


def imported(world: World, jobs: int, **more: Any) -> None:
    """Old jobs of one phase each, a week apart."""
    records = [finished(str(n), template="EZ", phase="E2", **more) for n in range(1, jobs + 1)]
    history.import_history(world.shop, world.by("FOR"), records=records, source="old.csv")


def test_a_shop_without_a_closed_job_has_nothing_to_look_back_on(world: World) -> None:
    world.to(8, 0)
    world.take("EZ", lift=None)
    assert hindsight(world.shop, world.now) is None


def test_the_first_third_only_teaches_where_there_are_few(world: World) -> None:
    for day in range(4):
        closed_job(world, day, worn=day == 1, parts_h=2.0 if day == 2 else None)
    events = world.events()
    found = asked(world)
    assert (found.jobs, found.phases, found.first) == (4, 12, 1)
    assert (found.every.jobs, found.last_half.jobs) == (3, 2)
    assert (found.since, found.until) == (world.at(8, 2), world.at(12, 33, day=3))
    hours = found.every.hours
    assert (hours.jobs.count, hours.phases.count, hours.begun.count) == (3, 9, 9)
    assert found.every.dates is not None
    assert (found.every.dates.agreed.count, found.every.dates.begun.count) == (3, 9)
    assert [(one.operation, one.name) for one in found.operations] == [("EZ", "easy")]
    assert (found.operations[0].jobs, found.operations[0].phases) == (hours.jobs, hours.phases)
    assert world.events() == events
    assert asked(world) == found


def test_with_many_jobs_so_many_only_teach(world: World) -> None:
    imported(world, 3 * FIRST + 5)
    found = asked(world)
    assert (found.first, found.every.jobs) == (FIRST, 2 * FIRST + 5)


def test_imported_jobs_are_judged_by_their_hours_alone(world: World) -> None:
    imported(world, 6, book_h=2.0, actual_h=2.6)
    found = asked(world)
    assert (found.jobs, found.every.dates, found.last_half.dates) == (6, None, None)
    assert found.every.hours.jobs.book.share == 0.0
    assert math.isclose(found.every.hours.jobs.book_miss, 0.6 / 2.6)
    assert found.every.hours.jobs.miss < found.every.hours.jobs.book_miss
    closed_job(world, 0)
    mixed = asked(world)
    assert (mixed.jobs, mixed.every.jobs) == (7, 5)
    assert mixed.every.dates is not None
    assert (mixed.every.dates.agreed.count, mixed.every.dates.begun.count) == (1, 3)


def test_the_cautious_figure_is_that_of_the_shop(world: World) -> None:
    imported(world, 6)
    settings.change_setting(world.shop, world.by("OWN"), name="cautious", value=0.6)
    assert asked(world).cautious == 0.6
    settings.change_setting(world.shop, world.by("OWN"), name="cautious", value=0.98)
    assert asked(world).cautious == 0.95


def test_hours_that_cannot_be_true_are_not_asked_for(world: World) -> None:
    imported(world, 3)
    known = asked(world)
    freak = finished("9", template="EZ", phase="E2", actual_h=0.001)
    history.import_history(world.shop, world.by("FOR"), records=[freak], source="odd.csv")
    assert asked(world) == known


def test_how_far_it_has_come_is_told(world: World) -> None:
    imported(world, 3)
    told: list[tuple[int, int]] = []
    hindsight(world.shop, world.now, lambda done, whole: told.append((done, whole)))
    assert told == [(n, 6) for n in range(1, 7)]


def test_another_terminal_writes_while_it_computes(world: World) -> None:
    imported(world, 3)
    wrote: list[int] = []

    def meanwhile(done: int, _: int) -> None:
        if done == 1:
            other = Shop(world.shop.path)
            world.acts += 1000
            imported_too = [finished("99", template="EZ", phase="E2")]
            history.import_history(
                other, replace(world.by("FOR"), terminal="t2"), records=imported_too, source="n.csv"
            )
            other.close()
            wrote.append(world.events())

    found = hindsight(world.shop, world.now, meanwhile)
    assert len(wrote) == 1
    assert found is not None
    assert found.jobs == 3
    assert len(past(world.shop).records) == 4
