"""A loud word: the only filled thing on a calm screen."""

from __future__ import annotations

from tui.colours import Ink
from tui.parts.canvas import Canvas
from tui.signs import LOUD, Signs


def put_loud(canvas: Canvas, at: tuple[int, int], word: str, signs: Signs, ink: Ink) -> int:
    """` ? ANSWER ` filled with its role; returns the cell after it."""
    loud = LOUD.get(word)
    sign = signs.of(loud.state) if loud else "!"
    return canvas.put(*at, f" {sign} {word} ", ink)
