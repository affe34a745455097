"""Work is given and put in order by keys: each act, its refusal, and what is written down."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from store.actions import jobs, people
from store.actions.assigning import assign
from store.file.shop import Shop
from store.file.verify import verify
from store.views.assigned import assigned, list_of
from tests.tui.driver import Terminal, terminal
from tests.tui.shops import PIN, Pen, kinds, last, worked_on
from tui.parts.where import BAY, FLOOR


@pytest.fixture(name="pen")
def pen_fixture() -> Pen:
    return Pen()


@pytest.fixture(name="shop")
def shop_fixture(tmp_path: Path, pen: Pen) -> Iterator[Shop]:
    shop = worked_on(tmp_path / "made.shop", pen)
    yield shop
    assert verify(shop.path).ok
    shop.close()


def mine(shop: Shop, pen: Pen, badge: str) -> list[str]:
    """A person's list."""
    return [one.where for one in list_of(assigned(shop, pen.now), badge).works]


def given(shop: Shop, pen: Pen, badge: str, *works: str) -> None:
    """Lists as the foreman made them before."""
    for work in works:
        job, _, phase = work.partition(".")
        assign(shop, pen.by("F01"), job=job, phase=phase or None, badge=badge, all_the_same=True)


def digit_of(text: str, words: str) -> str:
    """The key of an answer."""
    found = re.search(rf" (\w)  +{re.escape(words)}", text)
    assert found, text
    return found[1]


async def to_line(at: Terminal, words: str) -> None:
    """Go to a line of the page: to the top, then down."""
    await at.keys("page up", "page up")
    for _ in range(30):
        here = next((line for line in at.lines if line.startswith(" ▸ ")), "")
        if words in here:
            return
        await at.keys("down")
    raise AssertionError(at.text)


