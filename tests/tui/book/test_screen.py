"""The work book by keys: looked through, changed one thing at a time, asked once before it is."""

from __future__ import annotations

from collections.abc import Generator
from datetime import timedelta
from pathlib import Path

import pytest

from store.actions import books
from store.actions.founding import LiftPlan, ShopPlan, found_shop
from store.edges.events.shop import WeekSpan
from store.edges.workbook.edit import Hours, set_hours
from store.file.pins import make_secret
from store.file.shop import Shop
from store.file.verify import verify
from store.views.book import book_now
from tests.tui.driver import Terminal, terminal
from tests.tui.shops import PIN, Pen, founded, kinds, last
from tui.colours import Paint
from tui.parts.where import BAY, FLOOR
from tui.signs import ASCII


@pytest.fixture(name="pen")
def pen_fixture() -> Pen:
    return Pen()


@pytest.fixture(name="shop")
def shop_fixture(tmp_path: Path, pen: Pen) -> Generator[Shop]:
    shop = founded(tmp_path / "made.shop", pen)
    yield shop
    shop.close()


def flat(text: str) -> str:
    """A screen as one line of words."""
    return " ".join(text.split())


async def to(at: Terminal, words: str) -> str:
    """Go down to the line with these words."""
    for _ in range(80):
        line = next(line for line in at.lines if line.startswith((" ▸", " >")))
        if words in line:
            return line
        await at.keys("down")
    raise AssertionError(f"no line {words}:\n{at.text}")


async def test_operations_stand_with_their_hours_and_what_they_took(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=FLOOR, badge="OWN") as at:
        text = await at.keys("b")
        assert "10 operations" in text
        assert "CL    clutch and flywheel" in text
        line = next(one for one in at.lines if "clutch and flywheel" in one)
        assert line.split()[-2:] == ["9.9", "none"], "the book's hours are those of the trade"
        text = await at.keys("Enter")
        assert "CL3" in text
        assert "0.6     0.9     1.4" in text
        await at.keys("page down")
        assert "how often" in at.text or "always renewed" in at.text
        text = await at.keys("Esc")
        assert "10 operations" in text
        await at.keys("Esc")
        assert "lift" in at.text or "waiting" in at.text


async def test_hours_are_shown_before_they_are_written_and_asked_once(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=FLOOR, badge="OWN") as at:
        await at.keys("b", "Enter")
        await to(at, "CL3")
        text = await at.keys("h")
        assert "Now 0.6, 0.9, 1.4." in flat(text)
        text = await at.keys("x", "Enter")
        assert "is no hours" in flat(text)
        text = await at.keys("backspace", "1.1", "Enter")
        assert "CL3 Clutch and release parts 0.9 h › 1.1 h" in flat(text)
        await at.keys("Esc")
        assert last(shop) == before, "left as it is"
        await at.keys("h", *["backspace"] * 3, "1.1", "Enter", "Enter", PIN, "Enter")
        assert "Work book 2 loaded" in at.said
        line = next(one for one in at.lines if "CL3 " in one)
        assert "1.1" in line
    assert kinds(shop, before) == ["book-loaded"]
    assert verify(shop.path).ok
    assert "# ---- RS: rear main seal ----" in book_now(shop, pen.now).source


async def test_hours_of_a_family_stand_below_the_phases_and_change_alone(
    shop: Shop, pen: Pen
) -> None:
    found = book_now(shop, pen.now)
    source = set_hours(found.source, "CL3", Hours(1, 2, 3), "B4-*-F")
    books.load_workbook(shop, pen.by("OWN"), source=source, upon=found.version)
    async with terminal(shop, pen.now, first=FLOOR, badge="OWN") as at:
        await at.keys("b", "Enter")
        await to(at, "on B4-*-F")
        line = next(one for one in at.lines if "on B4-*-F" in one)
        assert "1.0     2.0     3.0" in line
        text = await at.keys("h")
        assert "Now 1, 2, 3." in flat(text)
        text = await at.keys("2.5", "Enter")
        assert "CL3 Clutch and release parts for B4-*-F 2 h › 2.5 h" in flat(text)
        await at.keys("Enter", PIN, "Enter")
        assert "Work book 3 loaded" in at.said
    phase = book_now(shop, pen.now).book.phases["CL3"]
    assert (phase.hours.middle, phase.hours_for[0].hours.middle) == (0.9, 2.5)
    assert verify(shop.path).ok


