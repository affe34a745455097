"""Lifts, people, PINs and a work book, from the list of all actions."""

from __future__ import annotations

from collections.abc import Generator
from pathlib import Path

import pytest

from store.file.shop import Shop
from store.file.verify import verify
from store.trouble import Refused
from store.views.book import book_now
from store.views.people import people
from tests.tui.driver import terminal
from tests.tui.shops import BOOK, PIN, Pen, founded
from tui.parts.setting_up import book_text
from tui.parts.where import FLOOR


@pytest.fixture(name="pen")
def pen_fixture() -> Pen:
    return Pen()


@pytest.fixture(name="shop")
def shop_fixture(tmp_path: Path, pen: Pen) -> Generator[Shop]:
    shop = founded(tmp_path / "made.shop", pen)
    yield shop
    shop.close()


async def test_the_owner_adds_a_lift_and_the_floor_shows_it(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=FLOOR, badge="OWN") as at:
        await at.keys("F9", "adds lift", "Enter")
        await at.keys("4", "Enter", "two-post", "Enter", "heavy", "Enter")
        assert "is no number" in at.said
        for _ in "heavy":
            await at.keys("backspace")
        await at.keys("3500", "Enter", PIN, "Enter")
        assert "4" in at.said
        assert any("3.5 t" in line for line in at.lines)
    assert verify(shop.path).ok


async def test_the_owner_adds_somebody_who_then_signs_in(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=FLOOR, badge="OWN") as at:
        await at.keys("F9", "adds somebody", "Enter")
        await at.keys("Nils", "Enter", "b20", "Enter", "1", PIN, "Enter")
        assert "Nils added with badge B20" in at.said
        await at.keys("Esc")
        assert "Nils" in await at.sign_in("B20")
    assert "Nils" in [one.name for one in people(shop)]


async def test_a_pin_is_typed_twice(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=FLOOR, badge="B12") as at:
        await at.keys("F9", "pin", "Enter", "1357", "Enter", "1358", "Enter")
        assert "not the same" in at.said
        await at.keys("1357", "Enter")
        assert "PIN" in at.text
        await at.keys(PIN, "Enter")
        assert at.screen.prompt is None
        assert "!" not in at.said
    assert verify(shop.path).ok


async def test_a_foreman_loads_a_work_book(shop: Shop, pen: Pen, tmp_path: Path) -> None:
    changed = tmp_path / "book.toml"
    text = BOOK.read_text("utf-8")
    changed.write_text(text.replace("hours = [0.3, 0.5, 0.8]", "hours = [0.3, 0.6, 0.8]", 1))
    before = book_now(shop, pen.now)
    async with terminal(shop, pen.now, size=(120, 40), first=FLOOR, badge="F01") as at:
        await at.keys("F9", "loads work book", "Enter", str(tmp_path / "no.toml"), "Enter")
        assert "There is no file" in at.said
        await at.keys("Esc")
        broken = tmp_path / "broken.toml"
        broken.write_text("format = \n", encoding="utf-8")
        await at.keys("F9", "loads work book", "Enter", *["backspace"] * 7, "broken.toml", "Enter")
        assert "Load this work book?" in at.text, "asked once: no undo mends it"
        await at.keys("Enter")
        assert at.said.startswith("!")
        anew = ("F9", "loads work book", "Enter", *["backspace"] * 200)
        await at.keys(*anew, str(changed), "Enter", "Esc")
        assert book_now(shop, pen.now) == before
        await at.keys(*anew, str(changed), "Enter", "Enter", PIN, "Enter")
        assert "!" not in at.said
    assert book_now(shop, pen.now).version > before.version


async def test_a_technician_is_refused_before_a_file_is_looked_at(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=FLOOR) as at:
        await at.keys("F9", "loads work book", "Enter", "B12", "Enter")
        assert "may not do this" in at.said
        assert at.screen.prompt is None


def test_the_shop_file_is_never_opened_for_a_work_book(shop: Shop, tmp_path: Path) -> None:
    linked = tmp_path / "link.toml"
    linked.symlink_to(shop.path)
    for name in (str(shop.path), str(linked), f"{shop.path}-wal"):
        with pytest.raises(Refused, match="That is the shop file"):
            book_text(Path(name), shop.path)
    with pytest.raises(Refused, match="There is no file"):
        book_text(tmp_path, shop.path)
