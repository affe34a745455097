"""The shared style sheet and the themes inside a running Textual, and what NO_COLOR leaves."""

from __future__ import annotations

from importlib.resources import files

import pytest
from textual.app import App, ComposeResult
from textual.strip import Strip
from textual.widget import Widget
from textual.widgets import Input

from tests.tui.made_floor import floor
from tui.colours import DARK, LOOKS, Look, Paint, textual_theme
from tui.floor.paint import floor_lines
from tui.floor.state import FloorState
from tui.signs import UNICODE


class Lines(Widget):
    """A floor painted line by line."""

    def __init__(self, paint: Paint) -> None:
        super().__init__()
        self.paint = paint

    def render_line(self, y: int) -> Strip:
        lines = floor_lines(floor(), (80, 24), self.paint, UNICODE, FloorState())
        return Strip(lines[y], 80)


class Shown(App[None]):
    """Our style sheet, one theme, one widget of lines."""

    CSS_PATH = str(files("tui") / "app.tcss")
    CSS = "Lines { height: 24; } Input { dock: bottom; }"

    def __init__(self, look: Look, ansi: bool | None = None) -> None:
        super().__init__(ansi_color=ansi)
        self.paint = Paint(look, monochrome=self.no_color)
        self.register_theme(textual_theme(look))
        self.theme = look.name

    def compose(self) -> ComposeResult:
        yield Lines(self.paint)
        yield Input("abc")


async def colours_of(app: Shown) -> set[str]:
    """Names of all colours that the lines send, `default` for the terminal's own."""
    async with app.run_test(size=(80, 26)) as pilot:
        await pilot.pause()
        strips = app.query_one(Lines).render_lines(app.screen.region)
    colours = [
        colour
        for strip in strips
        for segment in strip
        if segment.style is not None
        for colour in (segment.style.color, segment.style.bgcolor)
        if colour is not None
    ]
    return {colour.name for colour in colours}


@pytest.mark.parametrize("look", LOOKS.values(), ids=list(LOOKS))
async def test_every_look_runs_and_sends_only_its_own_values(
    look: Look, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("NO_COLOR", raising=False)
    sent = await colours_of(Shown(look))
    assert sent
    black = {"color(0)"} if look.ansi else set[str]()  # as Textual calls it
    assert sent <= set(look.values.values()) | black


async def test_no_color_leaves_the_terminals_own_colours(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    assert await colours_of(Shown(DARK, ansi=True)) <= {"default"}
