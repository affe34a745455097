"""Stretches of phases for which a job wants a kit."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from store.file.kits.wanted import Wanted, kits_wanted
from tests.store.actions.made import World
from tests.store.made_kits import kit_shop, take


@pytest.fixture(name="world")
def world_fixture(tmp_path: Path) -> Iterator[World]:
    with kit_shop(tmp_path) as made:
        yield made


def wanted(world: World, kit: str) -> list[Wanted]:
    """Of the only job that wants any."""
    with world.shop.reading() as db:
        found = kits_wanted(db)
    assert len(found) <= 1
    return [one for each in found.values() for one in each if one.kit == kit]


def test_one_phase_is_a_stretch(world: World) -> None:
    job = take(world)
    assert wanted(world, "gauge") == [Wanted(job, "gauge", ("6",), ("6",), ("6",), None, False)]


def test_phases_in_a_row_are_one_stretch_and_a_later_one_is_another(world: World) -> None:
    take(world)
    first, later = wanted(world, "link")
    assert (first.phases, first.uses, first.frees) == (("2", "3"), ("2", "3"), ("2", "3"))
    assert (later.phases, later.captive) == (("7",), False)


def test_a_stretch_is_begun_with_its_first_phase_and_over_with_its_last(world: World) -> None:
    job = take(world)
    world.on("T1", job, "1")
    world.sign("T1", job, "DEEP", answer="yes")
    world.finish("T1", job, "1")
    world.on("T1", job, "2")
    began = world.now
    world.finish("T1", job, "2")
    first, _ = wanted(world, "link")
    assert (first.phases, first.uses, first.begun_at) == (("2", "3"), ("3",), began)
    world.do("T1", job, "3")
    assert [one.phases for one in wanted(world, "link")] == [("7",)]


def test_a_kit_fixed_on_the_open_unit_is_wanted_until_the_phase_has_ended_that_frees_it(
    world: World,
) -> None:
    job = take(world)
    (one,) = wanted(world, "lock")
    assert one.captive
    assert (one.phases, one.uses, one.frees) == (("2", "3", "4"), ("2",), ("2", "4"))
    world.on("T1", job, "1")
    world.sign("T1", job, "DEEP", answer="yes")
    world.finish("T1", job, "1")
    world.do("T1", job, "2")
    (one,) = wanted(world, "lock")
    assert (one.uses, one.frees) == ((), ("4",))
    assert one.begun_at is not None
    world.do("T1", job, "3")
    world.do("T1", job, "4")
    assert wanted(world, "lock") == []


def test_a_phase_that_an_answer_takes_out_wants_nothing(world: World) -> None:
    job = take(world)
    world.on("T1", job, "1")
    world.sign("T1", job, "DEEP", answer="no")
    assert wanted(world, "gauge") == []


def test_only_jobs_asked_about_are_told(world: World) -> None:
    one, other = take(world), take(world)
    with world.shop.reading() as db:
        assert set(kits_wanted(db)) == {one, other}
        assert set(kits_wanted(db, [other, "999"])) == {other}
