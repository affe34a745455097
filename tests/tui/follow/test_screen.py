"""The list of follow-ups by keys."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from store.file.verify import verify
from tests.store.actions.made import World, make
from tests.store.made_end import handed_over
from tests.tui.driver import Terminal, terminal
from tui.parts.where import DESK, FOLLOW


@pytest.fixture(name="world")
def world_fixture(tmp_path: Path) -> Iterator[World]:
    world = make(tmp_path)
    world.to(8)
    yield world
    world.shop.close()


def _kinds(world: World, before: int) -> list[object]:
    return [row[0] for row in world.all("select kind from ledger where seq > ?", before)]


def _flat(at: Terminal) -> str:
    return " ".join(at.text.split())


async def test_it_is_reached_from_the_desk_and_by_its_name_and_goes_back(world: World) -> None:
    handed_over(world)
    async with terminal(world.shop, world.now, first=DESK, badge="FOR") as at:
        assert "3 follow-ups in all" in await at.keys("f")
        assert "desk" in (await at.keys("Esc")).splitlines()[0]
        assert "3 follow-ups in all" in await at.keys("F9", "months after jobs", "Enter")


async def test_done_moved_and_dropped_with_what_came_of_it(world: World) -> None:
    job, before = handed_over(world), world.events()
    async with terminal(world.shop, world.now, first=FOLLOW, badge="T1") as at:
        assert f"▸ 1 Nov {job}.5" in _flat(at)
        await at.keys("d", *["backspace"] * 8, "two litres short", "Enter")
        assert "done, two litres short" in at.said
        assert f"▸ 21 Nov {job}.2" in _flat(at)
        await at.keys("m", *["backspace"] * 10, "thu", "Enter", "Enter", "rang", "Enter")
        assert "is for 2026-10-15 now" in at.said
        text = await at.keys("down", "x", "sold", "Enter")
        assert "not to be done, sold" in at.said
        assert "1 follow-up in all" in text
        assert "2 follow-ups in all" in await at.keys("u")
    assert _kinds(world, before) == [
        "follow-up-done", "follow-up-moved", "follow-up-done", "undone", "follow-up-taken-back",
    ]  # fmt: skip
    assert verify(world.shop.path).ok


async def test_a_foreman_sees_whom_to_call_and_a_technician_does_not(world: World) -> None:
    from store.actions import customers

    job = handed_over(world)
    customers.know_customer(
        world.shop, world.by("FOR"), job=job, name="Kim Invented", telephone="0123 456"
    )
    async with terminal(world.shop, world.now, first=FOLLOW, badge="FOR") as at:
        assert "Kim Invented, 0123 456" in at.text
    async with terminal(world.shop, world.now, first=FOLLOW, badge="T1") as at:
        assert "Kim" not in at.text


async def test_enter_opens_the_job_and_esc_comes_back(world: World) -> None:
    job = handed_over(world)
    async with terminal(world.shop, world.now, first=FOLLOW, badge="FOR") as at:
        assert f"{job} van" in (await at.keys("Enter")).splitlines()[0]
        assert "follow-ups" in (await at.keys("Esc")).splitlines()[0]


async def test_an_apprentice_is_refused_and_nothing_is_written(world: World) -> None:
    handed_over(world)
    before = world.events()
    async with terminal(world.shop, world.now, first=FOLLOW, badge="APP") as at:
        await at.keys("d", "Enter")
        assert "apprentice" in at.said
    assert world.events() == before


async def test_where_nothing_follows_every_key_says_so(world: World) -> None:
    async with terminal(world.shop, world.now, first=FOLLOW, badge="FOR") as at:
        for key in ("d", "m", "x", "Enter"):
            await at.keys(key)
            assert "Nothing is to follow" in at.said


@pytest.mark.parametrize("size", [(59, 19), (60, 20), (80, 24), (120, 40), (200, 50)])
async def test_every_size_is_filled_exactly(world: World, size: tuple[int, int]) -> None:
    handed_over(world)
    async with terminal(world.shop, world.now, first=FOLLOW, badge="FOR", size=size) as at:
        assert len(at.lines) == size[1]
        assert all(len(line) <= size[0] for line in at.lines)
