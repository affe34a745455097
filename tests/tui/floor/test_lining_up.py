"""The line that waits, put in order from the floor: by digits, by typing, and what is refused."""

from __future__ import annotations

from pathlib import Path

from store.actions import jobs
from store.actions.lining_up import put_in_line
from store.file.shop import Shop
from store.file.verify import verify
from store.views.floor import floor
from tests.store.actions.made import PIN as THEIR_PIN
from tests.store.made_acts import told_line_shop
from tests.tui.driver import terminal
from tests.tui.shops import PIN, Pen, kinds, last
from tui.parts.where import FLOOR


def waiting(shop: Shop, pen: Pen) -> list[str]:
    """The line as the floor has it."""
    return [one.number for one in floor(shop, pen.now).waiting]


def more(shop: Shop, pen: Pen, count: int) -> None:
    """More jobs come to wait."""
    for n in range(count):
        jobs.take(
            shop, pen.by(), operations=["CL"], family="B4-M-F", vehicle=f"van {n}", mass_kg=2000
        )


async def test_two_digits_put_a_job_elsewhere_and_one_key_puts_it_back(
    shop: Shop, pen: Pen
) -> None:
    more(shop, pen, 2)
    assert waiting(shop, pen) == ["1003", "1004", "1005"]
    before = last(shop)
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        text = await at.keys("i")
        assert "the line: which job comes in earlier or later?" in text
        text = await at.keys("3")
        assert "1005 van 1: comes in" in text
        assert "0  last" not in text, "it is that already"
        await at.keys("1", PIN, "Enter")
        assert "1005 comes in before 1003. The line: 1005, 1003, 1004." in at.said
        assert waiting(shop, pen) == ["1005", "1003", "1004"]
        text = await at.keys("i", "1")
        assert "1  before 1004" in text, "where it stands now is no answer"
        await at.keys("0")
        assert waiting(shop, pen) == ["1003", "1004", "1005"]
        await at.keys("u")
        assert "Taken back: 1005 comes in last" in at.said
    assert kinds(shop, before) == [
        "line-ordered", "line-ordered", "undone", "line-order-taken-back",
    ]  # fmt: skip
    assert verify(shop.path).ok


async def test_with_many_that_wait_one_types(shop: Shop, pen: Pen) -> None:
    more(shop, pen, 12)
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        await at.keys("i", *"van 11", "Enter")
        assert "comes in" in at.text
        await at.keys(*"1003", "Enter", PIN, "Enter")
        assert "1015 comes in before 1003" in at.said
        await at.keys("i", *"1015", "Enter", *"last", "Enter")
        assert "1015 comes in last" in at.said


async def test_there_is_no_order_of_one_or_none(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        await at.keys("i")
        assert "Only 1003 waits to come in" in at.said
    assert last(shop) == before


async def test_a_technician_is_told_who_may(shop: Shop, pen: Pen) -> None:
    more(shop, pen, 1)
    before = last(shop)
    async with terminal(shop, pen.now, first=FLOOR, badge="B13") as at:
        await at.keys("i", "2", "1")
        assert "it takes the foreman or owner" in at.said
    assert last(shop) == before


async def test_what_another_foreman_did_a_second_ago_is_not_overrun(shop: Shop, pen: Pen) -> None:
    more(shop, pen, 2)
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        await at.keys("i", "3")
        put_in_line(shop, pen.by("OWN"), job="1004", before="1003")
        before = last(shop)
        await at.keys("1", PIN, "Enter")
        assert "Olga put 1004 before 1003 in the line" in at.said
        assert "Look again" in at.said
    assert last(shop) == before


async def test_what_helps_most_is_tried_and_then_done(tmp_path: Path) -> None:
    world = told_line_shop(tmp_path)
    before = world.tables()
    async with terminal(world.shop, world.now, first=FLOOR, badge="FOR") as at:
        assert "1005 comes in before 1004" in at.text
        text = await at.keys("t")
        assert "TRYING" in text
        there = text[text.rindex(" waiting ") :]
        assert there.index("1005") < there.index("1004"), "the line as if it were done"
        assert world.tables() == before
        await at.keys("Enter", THEIR_PIN, "Enter")
        assert "The line: 1005, 1004." in at.said
    assert verify(world.shop.path).ok
    world.shop.close()
