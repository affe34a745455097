"""What a customer agrees to is what the shop learned, frozen with where it came from."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from store.actions import agreeing, day_sheet, holding, jobs
from store.file.change import By
from store.file.learned import new_work
from store.file.learned.own import ShopLearner
from store.file.learned.turns import Turns
from store.file.shop import Shop
from store.file.verify import verify
from store.views.estimate import Estimate, estimate
from store.views.floor import floor
from store.views.job import job_card
from store.views.values import Job
from tests.store.actions.made import World, make


@pytest.fixture(name="world")
def world_fixture(tmp_path: Path) -> Iterator[World]:
    made = make(tmp_path)
    made.to(8, 0)
    yield made
    made.shop.close()


def learn(world: World, *hours: float) -> None:
    """Jobs whose reception took so long; then all of it is learned."""
    for each in hours:
        job = world.take("TC", None)
        world.on("T1", job, "1")
        world.now += timedelta(hours=each)
        world.finish("T1", job, "1")
    if hours:
        day_sheet.confirm_day(world.shop, world.by("T1"), day=world.now.date())
    Turns(world.shop, ShopLearner(), lambda: world.now).take_in()


def asked(world: World, **more: Any) -> Estimate:
    """The estimate of a timing chain."""
    return estimate(world.shop, world.now, operations=["TC"], family="B4-M-F", **more)


def agreed(world: World, job: str) -> dict[str, Any]:
    """What stands frozen in the ledger."""
    found = world.one(
        "select payload from ledger where kind = 'estimate-agreed' and payload ->> '$.job' = ?", job
    )
    content: dict[str, Any] = json.loads(str(found))
    return content


def seen(world: World, job: str) -> Job:
    """The job on the floor."""
    found = floor(world.shop, world.now)
    every = [lane.job for lane in found.lanes if lane.job] + list(found.waiting)
    return next(one for one in every if one.number == job)


def test_a_shop_that_learned_nothing_agrees_to_the_book(world: World) -> None:
    before = asked(world)
    assert before.says == "book"
    assert {one.source for one in before.route} == {"work book only"}
    assert before.promise == ()
    learn(world)
    found = asked(world)
    assert (found.route, found.total) == (before.route, before.total)
    content = agreed(world, world.take("TC", None))
    assert content["source"] == "book"
    assert "sources" not in content
    assert "says" not in content


def test_what_was_learned_is_estimated_and_agreed(world: World) -> None:
    book = asked(world)
    learn(world, 1.4, 1.6, 1.5)
    seq = world.events()
    found = asked(world)
    first = found.route[0]
    assert first.book_h == 0.5
    assert first.figures.middle > 0.9 > book.route[0].figures.cautious
    assert first.figures.cautious > first.figures.middle
    assert (first.source, first.finished_before) == (
        "from 3 jobs of this kind, 3 on this family", 3,
    )  # fmt: skip
    assert found.route[1].source == "work book, and how this shop works"
    assert found.says == "learned from 3 jobs of this kind"
    job = world.take("TC", "1")
    content = agreed(world, job)
    assert content["source"] == f"learned at {seq}"
    assert content["says"] == found.says
    assert content["sources"]["1"] == first.source
    assert content["phases"]["1"]["quantiles"][9] == pytest.approx(first.figures.middle, abs=0.01)
    assert content["total"]["quantiles"] == pytest.approx(list(found.total.quantiles), rel=0.01)
    card = job_card(world.shop, job, world.now)
    assert card.phases[0].estimate.middle == pytest.approx(content["phases"]["1"]["quantiles"][9])
    assert card.estimate_changes[0].cause == found.says
    assert seen(world, job).estimate.middle == card.estimate_changes[0].middle
    assert verify(world.shop.path).ok


def test_standing_stays_what_the_book_says(world: World) -> None:
    book = asked(world)
    learn(world, 1.4)
    standing = [one for one in asked(world).route if one.kind == "standing"]
    assert standing
    assert standing == [one for one in book.route if one.kind == "standing"]


def test_agreed_extra_work_raises_a_learned_estimate_by_about_its_hours(world: World) -> None:
    learn(world, 1.4, 1.6)
    job = world.take("TC", "1")
    before = seen(world, job).estimate
    world.on("T1", job, "1")
    holding.find(
        world.shop, world.by("T1"), job=job, phase="1", kind="surprise", text="seized", hours=0.8
    )
    holding.answer_supplement(world.shop, world.by("FOR"), job=job, approve=True, told_by="she")
    after = seen(world, job).estimate
    assert after.middle - before.middle == pytest.approx(0.8, abs=0.15)
    assert after.cautious > before.cautious


def test_the_hours_are_worked_out_before_the_file_is_kept(
    world: World, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Another terminal writes while the sums are done."""
    learn(world, 1.4)
    other = Shop(world.shop.path)
    before = new_work.estimated
    acts: list[str] = []

    def slow(*args: Any, **more: Any) -> Any:
        done = jobs.take_small(other, world.by("T2"), text="lamp", vehicle="van")
        acts.append(done.says)
        return before(*args, **more)

    monkeypatch.setattr(agreeing, "estimated", slow)
    job = world.take("TC", "1")
    other.close()
    assert len(acts) == 1
    assert agreed(world, job)["source"].startswith("learned at ")


def test_what_changed_meanwhile_is_worked_out_again(
    world: World, monkeypatch: pytest.MonkeyPatch
) -> None:
    from store.actions import settings

    learn(world, 1.4)
    before = agreeing.worked_out

    def other_quantile(shop: Shop, *args: Any, **more: Any) -> Any:
        found = before(shop, *args, **more)
        settings.change_setting(world.shop, world.by("OWN"), name="cautious", value=0.9)
        return found

    monkeypatch.setattr(jobs, "worked_out", other_quantile)
    job = world.take("TC", None)
    assert seen(world, job).estimate.cautious == pytest.approx(
        agreed(world, job)["total"]["quantiles"][17], rel=1e-3
    )


def test_who_may_not_take_a_job_is_told_so_before_anything_of_the_work(world: World) -> None:
    def wrong() -> None:
        jobs.take(
            world.shop, By("NOBODY", "t1", world.now), operations=["none"], family="?", vehicle=""
        )

    world.refused(wrong, "Nobody here has the badge")


def test_two_routes_of_a_fork_stand_side_by_side_with_their_odds(world: World) -> None:
    found = asked(world)
    fork = next(one for one in found.forks if one.text == "Which build?")
    assert [one.code for one in fork.ways] == ["A", "B", "end"]
    assert [one.odds for one in fork.ways] == pytest.approx([0.8, 0.1, 0.1])
    planned, other, end = fork.ways
    assert planned.total == found.total
    assert len(other.more) == len(other.less) == 1
    assert end.total.middle < other.total.middle < planned.total.middle
    assert end.less
    assert asked(world, options={"build": "B"}).forks[0].ways[1].total.middle == pytest.approx(
        other.total.middle
    )


def test_a_promise_at_a_chance_comes_later_the_surer_it_is(world: World) -> None:
    learn(world, 0.6)
    free = asked(world).promise
    assert [chance for chance, _ in free] == [0.5, 0.6, 0.7, 0.8, 0.9, 0.95]
    instants = [at for _, at in free]
    assert instants == sorted(instants)
    assert instants[0] > world.now
    assert all(at.minute % 15 == 0 and at.second == 0 for at in instants)
    for lift in ("1", "2", "3"):
        world.take("TC", lift)
    world.take("TC", None)
    Turns(world.shop, ShopLearner(), lambda: world.now).keep_up()
    behind = asked(world).promise
    assert behind[0][1] > free[0][1]
