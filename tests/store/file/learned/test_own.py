"""The shop's own learner at a shop file: what it keeps, what it says, how it forecasts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from store.actions import day_sheet, holding, jobs
from store.file.learned import dates_part, seen
from store.file.learned.cases import cases, is_believable
from store.file.learned.kept import Forecast, forecasts, parts
from store.file.learned.own import VERSIONS, ShopLearner
from store.file.learned.turns import Turns
from store.file.verify import verify
from store.views.estimate import estimate
from store.views.floor import floor
from store.views.learned import learned
from tests.store.actions.made import World, make


@pytest.fixture(name="world")
def world_fixture(tmp_path: Path) -> Iterator[World]:
    made = make(tmp_path)
    made.to(8, 0)
    yield made
    made.shop.close()


def turns(world: World) -> Turns:
    """The learner at this shop, at its clock."""
    return Turns(world.shop, ShopLearner(), lambda: world.now)


def content(world: World) -> Mapping[str, bytes | None]:
    """Every part, byte by byte."""
    with world.shop.reading() as db:
        return {name: one.content for name, one in parts(db, VERSIONS, whole=True).items()}


def read(world: World, job: str) -> Forecast:
    """A job's forecast."""
    with world.shop.reading() as db:
        return forecasts(db, [job])[job]


def work(world: World, job: str, phase: str, hours: float, badge: str = "T1") -> None:
    """Clock so many hours on a phase and finish it."""
    world.on(badge, job, phase)
    world.now += timedelta(hours=hours)
    world.finish(badge, job, phase)


def confirm(world: World, badge: str = "T1") -> None:
    """A day's clocks are as they say."""
    day_sheet.confirm_day(world.shop, world.by(badge), day=world.now.date())


def test_a_new_shop_forecasts_from_what_is_usual(world: World) -> None:
    """Before anything was seen the hours are the book's; waits, holds and standing are the trade's
    (common practice, no source): the end is never as near as plain labour would have it."""
    job = world.take("TC", "1")
    assert turns(world).keep_up()
    found = read(world, job)
    assert found.phases == {}
    assert found.finish is not None
    here = floor(world.shop, world.now).lanes[0].job
    assert here is not None
    assert here.remaining == here.estimate
    calendar = floor(world.shop, world.now).calendar
    plain = calendar.after(world.now, here.remaining.middle)
    assert here.finish is not None
    assert here.finish.middle > plain
    assert set(content(world)) == set(VERSIONS)
    assert verify(world.shop.path).ok


def test_what_takes_longer_here_is_forecast_to_take_longer(world: World) -> None:
    for _ in range(4):
        job = world.take("TC", None)
        work(world, job, "1", 1.5)
    confirm(world)
    job = world.take("TC", "1")
    turns(world).keep_up()
    found = read(world, job).phases["1"].left
    assert 0.9 < found.quantiles[9] < 1.8
    said = learned(world.shop, world.now)
    assert said.finished == 4
    told = next(one for one in said.phases if one.family is None)
    assert (told.phase, told.finished, told.sure) == ("G0", 4, "sure")
    assert "more than the book, seen 4 times: sure" in told.says
    assert [one.badge for one in said.people] == ["T1"]


def test_learned_anew_it_is_the_same_to_the_last_bit(world: World) -> None:
    for hours in (0.4, 0.9):
        work(world, world.take("TC", None), "1", hours)
    confirm(world)
    job = world.take("TC", "1")
    turns(world).keep_up()
    before, said = content(world), read(world, job)
    assert turns(world).anew()
    assert content(world) == before
    assert read(world, job) == said
    with world.shop.reading() as db:
        taught = cases(db)
        other = replace(taught, records=tuple(reversed(taught.records)))
    once = {one.part: one.content for one in ShopLearner().learn(other, {})}
    assert once["labour"] == before["labour"]


def test_a_long_phase_under_way_is_not_nearly_done(world: World) -> None:
    job = world.take("TC", "1")
    work(world, world.take("TC", None), "1", 0.6)
    confirm(world)
    world.on("T1", job, "1")
    turns(world).keep_up()
    early = read(world, job).phases["1"]
    world.now += timedelta(hours=1.5)
    holding.find(
        world.shop, world.by("T1"), job=job, phase="1", kind="surprise", text="seized", hours=0.5
    )
    turns(world).keep_up()
    late = read(world, job).phases["1"]
    assert late.labour_h > early.labour_h + 1.4
    assert late.left.quantiles[9] > 0.1