async def test_the_floor_gives_the_next_phase_in_three_keys(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        text = await at.keys("2", "g")
        assert "1002 estate, grey: which work is given?" in text
        assert digit_of(text, "1002.1  reception") == "1"
        assert digit_of(text, "the whole job") == "0"
        text = await at.keys("Enter")
        assert "1002.1 reception: who does it?" in text
        assert "Ines on 1001.1 for 0:00, nothing next" in " ".join(text.split())
        await at.keys(digit_of(text, "Tomas"), PIN, "Enter")
        assert "1002.1 reception is on Tomas's list, next." in at.said
        assert "TO next" in at.text, "beside the lane"
        text = await at.keys("g")
        assert "Tomas has it" in text
        await at.keys("Esc")
        assert "Taken back: 1002.1 given to Tomas" in " ".join((await at.keys("u")).split())
        assert "TO next" not in at.text
    assert kinds(shop, before) == ["assigned", "undone", "assigned-taken-back"]


async def test_what_somebody_has_goes_to_another_or_to_both_or_to_nobody(
    shop: Shop, pen: Pen
) -> None:
    given(shop, pen, "B13", "1002.1")
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        text = await at.keys("2", "g", "1")
        text = await at.keys(digit_of(text, "Ines"))
        assert "1002.1 reception is on Tomas's list" in text
        assert digit_of(text, "Ines instead of Tomas") == "1"
        await at.keys(digit_of(text, "Ines too, beside Tomas"), PIN, "Enter")
        assert (mine(shop, pen, "B12"), mine(shop, pen, "B13")) == (["1002.1"], ["1002.1"])
        text = await at.keys("g", "1")
        await at.keys(digit_of(text, "nobody any more"))
        assert "1002.1 reception is off Tomas and Ines's list." in at.said
    assert (mine(shop, pen, "B12"), mine(shop, pen, "B13")) == ([], [])


async def test_what_speaks_against_it_is_asked_once_and_esc_leaves_it(shop: Shop, pen: Pen) -> None:
    people.set_absence(
        shop, pen.by("F01"), badge="B13", since=pen.now - timedelta(hours=1),
        until=pen.now + timedelta(hours=30), why="ill",
    )  # fmt: skip
    before = last(shop)
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        text = await at.keys("2", "g", "1")
        assert "away till Thu 13:4" in text
        tomas = digit_of(text, "Tomas")
        text = await at.keys(tomas, PIN, "Enter")
        flat = " ".join(text.split())
        assert "1002.1: give it all the same?" in flat
        assert "Tomas is away from" in flat
        assert "(ill)" in flat
        await at.keys("Esc")
        assert kinds(shop, before) == []
        await at.keys("g", "1", tomas, "Enter")
        assert "1002.1 reception is on Tomas's list" in " ".join(at.text.split()), "no PIN twice"
    assert mine(shop, pen, "B13") == ["1002.1"]


async def test_a_refusal_is_one_line_and_the_floor_stays(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        text = await at.keys("2", "g", "0")
        await at.keys(digit_of(text, "Per"), PIN, "Enter")
        assert at.said.startswith("! Per is an apprentice and cannot be alone on 1002")
        await at.keys("3", "g")
        assert "No job on lift 3. c calls one in." in at.said
    assert kinds(shop, before) == []


async def test_a_list_is_put_in_order_with_arrows(shop: Shop, pen: Pen) -> None:
    given(shop, pen, "B12", "1001.2", "1002.1", "1003.1")
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        text = await at.keys("k")
        assert "who does what next" in text
        await to_line(at, "1003.1")
        await at.keys("left", PIN, "Enter")
        assert mine(shop, pen, "B12") == ["1001.2", "1003.1", "1002.1"]
        assert "Ines's list: 1001.2, 1003.1, 1002.1." in at.said
        assert "1003.1" in next(line for line in at.lines if line.startswith(" ▸ "))
        await at.keys("left")
        await at.keys("left")
        assert "1003.1 is the first line of Ines's list already." in at.said
        await at.keys("right", "right", "right")
        assert "1003.1 is the last line of Ines's list already." in at.said
        await at.keys("f")
        assert mine(shop, pen, "B12") == ["1003.1", "1001.2", "1002.1"]
        await at.keys("u")
        assert mine(shop, pen, "B12") == ["1001.2", "1002.1", "1003.1"]
        await at.keys("x")
        assert mine(shop, pen, "B12") == ["1001.2", "1002.1"]
        assert "off Ines's list" in at.said
        await at.keys("Esc")
        assert "wants somebody" in at.text


async def test_from_the_page_work_is_given_to_whoever_has_nothing(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        await at.keys("k", "down")
        assert "nothing next" in next(line for line in at.lines if line.startswith(" ▸ "))
        text = await at.keys("Enter")
        assert "Tomas: which work that is nobody's?" in text
        await at.keys(digit_of(text, "1002.1  reception"), PIN, "Enter")
        assert mine(shop, pen, "B13") == ["1002.1"]
        await to_line(at, "1003.1")
        text = await at.keys("x")
        assert "This is on nobody's list. Enter gives it to somebody." in at.said
        text = await at.keys("Enter")
        await at.keys(digit_of(text, "Ines"))
        assert mine(shop, pen, "B12") == ["1003.1"]
        assert "nobody's, could go on now" not in at.text


async def test_whoever_looked_before_another_foreman_decided_is_told(shop: Shop, pen: Pen) -> None:
    given(shop, pen, "B12", "1002.1")
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        await at.keys("k")
        await to_line(at, "1002.1")
        text = await at.keys("Enter")
        given(shop, pen, "B14", "1002.1")
        await at.keys(digit_of(text, "Tomas"), "1", PIN, "Enter")
        assert "! 1002.1 reception is on Per's list, given by Ruth" in at.said
        assert "Look again." in " ".join(at.text.split())
        assert mine(shop, pen, "B14") == ["1002.1"]
        assert "Per" in at.text


async def test_a_technician_takes_on_what_is_nobodys_and_puts_it_back(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=FLOOR, badge="B13") as at:
        await at.keys("k")
        await to_line(at, "1002.1")
        await at.keys("Enter")
        assert "1002.1 reception is on Tomas's list, next." in at.said, "no PIN, nobody asked"
        await to_line(at, "1003.1")
        await at.keys("Enter")
        assert mine(shop, pen, "B13") == ["1002.1", "1003.1"]
        await to_line(at, "1003.1")
        await at.keys("left")
        assert "! Tomas may not do this: it takes the foreman or owner." in at.said
        await at.keys("x")
        assert mine(shop, pen, "B13") == ["1002.1"]
    assert kinds(shop, before) == ["assigned", "assigned", "assigned"]


async def test_the_bay_shows_it_and_starts_it_with_one_key(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=BAY, badge="B13", lift="1") as at:
        assert "1001.1  reception" in at.text
        given(shop, pen, "B13", "1003.1", "1002.1")
        at.hands.now = pen.now
        text = await at.look_again()
        assert "1 starts, yours next" in text
        assert "1003.1  reception" in text
        text = await at.keys("1")
        assert "CLOCK RUNS" in text
        assert "1003.1  reception" in text
        assert "over: 1002.1 next" in text
        text = await at.keys("2")
        assert "over to (1 is yours)" in text
        await at.keys("1")
        assert "1002.1  reception" in at.text
    assert kinds(shop)[-3:] == ["clocked-on", "clocked-off", "clocked-on"]


async def test_of_many_people_one_is_found_by_typing(shop: Shop, pen: Pen) -> None:
    for n in range(8):
        people.add_person(
            shop, pen.by(), badge=f"N{n}", name=f"Nils {n}", role="technician",
            from_day=pen.now.date(),
        )  # fmt: skip
    for n in range(9):
        jobs.take_small(shop, pen.by(), text=f"lamp {n}", vehicle="estate")
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        assert "1002.1 reception: who does it?" in await at.keys("2", "g", "1")
        await at.keys("nil 5", "Enter", PIN, "Enter")
        assert mine(shop, pen, "N5") == ["1002.1"]
        await at.keys("k")
        await to_line(at, "nothing next")
        text = await at.keys("Enter")
        assert "Ines: which work that is nobody's?" in text
        await at.keys("lam 7", "Enter")
        assert len(mine(shop, pen, "B12")) == 1
