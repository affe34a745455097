"""Steps that an answer takes away or brings: numbers never change and are never used again."""

from __future__ import annotations

from store.actions import clock
from store.actions.undo import taking_back as undo
from store.file.route_now import steps_of
from store.file.verify import verify
from tests.store.actions.made import World


def _numbers(w: World, job: str) -> dict[str, str]:
    """Text and number of the steps of the phase whose decision asks for the build."""
    with w.shop.reading() as db:
        return {one.spec.text: one.step for one in steps_of(db, job) if one.phase == "3"}


def _before_the_answer(w: World) -> str:
    w.to(8)
    job = w.take()
    w.do("T2", job, "1")
    w.on("T2", job, "2")
    w.sign("T2", job, "HL", readings={"gross": 2000})
    w.sign("T2", job, "GB-off:1")
    clock.clock_over(w.shop, w.by("T2"), job=job, phase="3")
    w.sign("T2", job, "B1:1")
    return job


def test_a_step_that_joins_takes_no_number_of_one_that_falls_away(world: World) -> None:
    job = _before_the_answer(world)
    assert _numbers(world, job)["Sprocket marked"] == "3"
    world.sign("T2", job, "BU", answer="B")
    after = _numbers(world, job)
    assert "Sprocket marked" not in after
    assert after["Seat measured"] == "4"
    assert verify(world.shop.path).ok


def test_a_step_comes_back_under_its_own_number(world: World) -> None:
    job = _before_the_answer(world)
    before = _numbers(world, job)
    world.sign("T2", job, "BU", answer="B")
    undo.undo(world.shop, world.by("T2"))
    assert _numbers(world, job) == before
    world.sign("T2", job, "BU", answer="B")
    assert _numbers(world, job)["Seat measured"] == "4"
    assert verify(world.shop.path).ok
