"""A lift is cleared in one act, or refused in one line and nothing is half-done."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from pathlib import Path

import pytest

from store.actions import clock, holding, places, steps
from store.actions.acting import Done
from store.actions.clearing import clear
from store.actions.trouble import NoSuch
from store.actions.undo import taking_back as undo
from store.file.change import By
from store.file.shop import Shop
from store.file.verify import verify
from store.trouble import Trouble
from tests.store.actions.made import World, make


@pytest.fixture(name="world")
def world_fixture(tmp_path: Path) -> Iterator[World]:
    made = make(tmp_path)
    made.to(8, 0)
    yield made
    assert verify(made.shop.path).ok
    made.shop.close()


def held(world: World, lift: str = "1") -> str:
    """A job that drives and waits for parts."""
    job = world.take("WP", lift)
    holding.hold(world.shop, world.by("FOR"), job=job, phase=None, reason="parts")
    return job


def where(world: World, job: str) -> object:
    """Code of the place where its body is."""
    return world.one(
        "select code from job_place join place using (place) where job = ? and part = 'body'", job
    )


def test_it_goes_to_the_first_yard_or_where_one_says(world: World) -> None:
    job = held(world)
    done = clear(world.shop, world.by("FOR"), lift="1")
    assert done.says == f"Lift 1 is clear: {job} is at Y now."
    assert (done.job, where(world, job)) == (job, "Y")
    assert world.one("select state from job where job = ?", job) == "off-lift"
    undo.undo(world.shop, world.by("FOR"))
    assert where(world, job) == "1"
    places.add_place(world.shop, world.by("OWN"), code="Z", kind="yard")
    clear(world.shop, world.by("FOR"), lift="1", place="Z")
    assert where(world, job) == "Z"


def test_to_another_lift_that_carries_it_and_to_none_that_is_weak_or_taken(world: World) -> None:
    heavy = world.take("WP", "1", mass=3500)
    holding.hold(world.shop, world.by("FOR"), job=heavy, phase=None, reason="parts")
    other = world.take("WP", "2")

    def to(place: str) -> Done:
        return clear(world.shop, world.by("FOR"), lift="1", place=place)

    world.refused(lambda: to("3"), "3,500 kg", "3,000 kg")
    world.refused(lambda: to("2"), f"Lift 2 is taken by {other}")
    world.refused(lambda: to("BE"), "Bench BE is too weak for a vehicle")
    world.refused(lambda: to("ST"), "Stand ST is too weak for a vehicle")
    world.refused(lambda: to("1"), "is on lift 1 already")
    world.refused(lambda: to("X"), "There are: ", kind=NoSuch)
    assert where(world, heavy) == "1"


def test_a_vehicle_goes_on_no_bench_by_a_plain_move_either(world: World) -> None:
    job = held(world)
    world.refused(
        lambda: places.move(world.shop, world.by("FOR"), job=job, place="ST", lift=False),
        "too weak for a vehicle",
    )


def test_a_lift_that_is_free_or_is_none_is_refused(world: World) -> None:
    world.refused(lambda: clear(world.shop, world.by("FOR"), lift="2"), "Lift 2 is free")
    world.refused(lambda: clear(world.shop, world.by("FOR"), lift="7"), "1, 2, 3", kind=NoSuch)
    world.refused(lambda: clear(world.shop, world.by("FOR"), lift="Y"), "1, 2, 3", kind=NoSuch)


def test_what_goes_on_stays(world: World) -> None:
    job = world.take("WP", "1")
    world.refused(lambda: clear(world.shop, world.by("FOR"), lift="1"), job, "can go on there")
    world.on("T1", job, "1")
    world.refused(lambda: clear(world.shop, world.by("FOR"), lift="1"), f"at work on {job}.1")


def test_what_another_terminal_released_a_second_ago_stays(world: World) -> None:
    job = held(world)
    other = Shop(world.shop.path)
    other.proven = dict(world.shop.proven)
    holding.release(other, world.by("T1"), job=job)
    other.close()
    world.refused(lambda: clear(world.shop, world.by("FOR"), lift="1"), job, "can go on there")


def test_what_sits_fixed_stays(world: World) -> None:
    job = world.take("TC", "1")
    world.do("T1", job, "1")
    world.sign("T1", job, "HL", readings={"gross": 1980.0})
    world.on("T1", job, "2")
    clock.clock_off(world.shop, world.by("T1"))
    holding.hold(world.shop, world.by("FOR"), job=job, phase=None, reason="parts")
    says = world.refused(lambda: clear(world.shop, world.by("FOR"), lift="1"), job)
    assert "sits fixed since gearbox off" in says


def test_an_open_condition_forbids_it(world: World) -> None:
    job = world.take("WP", "1")
    world.do("T1", job, "1")
    world.on("T1", job, "2")
    world.sign("T1", job, "HL", readings={"gross": 1980.0})
    off = next(
        step
        for step in world.all("select step from step where job = ? and phase = '2'", job)
        if step != (world.step(job, "HL").step,)
    )[0]
    steps.sign(world.shop, world.by("T1"), job=job, phase="2", step=str(off))
    clock.clock_off(world.shop, world.by("T1"))
    holding.hold(world.shop, world.by("FOR"), job=job, phase=None, reason="parts")
    world.refused(lambda: clear(world.shop, world.by("FOR"), lift="1"), "wheels not tightened")


def test_of_eight_terminals_one_clears_it(world: World) -> None:
    job = held(world)
    start, outcome = threading.Barrier(8), list[Done | Trouble]()
    before = world.events()

    def terminal(by: By) -> None:
        shop = Shop(world.shop.path)
        shop.proven = dict(world.shop.proven)
        try:
            start.wait()
            outcome.append(clear(shop, by, lift="1"))
        except Trouble as trouble:
            outcome.append(trouble)
        finally:
            shop.close()

    threads = [threading.Thread(target=terminal, args=[world.by("FOR")]) for _ in range(8)]
    for one in threads:
        one.start()
    for one in threads:
        one.join()
    done = [one for one in outcome if isinstance(one, Done)]
    assert len(outcome) == 8
    assert len(done) == 1
    assert all("Lift 1 is free" in str(one) for one in outcome if isinstance(one, Trouble))
    assert world.events() == before + 1
    assert where(world, job) == "Y"
