"""What was done or refused, at its fixed place; a long refusal takes rows above it, never a cut."""

from __future__ import annotations

from rich.cells import cell_len

from tui.colours import Ink
from tui.parts.canvas import Canvas
from tui.signs import Signs
from tui.words import cut, wrapped

MOST_ROWS = 4


def paint_long_said(canvas: Canvas, said: str, signs: Signs) -> None:
    """Say it in the last row but one, and above that where it does not fit in one row."""
    refused = said.startswith("!")
    text = said[1:].strip() if refused else said
    x = 5 if refused else 1
    room = canvas.width - x - 1
    if cell_len(text) <= room:
        return
    lines = wrapped(text, room)
    if len(lines) > MOST_ROWS:
        lines = [*lines[: MOST_ROWS - 1], cut(" ".join(lines[MOST_ROWS - 1 :]), room, signs.more)]
    top = canvas.height - 1 - len(lines)
    for row, line in enumerate(lines):
        canvas.fill(0, top + row, canvas.width, Ink())
        canvas.put(x, top + row, line, Ink("behind", bold=True) if refused else Ink("text"))
    if refused:
        canvas.put(1, top, " ! ", Ink("behind", loud=True))
