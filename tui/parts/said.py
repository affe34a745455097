"""What was done or refused, at its fixed place; a long refusal takes rows above it, never a cut."""

from __future__ import annotations

from rich.cells import cell_len

from tui.colours import Ink
from tui.parts.canvas import Canvas
from tui.signs import Signs
from tui.words import cut, wrapped

MOST_ROWS = 4


def said_rows(said: str, width: int) -> int:
    """Rows that a sentence takes at its fixed place, 1 or more."""
    return max(1, min(MOST_ROWS, len(_lines(said, width))))


def _lines(said: str, width: int) -> list[str]:
    refused = said.startswith("!")
    text = said[1:].strip() if refused else said
    room = width - _first(refused) - 1
    return [text] if cell_len(text) <= room else wrapped(text, room)


def _first(refused: bool) -> int:
    return 5 if refused else 1


def paint_long_said(canvas: Canvas, said: str, signs: Signs) -> None:
    """Say it in the last row but one, and above that where it does not fit in one row."""
    refused = said.startswith("!")
    lines = _lines(said, canvas.width)
    if len(lines) < 2:
        return
    x = _first(refused)
    if len(lines) > MOST_ROWS:
        rest = " ".join(lines[MOST_ROWS - 1 :])
        lines = [*lines[: MOST_ROWS - 1], cut(rest, canvas.width - x - 1, signs.more)]
    top = canvas.height - 1 - len(lines)
    for row, line in enumerate(lines):
        canvas.fill(0, top + row, canvas.width, Ink())
        canvas.put(x, top + row, line, Ink("behind", bold=True) if refused else Ink("text"))
    if refused:
        canvas.put(1, top, " ! ", Ink("behind", loud=True))
