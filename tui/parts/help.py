"""The help of a screen: its keys, and the signs that stand for states."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import Any

from tui.colours import Ink
from tui.keys import Meaning
from tui.parts.canvas import Canvas
from tui.parts.lines import Key, paint_keys, paint_rule
from tui.parts.painted import Painted
from tui.signs import STATES, Signs
from tui.words import cut

DIM, TEXT, BOLD = Ink("dim"), Ink("text"), Ink("text", bold=True)
KEY_CELLS, COLUMN = 12, 20


def help_canvas(
    size: tuple[int, int], table: Sequence[Meaning], title: str, signs: Signs, first: int = 0
) -> tuple[Canvas, int]:
    """The page from a row on, and the farthest that it can be moved up."""
    width, height = size
    columns = max(1, (width - 2) // COLUMN)
    names = list(STATES.values())
    sign_rows = -(-len(names) // columns)
    page = Canvas(width, len(table) + sign_rows + 4)
    paint_rule(page, 0, (0, width), f"keys: {title}", signs)
    for row, line in enumerate(table, 1):
        page.put(2, row, cut(", ".join(line.keys).replace(" ,", "space,"), KEY_CELLS), BOLD)
        page.put(2 + KEY_CELLS, row, cut(line.words, width - KEY_CELLS - 3, signs.more), TEXT)
    top = len(table) + 2
    paint_rule(page, top, (0, width), "signs", signs)
    for nth, sign in enumerate(names):
        x, y = 2 + nth % columns * COLUMN, top + 1 + nth // columns
        glyph = sign.ascii if signs.ascii else sign.unicode
        page.put(x, y, glyph, Ink(sign.role, bold=True))
        page.put(x + 2, y, sign.word, DIM)
    canvas = Canvas(width, height)
    last = max(0, page.height - (height - 2))
    canvas.stamp(page, 0, -min(first, last))
    canvas.fill(0, height - 2, width, Ink())
    canvas.fill(0, height - 1, width, Ink())
    keys = (
        (Key("up down", "more"), Key("any other key", "back"))
        if last
        else (Key("any key", "back"),)
    )
    paint_keys(canvas, height - 1, keys, signs)
    return canvas, last


async def show_help(screen: Painted[Any], table: Sequence[Meaning], title: str) -> None:
    """Show it until a key is pressed."""
    first, signs = 0, screen.session.signs
    try:
        while True:
            screen.cover(partial(_page, table, title, signs, first))
            last = help_canvas(screen.board_size, table, title, signs)[1]
            key = (await screen.talk.key()).key
            if key in ("down", "2", "page down") and first < last:
                first += 1
            elif key in ("up", "8", "page up") and first > 0:
                first -= 1
            else:
                return
    finally:
        screen.cover(None)


def _page(
    table: Sequence[Meaning], title: str, signs: Signs, first: int, size: tuple[int, int]
) -> Canvas:
    return help_canvas(size, table, title, signs, first)[0]
