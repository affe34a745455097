"""Draws of kits stand beside the forecasts: kept, proof of nothing, the newest of them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from store.file.learned.kept import Forecast, keep_forecasts, newest_position
from store.file.learned.kept_needs import DRAWS, LONGEST_H, KitNeed, StretchDrawn, kept_needs
from store.file.verify import verify
from tests.store.actions.made import World
from tests.store.file.learned.made import spread
from tests.store.made_kits import kit_shop, take


@pytest.fixture(name="world")
def world_fixture(tmp_path: Path) -> Iterator[World]:
    with kit_shop(tmp_path) as made:
        yield made


def hours(first: float) -> tuple[float, ...]:
    """(draws,) whole hundredths."""
    return tuple(round(first + n / 10, 2) for n in range(DRAWS))


def need(world: World, job: str, kit: str) -> KitNeed:
    """Two stretches of a job."""
    stretches = (
        StretchDrawn(("2", "3"), hours(1.0), hours(5.25)),
        StretchDrawn(("7",), hours(9.0), hours(9.0)),
    )
    return KitNeed(job, kit, world.events(), 3, world.now, stretches, hours(20.0))


def keep(world: World, job: str, *needs: KitNeed, seq: int | None = None) -> None:
    """As the learner does."""
    made = Forecast(
        job, seq or world.events(), 3, world.now, 0.0, spread(4.0), spread(9.0), needs=needs
    )
    with world.shop.beside() as db:
        assert keep_forecasts(db, [made], newest_position(db))


def read(world: World) -> dict[str, dict[str, KitNeed]]:
    with world.shop.reading() as db:
        return kept_needs(db)


def test_what_is_kept_is_read_as_it_was_made(world: World) -> None:
    job = take(world)
    made = need(world, job, "link"), need(world, job, "lock")
    keep(world, job, *made)
    assert read(world) == {job: {"link": made[0], "lock": made[1]}}
    assert verify(world.shop.path).ok


def test_what_is_made_anew_takes_the_place_of_all_that_was(world: World) -> None:
    job = take(world)
    keep(world, job, need(world, job, "link"), need(world, job, "lock"))
    keep(world, job, need(world, job, "lock"))
    assert set(read(world)[job]) == {"lock"}
    keep(world, job)
    assert read(world) == {}


def test_an_older_one_never_takes_the_place_of_a_newer_one(world: World) -> None:
    job = take(world)
    newer = need(world, job, "link")
    keep(world, job, newer)
    old = replace(need(world, job, "lock"), seq=newer.seq - 1)
    keep(world, job, old, seq=old.seq)
    assert read(world) == {job: {"link": newer}}


def test_other_jobs_keep_theirs(world: World) -> None:
    one, other = take(world), take(world)
    keep(world, one, need(world, one, "link"))
    keep(world, other, need(world, other, "link"))
    assert set(read(world)) == {one, other}


def test_what_lasts_longer_than_any_job_is_cut_off(world: World) -> None:
    job = take(world)
    far = (LONGEST_H * 3,) * DRAWS
    keep(world, job, replace(need(world, job, "link"), finishes=far))
    assert max(read(world)[job]["link"].finishes) == LONGEST_H