def test_a_hold_puts_the_end_off_and_its_release_brings_it_nearer(world: World) -> None:
    job = world.take("TC", "1")
    turns(world).keep_up()
    free = read(world, job).finish
    holding.hold(
        world.shop, world.by("FOR"), job=job, phase=None, reason="parts",
        until=world.at(8, day=7), next_move="desk",
    )  # fmt: skip
    turns(world).keep_up()
    held = read(world, job).finish
    holding.release(world.shop, world.by("FOR"), job=job, phase=None)
    turns(world).keep_up()
    again = read(world, job).finish
    assert free is not None
    assert held is not None
    assert again is not None
    assert held.quantiles[9] > free.quantiles[9] + 10
    assert again.quantiles[9] < held.quantiles[9] - 10


def test_who_waits_for_a_lift_comes_after_those_on_one(world: World) -> None:
    on = [world.take("TC", lift) for lift in ("1", "2", "3")]
    first, second = world.take("TC", None), world.take("TC", None)
    turns(world).keep_up()
    ends = [one.quantiles[9] for job in on if (one := read(world, job).finish) is not None]
    behind = [read(world, job).finish for job in (first, second)]
    assert behind[0] is not None
    assert behind[1] is not None
    assert len(ends) == 3
    assert behind[0].quantiles[9] > min(ends)
    assert behind[1].quantiles[9] > behind[0].quantiles[9]


def test_small_jobs_and_jobs_without_anything_left_have_no_forecast(world: World) -> None:
    jobs.take_small(world.shop, world.by("T1"), text="lamp", vehicle="van")
    turns(world).keep_up()
    with world.shop.reading() as db:
        assert forecasts(db, ["1001"]) == {}


def test_hours_that_cannot_be_are_no_hours(world: World) -> None:
    work(world, world.take("TC", None), "1", 0.0)
    work(world, world.take("TC", None), "1", 0.7)
    confirm(world)
    with world.shop.reading() as db:
        taught = cases(db)
    assert [round(one.actual_h, 2) for one in taught.records] == [0.02, 0.72]
    one = taught.records[0]
    assert not is_believable(replace(one, actual_h=one.book_h / 61))
    assert not is_believable(replace(one, actual_h=one.book_h * 61))


def test_the_dates_read_back_are_those_that_were_kept(world: World) -> None:
    job = world.take("WP", "1")
    with world.shop.reading() as db:
        assert dates_part.read(dates_part.learn(cases(db), None)).since == 0.0
    holding.hold(
        world.shop, world.by("FOR"), job=job, phase=None, reason="parts", until=world.at(12),
        next_move="desk",
    )  # fmt: skip
    with world.shop.reading() as db:
        taught = cases(db)
    part = dates_part.learn(taught, None)
    assert dates_part.learn(taught, part) == replace(part, content=None)
    found = dates_part.read(part)
    assert dates_part.learn(taught, None) == part
    assert found.learned.holds.classes == {}


def test_counts_say_where_hours_come_from(world: World) -> None:
    nothing = seen.NOTHING
    assert nothing.source("G0", "B4-M-F") == "work book only"
    work(world, world.take("TC", None), "1", 0.6)
    confirm(world)
    with world.shop.reading() as db:
        taught = cases(db)
    found = seen.read(seen.learn(taught, None))
    assert found.source("G0", "B4-M-F") == "from 1 job of this kind, 1 on this family"
    assert found.source("G0", "D4-M-F") == "from 1 job of this kind, none on this family"
    assert found.source("B2", "B4-M-F") == "work book, and how this shop works"


@pytest.mark.parametrize("part", ["labour", "dates"])
def test_what_is_torn_is_learned_again(world: World, part: str) -> None:
    work(world, world.take("TC", None), "1", 0.9)
    confirm(world)
    job = world.take("TC", "1")
    turns(world).keep_up()
    before = content(world)
    with world.shop.beside() as db:
        db.execute("update learned_part set content = x'00' where part = ?", [part])
    found = estimate(world.shop, world.now, operations=["TC"], family="B4-M-F")
    assert found.promise == ()
    assert (found.says == "book") == (part == "labour")
    world.on("T1", job, "1")
    assert turns(world).keep_up()
    assert content(world) == before
    assert read(world, job).seq == world.events()
