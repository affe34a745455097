"""The help of a screen: its keys as they are now, and what every sign and word on it means."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import Any

from rich.cells import cell_len

from tui.colours import Ink
from tui.keys import Meaning, Table
from tui.parts.canvas import Canvas
from tui.parts.legend import paint_legend
from tui.parts.lines import LEAST, Key, paint_keys, paint_rule, too_small
from tui.parts.painted import Painted
from tui.parts.sheet import Sheet
from tui.signs import Signs
from tui.words import cut

DIM, TEXT, BOLD = Ink("dim"), Ink("text"), Ink("text", bold=True)
KEY_CELLS, LEAST_COLUMN = 12, 64
FOOT = 2


def help_sheet(width: int, table: Sequence[Meaning], title: str, signs: Signs) -> Sheet:
    """The whole page, however long: keys in as many columns as fit, then the legend."""
    sheet = Sheet(width)
    paint_rule(sheet.block(), 0, (0, width), f"keys: {title}", signs)
    columns = max(1, (width - 2) // LEAST_COLUMN)
    column = (width - 2) // columns
    lines = [line for line in table if line.keys]
    rows = -(-len(lines) // columns)
    for row in range(rows):
        canvas = sheet.block()
        for nth, line in enumerate(lines[row::rows]):
            _paint_key(canvas, 2 + nth * column, line, column - 2, signs)
    paint_legend(sheet, table.name if isinstance(table, Table) else None, signs)
    return sheet


DIGITS = [*"1234567890"]
"""All of them together, with or without the last, are said by the first and the last."""


def shown_keys(line: Meaning) -> str:
    """The keys of a line in words."""
    names = ["Space" if key == " " else key for key in line.keys]
    if names in (DIGITS, DIGITS[:-1]):
        return f"{names[0]} to {names[-1]}"
    return (" " if "," in names else ", ").join(names)


def _paint_key(canvas: Canvas, x: int, line: Meaning, room: int, signs: Signs) -> None:
    named = shown_keys(line)
    canvas.put(x, 0, cut(named, KEY_CELLS + 6, signs.more), BOLD)
    after = x + max(KEY_CELLS, min(cell_len(named), KEY_CELLS + 6) + 1)
    canvas.put(after, 0, cut(line.words, room - (after - x), signs.more), TEXT)


def help_canvas(
    size: tuple[int, int], table: Sequence[Meaning], title: str, signs: Signs, first: int = 0
) -> tuple[Canvas, int]:
    """The page from a row on, and the farthest that it can be moved up."""
    width, height = size
    canvas = Canvas(width, height)
    if width < LEAST[0] or height < LEAST[1]:
        too_small(canvas)
        return canvas, 0
    sheet = help_sheet(width, table, title, signs)
    rows = height - FOOT
    last = max(0, sheet.height - rows)
    sheet.show(canvas, (0, 0), rows, min(first, last))
    keys: tuple[Key, ...] = (Key("any key", "back"),)
    if last:
        page, pages = min(first, last) // rows + (first >= last), -(-sheet.height // rows)
        part = f"{min(pages, page + 1)} of {pages}"
        keys = (Key("Space", f"page {part}"), Key("up down", "rows"), Key("any other key", "back"))
    paint_keys(canvas, height - 1, keys, signs)
    return canvas, last


async def show_help(screen: Painted[Any], table: Sequence[Meaning], title: str) -> None:
    """Show it until a key is pressed that turns no page."""
    before, first, signs = screen.page, 0, screen.session.signs
    if screen.session.paint.monochrome:
        signs = signs.without_colour()
    try:
        while True:
            screen.cover(partial(_page, table, title, signs, first))
            last = help_canvas(screen.board_size, table, title, signs)[1]
            step = _step((await screen.talk.key()).key, screen.board_size[1] - FOOT)
            if step is None or (step > 0 and first >= last):
                return
            first = min(max(0, first + step), last)
    finally:
        screen.cover(before)


def _step(key: str, page: int) -> int | None:
    """Rows that a key goes on; None for a key that leaves."""
    steps = {"down": 1, "2": 1, "up": -1, "8": -1, " ": page, "page down": page, "3": page,
             "page up": -page, "9": -page}  # fmt: skip
    return steps.get(key)


def _page(
    table: Sequence[Meaning], title: str, signs: Signs, first: int, size: tuple[int, int]
) -> Canvas:
    return help_canvas(size, table, title, signs, first)[0]
