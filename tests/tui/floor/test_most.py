"""HELPS MOST on top of the floor: told before and after, with its age, and silent otherwise."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from rich.cells import cell_len

from store.views.needs_values import Helps, NextFree
from tests.store.made_acts import idle_shop, learner, stuck_shop, type_in
from tests.tui.driver import terminal
from tests.tui.made import NOW, on
from tests.tui.made_floor import calm_floor, floor
from tests.tui.made_needs import HELPS
from tui.floor.paint import floor_canvas
from tui.floor.state import FloorState
from tui.parts.where import FLOOR
from tui.signs import ASCII, UNICODE, Signs

STATE = FloorState(who="Ruth, foreman")
SIZES = [(60, 20), (80, 24), (112, 30), (120, 40), (200, 50)]


def top(found: Helps | None, size: tuple[int, int], signs: Signs = UNICODE) -> list[str]:
    """The two rows under the header."""
    return floor_canvas(replace(floor(), helps=found), size, signs, STATE).text()[1:3]


@pytest.mark.parametrize("size", SIZES[1:])
def test_the_best_act_and_what_it_moves_stand_on_top(size: tuple[int, int]) -> None:
    first, second = top(HELPS, size)
    assert first.startswith("  HELPS MOST   lift 2, 2409.3: the customer's word on the broken stud")
    assert "2409 will break › doubtful 3 in 10" in second
    assert ("lift 2 out Fri 14:25 › Fri 08:40" in second) == (size[0] >= 120)


@pytest.mark.parametrize("signs", [UNICODE, ASCII])
@pytest.mark.parametrize("size", SIZES)
def test_it_has_exactly_its_width_and_names_no_sign_that_is_not_of_the_set(
    size: tuple[int, int], signs: Signs
) -> None:
    rows = top(HELPS, size, signs)
    assert {cell_len(row) for row in rows} == {size[0]}
    assert not signs.ascii or all(row.isascii() for row in rows)


def test_an_answer_older_than_the_ledger_says_its_age() -> None:
    old = replace(HELPS, made_at=NOW - timedelta(minutes=9), behind=2)
    assert top(old, (120, 40))[1].rstrip().endswith("as of Wed 10:31, 2 entries since")
    assert "as of" not in top(HELPS, (120, 40))[1]


def test_where_nothing_is_worth_a_line_or_was_never_found_the_first_want_stands() -> None:
    plain = top(None, (120, 40))
    assert "ANSWER" in plain[0]
    assert top(replace(HELPS, lines=()), (120, 40)) == plain


def test_a_calm_floor_says_which_lift_is_free_next() -> None:
    comes = replace(HELPS, lines=(), comes=NextFree("1", "2417", on("Wed 13:25")))
    calm = calm_floor()
    lanes = tuple(one for one in calm.lanes if one.job is not None)
    busy = replace(calm, helps=comes, lanes=lanes, tools_due=())
    row = floor_canvas(busy, (120, 40), UNICODE, STATE).text()[1]
    assert row.strip() == "Nothing needs anybody.  Next: lift 1 is free about Wed 13:25 (2417)."


async def test_it_is_read_from_the_shop_and_goes_when_it_is_done(tmp_path: Path) -> None:
    world = stuck_shop(tmp_path)
    async with terminal(world.shop, world.now, first=FLOOR, badge="FOR") as at:
        assert "HELPS MOST" not in at.text
        assert "ANSWER" in at.lines[1]
        learner(world).keep_up()
        assert "HELPS MOST" in (await at.look_again())
        first = at.lines[1]
        assert type_in(world, "supplement", "approve", "1003", "--as", "FOR")
        await at.look_again()
        assert at.lines[1] != first
    world.shop.close()


async def test_the_second_row_says_whom_it_frees(tmp_path: Path) -> None:
    world = idle_shop(tmp_path)
    learner(world).keep_up()
    async with terminal(world.shop, world.now, first=FLOOR, badge="FOR", size=(120, 40)) as at:
        assert "HELPS MOST" in at.lines[1]
        assert " › " in at.lines[2] or "won: " in at.lines[2]
    world.shop.close()
