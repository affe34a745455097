"""Another look while the screens stand, plain letters, and a terminal that draws signs wide."""

from __future__ import annotations

from collections.abc import Generator
from pathlib import Path

import pytest
from textual.events import CursorPosition

from store.file.shop import Shop
from tests.tui.driver import terminal
from tests.tui.shops import Pen, worked_on
from tui.app import MEASURE, WIDE
from tui.colours import DARK, LOOKS, Look, Paint, short_name
from tui.parts.where import FLOOR
from tui.signs import ASCII, UNICODE, asks_width, choose_signs


@pytest.fixture(name="pen")
def pen_fixture() -> Pen:
    return Pen()


@pytest.fixture(name="shop")
def shop_fixture(tmp_path: Path, pen: Pen) -> Generator[Shop]:
    shop = worked_on(tmp_path / "made.shop", pen)
    yield shop
    shop.close()


NAMES = {
    "hoistbook-dark": "dark", "hoistbook-light": "light",
    "hoistbook-high-contrast": "high contrast", "hoistbook-16": "16 colours",
}  # fmt: skip


@pytest.mark.parametrize("look", LOOKS.values(), ids=list(LOOKS))
async def test_a_look_is_put_on_by_its_name_and_every_cell_is_of_it(
    shop: Shop, pen: Pen, look: Look, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("NO_COLOR", raising=False)
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        await at.keys("F9", NAMES[look.name], "Enter")
        assert at.app.theme == look.name
        assert short_name(look) in at.said
        grounds = {
            segment.style.bgcolor.name
            for line in at.screen.board.lines
            for segment in line
            if segment.style is not None and segment.style.bgcolor is not None
        }
        assert grounds <= set(look.values.values())
        await at.keys("F2")
        assert at.app.theme == look.name, "on the next screen too"


async def test_where_no_colour_is_wanted_no_look_brings_any(shop: Shop, pen: Pen) -> None:
    paint = Paint(DARK, monochrome=True)
    async with terminal(shop, pen.now, first=FLOOR, badge="F01", paint=paint) as at:
        await at.keys("F9", "light", "Enter")
        assert at.said.startswith("! NO_COLOR is set")
        assert at.app.session.paint is paint


async def test_plain_letters_and_signs_again(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        assert not at.text.isascii()
        await at.keys("F9", "plain", "Enter")
        assert at.text.isascii()
        assert "ascii = true" in at.said
        await at.keys("F9", "unicode", "Enter")
        assert not at.text.isascii()


@pytest.mark.parametrize(
    "column, asked, plain", [(WIDE, True, True), (1, True, False), (WIDE, False, False)]
)
async def test_a_terminal_that_draws_a_sign_in_two_cells_gets_plain_letters(
    shop: Shop, pen: Pen, column: int, asked: bool, plain: bool
) -> None:
    """The answer to a question that nobody asked changes nothing."""
    async with terminal(shop, pen.now, first=FLOOR) as at:
        at.app.asked_width = asked
        at.app.post_message(CursorPosition(column, 1))
        await at.settle()
        assert (at.app.session.signs is ASCII) is plain
        assert at.text.isascii() is plain


def test_the_question_wipes_its_sign_and_is_not_asked_in_the_first_row() -> None:
    """An answer from row 1 would read as a shifted F3 (xterm control sequences)."""
    assert MEASURE.startswith("\x1b[2;1H" + UNICODE.now + "\x1b[6n")
    assert MEASURE.endswith("\x1b[2;1H\x1b[2K\x1b[1;1H")


def test_only_a_terminal_of_which_nothing_is_known_is_asked() -> None:
    assert asks_width({})
    assert not asks_width({}, asked=True)
    assert not asks_width({}, kept=False)
    assert not asks_width({"HOISTBOOK_ASCII": "0"})
    assert not asks_width({"TEXTUAL_DRIVER": "web"})


def test_settings_ask_for_plain_letters_but_cannot_forbid_them() -> None:
    assert choose_signs({}, "utf-8", kept=True) is ASCII
    assert choose_signs({}, "utf-8", kept=False) is UNICODE
    assert choose_signs({"TERM": "linux"}, "utf-8", kept=False) is ASCII
