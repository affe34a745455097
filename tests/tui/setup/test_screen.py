"""The first run: questions forwards and back, nothing written before the last, or the demo."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncGenerator, Callable
from contextlib import asynccontextmanager
from pathlib import Path

import pytest
from textual.pilot import Pilot

from store.file.shop import Shop
from store.trouble import Refused
from store.views.book import book_now
from store.views.people import people
from tests.tui.driver import KNOWN
from tui.cli.founding import machine_zone
from tui.colours import Paint
from tui.now import machine_now
from tui.parts.canvas import as_text
from tui.parts.keyline import Pressed
from tui.setup.questions import questions
from tui.setup.screen import Begun, FirstRun
from tui.signs import UNICODE

MOST_TURNS = 5000


class Glass:
    """The first run, and somebody before it."""

    def __init__(self, app: FirstRun, pilot: Pilot[Begun]) -> None:
        self.app, self.pilot = app, pilot

    async def keys(self, *keys: str) -> str:
        """Press keys by their names, or type longer texts; return the screen."""
        for key in keys:
            for one in [key] if key in KNOWN else list(key):
                self.app.line.put(Pressed(one, "" if key in KNOWN else one))
        for _ in range(MOST_TURNS):
            await self.pilot.pause()
            if self.app.line.quiet or not self.app.is_running or self.app.return_value:
                break
            await asyncio.sleep(0)
        return self.text

    @property
    def text(self) -> str:
        """The screen as one text."""
        return "\n".join(as_text(line).rstrip() for line in self.app.board.lines)


@asynccontextmanager
async def glass(
    path: Path, demo: Callable[[], Path], size: tuple[int, int] = (80, 24)
) -> AsyncGenerator[Glass]:
    app = FirstRun(path, demo, Paint(), UNICODE, "bay-1")
    async with app.run_test(size=size) as pilot:
        made = Glass(app, pilot)
        await made.keys()
        yield made


def no_demo() -> Path:
    raise Refused("no room for a demo")


ALL = ("Enter", "Marsh Lane", "Enter", *["Enter"] * 6, "Olga", "Enter", "Enter")
"""Every question up to the PIN, taking what is proposed."""


async def test_it_says_what_it_is_and_how_to_begin(tmp_path: Path) -> None:
    async with glass(tmp_path / "our.shop", no_demo) as at:
        assert "Enter   sets up your shop" in at.text
        assert "d       opens the demo" in at.text
        assert "our.shop" in at.text
        assert "Enter sets up your shop, d opens" in await at.keys("x")
        await at.keys("Esc")
    assert at.app.return_value is None
    assert list(tmp_path.iterdir()) == []


async def test_the_questions_lead_to_a_shop_with_its_owner(tmp_path: Path) -> None:
    path = tmp_path / "our.shop"
    async with glass(path, no_demo) as at:
        await at.keys(*ALL, "2468", "Enter", "2468", "Enter")
        assert "Make Marsh Lane?" in at.text
        assert not path.exists(), "nothing is written before the last answer"
        await at.keys("Enter")
    begun = at.app.return_value
    assert begun is not None
    assert begun.badge == "O1"
    assert "F9" in begun.says
    assert "b shows its work book" in begun.says
    shop = Shop(path)
    assert [one.name for one in people(shop)] == ["Olga"]
    book = book_now(shop, machine_now())
    assert (len(book.book.operations), book.book.name) == (10, "Work book of Marsh Lane")
    shop.close()


async def test_a_shop_may_begin_with_some_operations_or_none(tmp_path: Path) -> None:
    for typed, many in (("CL, tc", 2), ("cp", 1), ("none", 0)):
        path = tmp_path / f"{many}.shop"
        async with glass(path, no_demo) as at:
            await at.keys(*ALL[:8], *["backspace"] * 3, "CL CP", "Enter")
            assert "CP is a small book of its own" in " ".join(at.text.split())
            await at.keys(*["backspace"] * 5, typed, "Enter", *ALL[9:])
            await at.keys("2468", "Enter", "2468", "Enter", "Enter")
        begun = at.app.return_value
        assert begun is not None
        shop = Shop(path)
        if many:
            assert len(book_now(shop, machine_now()).book.operations) == many
        else:
            assert "Next a work book: b." in begun.says
        shop.close()


@pytest.mark.parametrize(
    "keys, says",
    [
        (("Enter", "Enter"), "Nothing was typed."),
        (("Enter", "M", "Enter", "x", "Enter"), "x"),
        (("Enter", "M", "Enter", "Enter", "x", "Enter"), "is no currency"),
        ((*ALL[:5], "x", "Enter"), "like"),
        ((*ALL, "12", "Enter"), "4 to 12 digits"),
        ((*ALL, "2468", "Enter", "2467", "Enter"), "not the same"),
    ],
)
async def test_nonsense_is_explained_and_asked_again(
    tmp_path: Path, keys: tuple[str, ...], says: str
) -> None:
    async with glass(tmp_path / "our.shop", no_demo) as at:
        text = await at.keys(*keys)
        assert says in text
        assert "!" in text
    assert list(tmp_path.iterdir()) == []


async def test_esc_goes_back_one_question_and_what_was_said_stands_there(tmp_path: Path) -> None:
    async with glass(tmp_path / "our.shop", no_demo) as at:
        await at.keys("Enter", "Marsh Lane", "Enter")
        assert machine_zone() in at.text
        text = await at.keys("Esc")
        assert "1 of 11" in text
        assert "name of the shop  Marsh Lane" in text
        assert "Nothing was written." in await at.keys("Esc")
        assert "Marsh Lane" in await at.keys("Enter")


async def test_the_demo_is_opened_or_it_is_said_why_not(tmp_path: Path) -> None:
    async with glass(tmp_path / "our.shop", no_demo) as at:
        assert "!  no room for a demo" in await at.keys("d")
    async with glass(tmp_path / "our.shop", lambda: tmp_path / "demo.shop") as at:
        await at.keys("d")
    assert at.app.return_value is not None
    assert at.app.return_value.path == tmp_path / "demo.shop"
    assert "2468" in at.app.return_value.says


async def test_it_fits_whatever_the_terminal_is(tmp_path: Path) -> None:
    async with glass(tmp_path / "our.shop", no_demo, size=(60, 20)) as at:
        await at.keys("Enter")
        for size in ((40, 10), (200, 50), (60, 20), (1, 1), (80, 24)):
            await at.pilot.resize_terminal(*size)
            await at.pilot.pause()
        assert "name of the shop" in at.text
        await at.pilot.resize_terminal(59, 24)
        await at.pilot.pause()
        assert "needs 60 columns" in at.text


def test_every_question_says_what_it_wants() -> None:
    assert all(one.label and one.facts for one in questions())
