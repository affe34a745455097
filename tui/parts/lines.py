"""Lines that painted screens share: rules with a title, what was said last, the keys."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from rich.cells import cell_len

from tui.colours import Ink
from tui.parts.canvas import Canvas, Piece
from tui.signs import Signs
from tui.words import cut, plain, wrapped

LEAST = (60, 20)
"""Columns and rows under which a screen is one sentence."""


class Key(NamedTuple):
    """A key of the last line and what it does; `short` is used where there is little room."""

    key: str
    words: str
    short: str = ""


def paint_said(canvas: Canvas, y: int, said: str, signs: Signs) -> None:
    """What was done, quiet; what was refused begins with `!` and is not."""
    refused = said.startswith("!")
    text = cut(said, canvas.width - 2, signs.more)
    if refused:
        canvas.put(1, y, " ! ", Ink("behind", loud=True))
        canvas.put(5, y, cut(said[1:].strip(), canvas.width - 6, signs.more), Ink("behind", True))
    else:
        canvas.put(1, y, text, Ink("dim"))


def paint_keys(canvas: Canvas, y: int, keys: Sequence[Key], signs: Signs) -> None:
    """Keys bold, what they do dim: in short words where long ones do not fit, then the last but
    one left out until the rest fits."""
    x, end = 1, canvas.width - 1
    kept = list(keys)
    if _keys_width(kept) > end - x:
        kept = [Key(key.key, key.short or key.words) for key in kept]
    while len(kept) > 1 and _keys_width(kept) > end - x:
        del kept[-2]
    for key in kept:
        start = x
        x = canvas.put(x, y, cut(key.key, end - x, signs.more), Ink("text", bold=True)) + 1
        x = canvas.put(x, y, cut(key.words, end - x, signs.more), Ink("dim"))
        canvas.spot(start, y, (x - start, 1), key.key)
        x += 3


def _keys_width(keys: Sequence[Key]) -> int:
    return sum(cell_len(key.key) + 1 + cell_len(key.words) + 3 for key in keys) - 3


def paint_rule(canvas: Canvas, y: int, span: tuple[int, int], title: str, signs: Signs) -> None:
    """A rule from one cell to another with a title near its start."""
    start, end = span
    canvas.fill(start, y, end - start, Ink("line"), signs.rule)
    canvas.put(start + 2, y, f" {cut(title, end - start - 6, signs.more)} ", Ink("dim"))


def put_pieces(
    canvas: Canvas, at: tuple[int, int], pieces: Sequence[Piece], width: int, signs: Signs
) -> int:
    """Pieces in a row in at most `width` cells, the one that does not fit cut."""
    x, y = at
    end = x + width
    for text, ink in pieces:
        if x >= end:
            break
        shown = cut(text, end - x, signs.more) if text.strip() else text
        x = canvas.put(x, y, shown, ink)
        if shown != plain(text):
            break  # one sign of what is left out is enough
    return x


def too_small(canvas: Canvas) -> None:
    """One sentence where nothing else fits."""
    text = (
        f"hoistbook needs {LEAST[0]} columns and {LEAST[1]} rows here; "
        f"this terminal has {canvas.width} by {canvas.height}."
    )
    for row, line in enumerate(wrapped(text, max(1, canvas.width - 1))):
        canvas.put(0, row, line)
