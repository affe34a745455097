"""A file named at a screen: what cannot be one is said in a line and asked again."""

from __future__ import annotations

from pathlib import Path

import pytest

from store.file.shop import Shop
from tests.tui.driver import terminal
from tests.tui.shops import Pen
from tui.parts.where import MONTH, TOOLS


@pytest.mark.parametrize(
    "typed, says",
    [
        ("~nobody-of-that-name/x.html", "cannot be a file here"),
        ("x.txt", "Type a name that ends so"),
        ("made.shop.html", "That is the shop file"),
        ("", "Nothing was typed"),
    ],
)
async def test_what_cannot_be_the_page_is_said_and_asked_again(
    shop: Shop, pen: Pen, monkeypatch: pytest.MonkeyPatch, tmp_path: Path, typed: str, says: str
) -> None:
    monkeypatch.chdir(tmp_path)
    before = sorted(tmp_path.iterdir())
    async with terminal(shop, pen.now, first=MONTH, badge="OWN") as at:
        await at.keys("w", *["backspace"] * 200)
        assert says in " ".join((await at.keys(typed, "Enter")).split())
        assert at.screen.prompt is not None
    assert sorted(tmp_path.iterdir()) == before


async def test_a_name_that_no_folder_holds_is_refused(
    shop: Shop, pen: Pen, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """200 letters of four bytes each are more than a name may have (255 bytes, pathconf(3))."""
    monkeypatch.chdir(tmp_path)
    async with terminal(shop, pen.now, first=TOOLS, badge="OWN") as at:
        await at.keys("i", *["backspace"] * 200)
        text = " ".join((await at.keys("\N{GOTHIC LETTER AHSA}" * 190, "Enter")).split())
        assert "!" in text
        assert at.app.is_running
