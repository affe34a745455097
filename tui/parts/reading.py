"""A paper read on the screen: a page over everything, as long as somebody reads it."""

from __future__ import annotations

from functools import partial
from typing import Any

from tui.colours import Ink
from tui.papers.paper import Paper
from tui.papers.text import Kind, Line, lines_of
from tui.parts.canvas import Canvas
from tui.parts.keyline import NAMES
from tui.parts.lines import LEAST, Key, paint_keys, too_small
from tui.parts.painted import Painted
from tui.parts.sheet import Sheet
from tui.signs import Signs

WIDEST = 110
"""Longer lines are hard to read."""
FOOT = 1
INKS: dict[Kind, Ink] = {
    "title": Ink("text", bold=True), "head": Ink("text", bold=True), "rule": Ink("line"),
    "names": Ink("dim", bold=True), "text": Ink("text"), "note": Ink("dim"), "void": Ink("dim"),
}  # fmt: skip
STEPS = {"down": 1, "up": -1, "2": 1, "8": -1}
PAGES = {" ": 1, "page down": 1, "page up": -1, "right": 1, "left": -1, "3": 1, "9": -1}
LEAVES = ("Esc", "0", "Enter", "i")


def paper_canvas(
    lines: list[Line], size: tuple[int, int], signs: Signs, first: int
) -> tuple[Canvas, int]:
    """The page from a row on, and the farthest that it can be moved up."""
    canvas = Canvas(*size)
    if size[0] < LEAST[0] or size[1] < LEAST[1]:
        too_small(canvas)
        return canvas, 0
    sheet = Sheet(size[0])
    for line in lines:
        sheet.block().put(1, 0, line.text, INKS[line.kind])
    rows = size[1] - FOOT
    last = max(0, sheet.height - rows)
    at = min(first, last)
    sheet.show(canvas, (0, 0), rows, at)
    page = min(-(-sheet.height // rows), at // rows + 1 + (at >= last > 0))
    keys = (Key("Space", f"page {page} of {-(-sheet.height // rows)}"), Key("up down", "rows"),
            Key("Esc", "back"))  # fmt: skip
    paint_keys(canvas, size[1] - 1, keys if last else keys[-1:], signs)
    return canvas, last


async def read_paper(screen: Painted[Any], paper: Paper) -> None:
    """Show a paper until somebody has read it; Esc goes back."""
    before, first, signs = screen.page, 0, screen.session.signs

    def page(start: int, size: tuple[int, int]) -> Canvas:
        return paper_canvas(_lines(paper, size), size, signs, start)[0]

    try:
        while True:
            screen.cover(partial(page, first))
            size = screen.board_size
            last = paper_canvas(_lines(paper, size), size, signs, first)[1]
            key = (await screen.talk.key()).key
            if key in LEAVES:
                return
            rows = STEPS.get(key, PAGES.get(key, 0) * (size[1] - FOOT))
            if rows == 0 and key not in NAMES.values():
                screen.remark("Space and the arrows move the page. Esc goes back.")
            first = min(max(0, first + rows), last)
    finally:
        screen.cover(before)


def _lines(paper: Paper, size: tuple[int, int]) -> list[Line]:
    return lines_of(paper, min(size[0] - 2, WIDEST))
