"""A floor on a wall: no keys, large, pages that turn by themselves; time stands still here."""

from __future__ import annotations

import pytest

from store.actions import holding, places
from store.file.shop import Shop
from tests.tui.driver import terminal
from tests.tui.made_floor import calm_floor, floor, full_house, many_lifts
from tests.tui.shops import Pen
from tui.floor.paint import floor_canvas
from tui.floor.plan import LOUD_PAGE_S, PAGE_S, plan, stays_s
from tui.floor.screen import FloorScreen
from tui.floor.state import FloorState
from tui.parts.where import FLOOR
from tui.signs import ASCII, UNICODE

WALL = FloorState(wall=True)
SIZES = [(80, 24), (120, 40), (200, 50)]


@pytest.mark.parametrize("size", SIZES)
def test_a_wall_names_no_key_and_presses_none_of_the_last_row(size: tuple[int, int]) -> None:
    text = "\n".join(floor_canvas(floor(), size, UNICODE, WALL).text())
    assert "F1" not in text
    assert "c calls" not in text
    assert "2436 can come in" in text
    many = "\n".join(floor_canvas(full_house(), size, UNICODE, WALL).text())
    assert "more" in many
    assert "n goes through them" not in many


def test_words_that_want_somebody_are_fields_of_two_rows_and_bands_are_thick() -> None:
    canvas = floor_canvas(floor(), (120, 40), UNICODE, WALL)
    row = next(n for n, line in enumerate(canvas.text()) if " ? ANSWER" in line and n > 5)
    filled = [[x for x, ink in enumerate(canvas.inks[y][:36]) if ink.loud] for y in (row, row + 1)]
    assert filled[0] == filled[1]
    assert len(filled[0]) > 20
    assert plan(floor(), (120, 40), WALL).thick == 2
    assert plan(floor(), (200, 50), WALL).scale == 2


@pytest.mark.parametrize("size", SIZES[1:])
def test_the_time_and_the_lifts_stand_in_tall_figures(size: tuple[int, int]) -> None:
    rows = floor_canvas(floor(), size, UNICODE, WALL).text()
    assert all(row.rstrip()[-1] in "█▀▄" for row in rows[:3])
    plain = "\n".join(floor_canvas(floor(), size, ASCII, WALL).text())
    assert plain.isascii()


@pytest.mark.parametrize("size", SIZES)
def test_every_lift_is_on_some_page_and_pages_are_as_few_as_need_be(size: tuple[int, int]) -> None:
    many = many_lifts(24)
    pages = plan(many, size, WALL).pages
    shown = [
        lane.lift
        for page in range(pages)
        for lane in plan(many, size, FloorState(wall=True, page=page)).shown
    ]
    assert shown == [lane.lift for lane in many.lanes]
    assert plan(floor(), size, WALL).pages == 1


def test_a_page_with_a_loud_lane_stays_twice_as_long() -> None:
    busy, calm = floor(), calm_floor()
    assert stays_s(busy.lanes[:2], busy.wants) == LOUD_PAGE_S == 24.0
    assert stays_s(busy.lanes[:1], busy.wants) == PAGE_S == 12.0
    assert stays_s(calm.lanes, calm.wants) == PAGE_S


async def test_pages_turn_in_their_order_and_wait_for_the_loud_one(shop: Shop, pen: Pen) -> None:
    for code in range(4, 16):
        places.add_place(
            shop, pen.by(), code=str(code), kind="lift", lift_kind="two-post", rated_kg=3500
        )
    holding.hold(shop, pen.by("B13"), job="1002", phase=None, reason="parts")
    async with terminal(shop, pen.now, first=FLOOR, wall=True) as at:
        screen = at.screen
        assert isinstance(screen, FloorScreen)
        assert "lifts 1 to" in at.text
        stays, tops = [screen.stays_s()], [at.text]
        while True:
            screen.turn_page()
            await at.settle()
            if at.text == tops[0]:
                break
            stays.append(screen.stays_s())
            tops.append(at.text)
        assert len(tops) == 2
        assert stays == [LOUD_PAGE_S, PAGE_S]
        await at.pilot.click(offset=(5, 5))
        await at.settle()
        assert "▸" not in at.lines[4][:2]
