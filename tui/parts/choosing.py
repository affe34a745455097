"""A page that one types on to find one of many: the field, then what matches, a line each."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import Any, NamedTuple, TypeVar

from rich.cells import cell_len

from tui.colours import Ink, Role
from tui.parts.canvas import ON_SCREEN, Canvas
from tui.parts.lines import LEAST, Key, paint_keys, paint_rule, paint_said, too_small
from tui.parts.painted import Painted
from tui.parts.prompt import Field, paint_field
from tui.parts.talk import EDITING, Back, edited
from tui.signs import Signs
from tui.words import cut

T = TypeVar("T")
TOP, FOOT = 4, 2
"""Rows above and under the list."""
LINE = f"{ON_SCREEN}line "
TAKES = "Type beginnings of words, in any order. Enter takes the line, Esc goes back."
KEYS = (Key("up down", "choose"), Key("Enter", "open it", "open"), Key("Esc", "back"))
DIM, TEXT, BOLD = Ink("dim"), Ink("text"), Ink("text", bold=True)


class Row(NamedTuple):
    """One thing: what it is called, words to it, and what stands at the right end."""

    name: str
    words: str
    right: str = ""
    role: Role = "text"


class Page(NamedTuple):
    """What the page says.

    Attributes:
        title: what is looked for.
        label: of the field.
        none: what is said where nothing matches.
        keys: of the last row.
    """

    title: str
    label: str
    none: str
    keys: tuple[Key, ...] = KEYS


async def choose(
    screen: Painted[Any],
    page: Page,
    find: Callable[[str], Sequence[T]],
    row_of: Callable[[T], Row],
) -> T:
    """Have one of many chosen by typing and by arrows.

    Args:
        find: what matches a text, the best first.

    Raises:
        Back: Esc.
    """
    before, field, here = screen.page, Field(page.label), 0
    found = find("")
    try:
        while True:
            screen.cover(partial(_paint, screen, page, field, (found, row_of), here))
            key = await screen.talk.key()
            if key.key == "Esc":
                raise Back
            if key.key == "Enter" and found:
                return found[here]
            if key.key.startswith(LINE):
                return found[int(key.key.removeprefix(LINE))]
            step = _step(key.key, rows_of(screen.board_size))
            if step:
                here = min(max(0, here + step), max(0, len(found) - 1))
            elif (after := edited(field, key)) != field:
                field, here, found = after, 0, find(after.text)
            elif key.key == "Enter":
                screen.remark(page.none)
            elif key.key not in EDITING:
                screen.remark(TAKES)
    finally:
        screen.cover(before)


def rows_of(size: tuple[int, int]) -> int:
    """How many lines fit."""
    return max(1, size[1] - TOP - FOOT)


def _step(key: str, page: int) -> int:
    return {"up": -1, "down": 1, "page up": -page, "page down": page}.get(key, 0)


def _paint(
    screen: Painted[Any], page: Page, field: Field,
    shown: tuple[Sequence[T], Callable[[T], Row]], here: int,
    size: tuple[int, int],
) -> Canvas:  # fmt: skip
    canvas, signs = Canvas(*size), screen.session.signs
    width, height = size
    if width < LEAST[0] or height < LEAST[1]:
        too_small(canvas)
        return canvas
    canvas.put(1, 0, cut(page.title, width - 2, signs.more), BOLD)
    paint_field(canvas, 1, field, signs)
    found, row_of = shown
    many = f"{len(found)} found" if field.text else f"{len(found)} in all"
    paint_rule(canvas, TOP - 1, (0, width), many, signs)
    first = min(max(0, here - rows_of(size) // 2), max(0, len(found) - rows_of(size)))
    rows = [row_of(one) for one in found[first : first + rows_of(size)]]
    name_cells = min(width // 3, max((cell_len(row.name) for row in rows), default=0))
    for y, row in enumerate(rows, TOP):
        _paint_row(canvas, y, row, name_cells, signs, here=first + y - TOP == here)
        canvas.spot(0, y, (width, 1), f"{LINE}{first + y - TOP}")
    if not rows:
        canvas.put(3, TOP, cut(page.none, width - 4, signs.more), DIM)
    paint_said(canvas, height - 2, screen.saying or "", signs)
    paint_keys(canvas, height - 1, page.keys, signs)
    return canvas


def _paint_row(
    canvas: Canvas, y: int, row: Row, name_cells: int, signs: Signs, *, here: bool
) -> None:
    width = canvas.width
    right = cut(row.right, width // 2, signs.more)
    start = canvas.right(width - 1, y, right, DIM) if right else width - 1
    canvas.put(3, y, cut(row.name, name_cells, signs.more), Ink(row.role, bold=True))
    x = 3 + name_cells + 2
    canvas.put(x, y, cut(row.words, start - x - 2, signs.more), TEXT)
    if here:
        canvas.ground(0, y, width, 1, "pick")
        canvas.put(1, y, signs.of("running"), Ink("text", bold=True, ground="pick"))
