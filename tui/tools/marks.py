"""Dates given to somebody, on a kit's line: when it comes, when it goes back."""

from __future__ import annotations

from datetime import datetime
from typing import NamedTuple

from rich.cells import cell_len

from store.views.parts_values import HireOut
from store.views.tools.values import KitNow
from tui.colours import Ink
from tui.lane.axis import Axis
from tui.parts.canvas import Canvas, Piece
from tui.signs import Signs
from tui.tools.words import back_in_time, in_time, when

MARK, DIM, TEXT = Ink("promise", bold=True), Ink("dim"), Ink("text")


class Mark(NamedTuple):
    """A date on the line, and captions for it, the longest first."""

    at: datetime
    letter: str
    captions: tuple[tuple[Piece, ...], ...]


def marks_of(kit: KitNow, axis: Axis, signs: Signs) -> list[Mark]:
    """When hires come and go back; those to come first."""
    found: list[Mark] = []
    for hire in kit.hires:
        if hire.received_at is None and hire.expected is not None:
            words = f"comes {when(hire.expected, axis.zone, axis.at)}"
            found.append(Mark(hire.expected, signs.of("waiting"), (((words, DIM),), ())))
        if hire.due is not None:
            found.append(Mark(hire.due, signs.promise, _due(kit, hire, hire.due, axis)))
    return found


def _due(kit: KitNow, hire: HireOut, due: datetime, axis: Axis) -> tuple[tuple[Piece, ...], ...]:
    """`due Fri 12:00 likely 9 in 10`; what should move somebody is coloured."""
    words: Piece = (f"due {when(due, axis.zone, axis.at)}", TEXT)
    likely = in_time(kit, hire, axis.zone)
    if due <= axis.at:
        words = (words[0], Ink("blocked", bold=True))
    if likely is None or due <= axis.at:
        return ((words,), ())
    ink = Ink(likely.role, bold=likely.bad)
    return ((words, (f" {back_in_time(likely)}", ink)), (words,), ())


def paint_marks(
    canvas: Canvas, at: tuple[int, int, int], axis: Axis, kit: KitNow, signs: Signs
) -> None:
    """On the row under the band with captions; on the band itself where it has one row."""
    x, y, height = at
    row = y + 1 if height > 1 else y
    free = axis.width
    for mark in sorted(marks_of(kit, axis, signs), key=lambda one: one.at, reverse=True):
        place = axis.column(mark.at)
        if place >= axis.width:
            place = axis.width - 1
            _put(canvas, (x, row), axis, (place, free), mark._replace(letter=signs.becomes))
        elif place >= 0 and height == 1:
            canvas.dot(x + place, row, mark.letter, MARK)
        elif place >= 0 or height > 1:
            _put(canvas, (x, row), axis, (max(0, place), free), mark)
        free = min(free, max(0, place))


def _put(
    canvas: Canvas, at: tuple[int, int], axis: Axis, where: tuple[int, int], mark: Mark
) -> None:
    """The mark, and its caption right of it, else left of it: the first that fits."""
    (x, y), (place, free) = at, where
    canvas.dot(x + place, y, mark.letter, MARK)
    for pieces in mark.captions:
        size = sum(cell_len(text) for text, _ in pieces)
        if not size:
            return
        if place + 2 + size <= free:
            canvas.pieces(x + place + 2, y, pieces)
            return
        low = axis.now + 1 if place > axis.now else 0
        if place - 1 - size >= low:
            canvas.pieces(x + place - 1 - size, y, pieces)
            return
