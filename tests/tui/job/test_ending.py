"""The end of a job on its card: filled in beforehand, counted, asked once, and read afterwards."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from store.actions import holding
from store.file.verify import verify
from tests.store.actions.made import PIN, World, make
from tests.store.made_end import all_signed, handed_over, with_kits
from tests.tui.driver import terminal
from tui.parts.where import Where


@pytest.fixture(name="world")
def world_fixture(tmp_path: Path) -> Iterator[World]:
    world = make(tmp_path)
    world.to(8)
    yield world
    world.shop.close()


def _kinds(world: World, before: int) -> list[object]:
    return [row[0] for row in world.all("select kind from ledger where seq > ?", before)]


async def test_enter_three_times_hands_over_as_is_usual(world: World) -> None:
    with_kits(world)
    job, before = all_signed(world), world.events()
    async with terminal(world.shop, world.now, first=Where("job", job), badge="FOR") as at:
        assert "odometer (Enter: not read)" in await at.keys("x")
        text = await at.keys("Enter")
        for words in ("returned to the customer", "locking set 2 of 2", "100 km gently",
                      "12 months or 20,000 km", "4 usual"):  # fmt: skip
            assert words in text, text
        assert "Count every piece" in text
        text = await at.keys("Enter")
        assert f"Enter hand over and close {job}   Esc keep it open" in text
        assert "You counted: locking set 2 of 2." in text
        assert world.events() == before
        await at.keys("Enter", PIN, "Enter")
        assert f"{job} is handed over and closed. 4 follow-ups set." in at.said
    assert _kinds(world, before) == ["handed-over", "follow-ups-set", "job-closed"]
    assert verify(world.shop.path).ok


async def test_every_line_is_filled_in_and_left_as_it_was_by_esc(world: World) -> None:
    with_kits(world)
    job = all_signed(world)
    async with terminal(world.shop, world.now, first=Where("job", job), badge="FOR") as at:
        await at.keys("x", "84200", "Enter")
        await at.keys("t", "Kim Invented", "Enter", "l", "oil 5.1 l; coolant 6 l", "Enter")
        await at.keys("p", "3", "a", "none", "Enter", "f", "folder 12", "Enter", "n")
        await at.keys("w", *["backspace"] * 2, "24", "Enter", *["backspace"] * 5, "0", "Enter")
        text = await at.keys("k", "backspace", "1", "Enter", "pin bent, on the bench", "Enter")
        for words in ("84,200 km", "Kim Invented", "oil 5.1 l; coolant 6 l", "24 months",
                      "locking set 1 of 2"):  # fmt: skip
            assert words in text, text
        await at.keys("Esc")
        text = await at.keys("x")
        assert "Kim Invented" in text, "what was filled in is there again"
        await at.keys("Enter", "Enter", PIN, "Enter")
        assert "handed over and closed. Nothing follows it." in at.said
    content = str(world.one("select content from handed_over where job = ?", job))
    for words in ('"fluids":["oil 5.1 l","coolant 6 l"]', '"kits":{"locks":1}', '"missing":"pin',
                  '"warranty_months":24', '"photographs":"folder 12"',
                  '"old_parts":"sent in for their surcharge"'):  # fmt: skip
        assert words in content, content
    assert "warranty_distance" not in content
    assert world.one("select value from odometer order by seq desc limit 1") == 84_200


async def test_a_piece_that_is_missing_wants_a_reason_and_backwards_is_refused(
    world: World,
) -> None:
    with_kits(world)
    first = all_signed(world)
    before = world.events()
    async with terminal(world.shop, world.now, first=Where("job", first), badge="FOR") as at:
        await at.keys("x", "Enter", "k", "backspace", "x", "Enter")
        assert "no whole number" in at.text
        await at.keys("backspace", "0", "Enter", "Enter", "Enter", "Enter", PIN, "Enter")
        assert "A piece is missing: 0 of locks" in at.said
    assert world.events() == before


async def test_advice_that_nobody_answered_is_said(world: World) -> None:
    job = all_signed(world, but_final=True)
    holding.find(world.shop, world.by("T2"), job=job, phase="6", kind="advice", text="discs worn")
    world.sign("OWN", job, "HX", readings={"open": 0})
    world.finish("T2", job, "6")
    async with terminal(world.shop, world.now, first=Where("job", job), badge="FOR") as at:
        text = await at.keys("x", "Enter")
        assert "Advice without an answer: discs worn. v writes the answer." in text


async def test_the_record_is_read_on_the_card_page_by_page(world: World) -> None:
    job = handed_over(world)
    async with terminal(world.shop, world.now, first=Where("job", job), badge="FOR") as at:
        text = await at.keys("i")
        assert "RECORD OF THE WORK ON YOUR VEHICLE" in text
        assert "Space page 1 of" in text
        every = text
        for _ in range(8):
            every += await at.keys(" ")
        for words in ("WHAT WAS AGREED", "MEASURED", "HAND-OVER", "WHAT FOLLOWS", "Kim Invented"):
            assert words in every
        await at.keys("q")
        assert "Space and the arrows move the page" in at.said
        assert f"{job} van" in await at.keys("Esc")


async def test_a_technician_reads_no_name_in_the_record(world: World) -> None:
    job = handed_over(world)
    async with terminal(world.shop, world.now, first=Where("job", job), badge="T1") as at:
        every = await at.keys("i")
        for _ in range(8):
            every += await at.keys(" ")
        assert "Kim" not in every
        assert "somebody for the customer" in every


async def test_before_the_work_is_begun_the_sheet_is_read(world: World) -> None:
    job = world.take("WP", None)
    async with terminal(world.shop, world.now, first=Where("job", job), badge="FOR") as at:
        text = await at.keys("i")
        assert "ESTIMATE" in text
        assert "Proposed work" in text


async def test_what_follows_a_job_is_set_done_moved_and_dropped_on_its_card(world: World) -> None:
    job = handed_over(world)
    before = world.events()
    async with terminal(world.shop, world.now, first=Where("job", job), badge="T1") as at:
        text = await at.keys("w")
        assert "something else to be done" in text
        assert "done: Wheels tightened again" in text
        await at.keys("n", "look at the hose", "Enter", "1", "tomorrow", "Enter", "500", "Enter")
        assert "To follow" in at.said
        await at.keys("w", "1", "1", "Enter")
        assert "done, all well" in at.said
        await at.keys("w", "1", "2", *["backspace"] * 10, "thu", "Enter", "Enter", "Enter")
        assert "is for 2026-10-15 now" in at.said
        await at.keys("w", "1", "3", "sold", "Enter")
        assert "not to be done, sold" in at.said
        await at.keys("u")
        assert "Taken back" in at.said
    assert _kinds(world, before) == [
        "follow-ups-set", "follow-up-done", "follow-up-moved", "follow-up-done", "undone",
        "follow-up-taken-back",
    ]  # fmt: skip
    assert verify(world.shop.path).ok


async def test_it_is_closed_alone_where_nobody_was_there(world: World) -> None:
    job, before = all_signed(world), world.events()
    async with terminal(world.shop, world.now, first=Where("job", job), badge="FOR") as at:
        text = await at.keys("x", "Enter", "c")
        assert f"Enter close {job}   Esc keep it open" in text
        await at.keys("Enter", PIN, "Enter")
        assert f"{job} is closed" in at.said
        assert "without a hand-over written down" in " ".join((await at.keys("i")).split())
    assert _kinds(world, before) == ["job-closed"]