async def test_odds_a_part_a_name_a_copy_and_a_drop(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        await at.keys("b", "Enter")
        await to(at, "pass: as planned")
        text = await at.keys("o", "1:2", "Enter")
        assert "CL1.fit.pass" in text
        assert "› 1 in 2" in text
        await at.keys("Enter", PIN, "Enter")
        await to(at, "dowel")
        await at.keys("o", "1 in 5", "Enter", "Enter")
        assert "Work book 3 loaded" in at.said
        await at.keys("p", "gaiter", "Enter", *["backspace"] * 12, "CL3", "Enter", "Enter")
        assert "Work book 4 loaded" in at.said
        await at.keys("n", *["backspace"] * 40, "clutch, all", "Enter", "Enter")
        assert "CL  clutch, all" in at.text
        await at.keys("c", "van", "Enter", "clutch, vans", "Enter")
        assert "operation VAN: clutch, vans, 14 phases, new" in flat(at.text)
        await at.keys("Enter", "Esc")
        assert "11 operations" in at.text
        await to(at, "VAN")
        await at.keys("Enter")
        assert "VAN3" in at.text
        await at.keys("x")
        assert "gone" in at.text
        await at.keys("Enter")
        assert "10 operations" in at.text
        await at.keys("a", "br", "Enter", "brakes", "Enter", "off 1, on 1.5", "Enter")
        assert "never closed by BR" in flat(at.said), "what the checker says of it is told"
        await at.keys("a", "Enter", "Enter", ", ZF", "Enter")
        await at.keys("Enter")
        assert "BR    brakes" in at.text
    assert verify(shop.path).ok
    assert book_now(shop, pen.now).book.operations["CL"].parts[-1].text == "gaiter"


async def test_two_people_at_once_the_second_is_told(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=FLOOR, badge="OWN") as at:
        await at.keys("b", "Enter")
        await to(at, "CL3")
        await at.keys("h", "1.1", "Enter")
        source = book_now(shop, pen.now).source.replace("Invented workshop", "Another name")
        books.load_workbook(shop, pen.by("F01"), source=source)
        await at.keys("Enter", PIN, "Enter")
        assert "has changed since" in flat(at.said), at.text
        assert "Another name" in at.text, "what holds now is shown"
        assert book_now(shop, pen.now).book.phases["CL3"].hours.middle == 0.9
        await at.keys("h", *["backspace"] * 20, "1.1", "Enter", "Enter")
        assert "Work book 3 loaded" in at.said
    assert book_now(shop, pen.now).book.phases["CL3"].hours.middle == 1.1


async def test_a_technician_looks_and_is_told_who_changes(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=BAY, badge="B12") as at:
        await at.keys("F9", "the work book", "Enter")
        assert "10 operations" in at.text
        for key in ("c", "n", "p", "x", "a"):
            await at.keys(key)
            assert "it takes the foreman or owner" in flat(at.said), (key, at.said)
        await at.keys("Enter")
        await to(at, "CL3")
        await at.keys("o")
        assert "no odds" in at.said
        await at.keys("h")
        assert "it takes the foreman or owner" in flat(at.said)
    assert last(shop) == before


async def test_the_book_is_written_as_it_stands(shop: Shop, pen: Pen, tmp_path: Path) -> None:
    target = tmp_path / "out.toml"
    async with terminal(shop, pen.now, first=FLOOR, badge="OWN") as at:
        await at.keys("b", "w", str(shop.path), "Enter")
        assert "shop file" in flat(at.text)
        await at.keys(*["backspace"] * 200, str(target), "Enter")
        assert "written" in at.said
    assert target.read_text("utf-8") == book_now(shop, pen.now).source


@pytest.fixture(name="bare")
def bare_fixture(tmp_path: Path, pen: Pen) -> Generator[Shop]:
    """A shop without a book."""
    plan = ShopPlan(
        "Two lanes", "Europe/Amsterdam", "EUR",
        [WeekSpan(days=[1, 2, 3, 4, 5], start="07:30", end="16:30")], [],
        [LiftPlan("1", "two-post", 4000)], "OWN", "Olga", PIN,
        from_day=(pen.now - timedelta(days=2)).date(),
    )  # fmt: skip
    shop = found_shop(tmp_path / "bare.shop", pen.by(), plan, secret=make_secret(PIN, b"0" * 16))
    yield shop
    shop.close()


async def test_an_empty_book_says_how_to_begin_and_takes_the_demos_operations(
    bare: Shop, pen: Pen
) -> None:
    async with terminal(bare, pen.now, first=FLOOR, badge="OWN", signs=ASCII,
                        paint=Paint(monochrome=True)) as at:  # fmt: skip
        text = await at.keys("b")
        assert "No work book yet" in text
        assert "a writes a first operation" in flat(text)
        for key in ("h", "o", "c", "n", "p", "x", "w", "Enter"):
            await at.keys(key)
            assert "No work book yet" in at.said, key
        await at.keys("t", "XX", "Enter")
        assert "is not offered" in flat(at.text)
        await at.keys("backspace", "backspace", "CL RS", "Enter", PIN, "Enter")
        assert "2 operations" in at.text
        await at.keys("t")
        assert "already" in at.said
    assert verify(bare.path).ok


async def test_a_first_operation_is_written_from_nothing(bare: Shop, pen: Pen) -> None:
    async with terminal(bare, pen.now, first=FLOOR, badge="OWN") as at:
        await at.keys("b", "a", "BR", "Enter", "brakes", "Enter", "off 0", "Enter")
        assert "no phase with hours" in flat(at.text)
        await at.keys("backspace", "1, on 1.5", "Enter", "Enter", PIN, "Enter")
        assert "1 operation" in at.text
        assert "2.5" in at.text
    assert verify(bare.path).ok


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40), (200, 50)])
async def test_it_fits_every_terminal(shop: Shop, pen: Pen, size: tuple[int, int]) -> None:
    async with terminal(shop, pen.now, first=FLOOR, badge="OWN", size=size) as at:
        await at.keys("b")
        assert all(len(line) == size[0] for line in at.lines)
        await at.keys("Enter")
        for _ in range(40):
            await at.keys("down")
        assert all(len(line) == size[0] for line in at.lines)
        assert any(line.startswith(" ▸") for line in at.lines), at.text
        await at.keys("F11")
        assert "is no key of the work book" in at.said
        await at.pilot.resize_terminal(59, 24)
        await at.settle()
        assert "needs 60 columns" in flat(at.text)
