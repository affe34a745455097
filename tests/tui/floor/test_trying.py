"""Try it: the floor as if an act were done. Nothing is written, whatever is looked at."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from rich.cells import cell_len

from store.file.shop import Shop
from store.file.verify import verify
from store.views.helps import helps
from tests.store.actions.made import PIN, World
from tests.store.made_acts import idle_shop, learner, stuck_shop, type_in
from tests.tui.driver import Terminal, terminal
from tests.tui.made_floor import floor
from tests.tui.made_needs import HELPS, LINES
from tests.tui.made_trying import after, before
from tui.floor.paint import floor_canvas
from tui.floor.state import FloorState, Trying
from tui.parts.where import FLOOR
from tui.signs import ASCII, UNICODE, Signs

Making = Callable[[Path], World]
STATE = FloorState(who="Ruth, foreman", cursor="2", trying=Trying(LINES[0], before(), HELPS))
SIZES = [(60, 20), (80, 24), (112, 30), (120, 40), (200, 50)]


def bytes_of(shop: Shop) -> dict[str, bytes]:
    """Every byte of the shop's files; the index of the log, which readers mark, left out."""
    here = shop.path.parent.glob(f"{shop.path.name}*")
    return {one.name: one.read_bytes() for one in here if not one.name.endswith("-shm")}


def learned(making: Making, folder: Path) -> World:
    """A shop in which it is known what helps."""
    world = making(folder)
    learner(world).keep_up()
    return world


async def look_about(at: Terminal, many: int) -> None:
    """Try everything there is to try, and forget it."""
    await at.keys("t")
    assert "TRYING" in at.lines[1]
    assert "Nothing is written." in at.lines[1]
    for nth in range(1, many + 1):
        await at.keys(str(nth))
        assert "TRYING" in at.lines[1]
    await at.keys("n", "x")
    assert "Enter does it" in at.said
    await at.keys("Esc")
    assert "TRYING" not in at.text


@pytest.mark.parametrize("making", [stuck_shop, idle_shop])
async def test_the_file_is_the_same_byte_for_byte_after_it(making: Making, tmp_path: Path) -> None:
    world = learned(making, tmp_path)
    many = sum(one.told for one in helps(world.shop, world.now, every=True).lines)
    tables = world.tables()
    async with terminal(world.shop, world.now, first=FLOOR, badge="FOR") as at:
        first, whole = at.text, bytes_of(world.shop)
        await look_about(at, min(9, many))
        assert at.text == first
        assert bytes_of(world.shop) == whole
    assert world.tables() == tables
    assert verify(world.shop.path).ok
    world.shop.close()


async def test_enter_does_what_is_tried_and_it_helps_no_more(tmp_path: Path) -> None:
    world = learned(stuck_shop, tmp_path)
    act = helps(world.shop, world.now).lines[0].need.act
    async with terminal(world.shop, world.now, first=FLOOR, badge="FOR") as at:
        await at.keys("t", "Enter")
        assert "TRYING" not in at.text
        answers = {
            "answer": ("1",), "release": ("1",), "let stand": ("3", "seen, harmless", "Enter"),
        }  # fmt: skip
        await at.keys(*answers.get(act.kind, ()))
        if at.screen.prompt is not None and "PIN" in at.text:
            await at.keys(PIN, "Enter")
        while at.screen.prompt is not None:
            await at.keys("Esc")
    left = {one.need.act.name for one in helps(world.shop, world.now, every=True).lines}
    assert act.name not in left
    assert verify(world.shop.path).ok
    world.shop.close()


async def test_what_another_terminal_did_meanwhile_is_no_longer_tried(tmp_path: Path) -> None:
    world = learned(idle_shop, tmp_path)
    lines = [one for one in helps(world.shop, world.now, every=True).lines if one.told]
    async with terminal(world.shop, world.now, first=FLOOR, badge="FOR") as at:
        await at.keys("t")
        assert type_in(world, *lines[1].need.act.command)
        await at.keys("2")
        assert at.said.startswith("! That is done already, or not open any more.")
        assert "TRYING" not in at.text
    world.shop.close()


async def test_before_anything_was_reckoned_one_line_says_so(tmp_path: Path) -> None:
    world = stuck_shop(tmp_path)
    async with terminal(world.shop, world.now, first=FLOOR, badge="FOR") as at:
        await at.keys("t")
        assert at.said.startswith("! What helps most is not reckoned yet")
    world.shop.close()


@pytest.mark.parametrize("signs", [UNICODE, ASCII])
@pytest.mark.parametrize("size", SIZES)
def test_the_floor_that_is_not_has_exactly_its_size(size: tuple[int, int], signs: Signs) -> None:
    rows = floor_canvas(after(), size, signs, STATE).text()
    assert len(rows) == size[1]
    assert {cell_len(row) for row in rows} == {size[0]}
    assert rows[1].startswith("  TRYING   lift 2, 2409.3: the custo")


@pytest.mark.parametrize("size", [(120, 40), (200, 50)])
def test_captions_say_before_and_after_and_lift_time_is_marked(size: tuple[int, int]) -> None:
    rows = floor_canvas(after(), size, UNICODE, STATE).text()
    assert any("› doubtful 3 in 10" in row for row in rows[5:])
    assert any(UNICODE.won in row for row in rows[5:])
    as_it_is = floor_canvas(floor(), size, UNICODE, FloorState()).text()
    assert not any(UNICODE.won in row for row in as_it_is)


def test_a_job_of_which_nothing_moves_looks_as_it_did() -> None:
    rows = floor_canvas(after(), (120, 40), UNICODE, STATE).text()
    as_it_is = floor_canvas(before(), (120, 40), UNICODE, FloorState(cursor="2")).text()
    assert "2417" in rows[5]
    assert rows[5:9] == as_it_is[5:9]
