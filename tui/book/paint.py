"""The work book for any size: a line each, hours and odds in columns."""

from __future__ import annotations

from datetime import datetime, timedelta

from tui import keys
from tui.book.state import BookLine, BookState, lines_of
from tui.colours import Ink
from tui.parts.canvas import ON_SCREEN, Canvas
from tui.parts.lines import LEAST, paint_keys, paint_rule, paint_said, too_small
from tui.parts.said import said_rows
from tui.signs import Signs
from tui.words import counted, cut, full_date, wrapped, zone_of

DIM, TEXT, BOLD = Ink("dim"), Ink("text"), Ink("text", bold=True)
TOP, FOOT = 3, 2
CELL = 8
"""Cells of one figure."""
LINE = f"{ON_SCREEN}book "
EMPTY = (
    "No work book yet: what the shop sells, phase by phase, with its hours. "
    "{book.add} writes a first operation; {book.take} takes the demo's operations to put right; "
    "{book.load} loads a file."
)
NOTE = "Book and learned hours are the usual vehicle's, surprises left out."


def book_canvas(state: BookState, size: tuple[int, int], signs: Signs, said: str) -> Canvas:
    """The page before it is coloured."""
    canvas = Canvas(*size)
    if size[0] < LEAST[0] or size[1] < LEAST[1]:
        too_small(canvas)
        return canvas
    width, height = size
    _head(canvas, state, signs)
    lines = lines_of(state)
    room = max(1, height - TOP - FOOT - max(0, said_rows(said, width) - 1))
    first = min(max(0, state.here - room + 2), max(0, len(lines) - room))
    for nth, line in enumerate(lines[first : first + room]):
        y = TOP + nth
        _paint(canvas, y, line, signs)
        canvas.spot(0, y, (width, 1), f"{LINE}{first + nth}")
        if first + nth == state.here:
            canvas.ground(0, y, width, 1, "pick")
            canvas.put(1, y, signs.of("running"), Ink("text", bold=True, ground="pick"))
    if not lines:
        for nth, text in enumerate(wrapped(keys.filled(EMPTY), width - 6)):
            canvas.put(3, TOP + 1 + nth, text, TEXT)
    paint_said(canvas, height - 2, said or (NOTE if state.opened is None and lines else ""), signs)
    paint_keys(canvas, height - 1, keys.last_row(keys.BOOK), signs)
    return canvas


def rows_of(height: int) -> int:
    """Lines that a screen so high shows."""
    return max(1, height - TOP - FOOT)


def _head(canvas: Canvas, state: BookState, signs: Signs) -> None:
    width, view = canvas.width, state.view
    book = view.book
    noon = datetime.combine(view.from_day, datetime.min.time(), zone_of(view.zone))
    since = full_date(noon + timedelta(hours=12), zone_of(view.zone))
    right = f"version {view.version}, from {since} {view.from_day.year}" if book else "none yet"
    start = canvas.right(width - 1, 0, right, TEXT)
    canvas.put(1, 0, cut(book.name if book else "work book", start - 3, signs.more), BOLD)
    operation = book.operations.get(state.opened or "") if book else None
    titles = ("low", "book", "high", "learned") if operation else ("book h", "learned", "jobs")
    for nth, title in enumerate(reversed(titles)):
        canvas.right(width - 1 - nth * CELL, 1, title, DIM)
    named = f"{operation.code}  {operation.name}" if operation else (
        counted(len(view.operations), "operation")
    )  # fmt: skip
    room = width - 3 - len(titles) * CELL
    canvas.put(1, 1, cut(named, room, signs.more), BOLD if operation else DIM)
    paint_rule(canvas, 2, (0, width), "what it takes, hours of labour", signs)


def _paint(canvas: Canvas, y: int, line: BookLine, signs: Signs) -> None:
    width = canvas.width
    if line.kind == "title":
        canvas.put(2, y, cut(line.text, width - 4, signs.more), DIM)
        return
    right = width - 1
    cell = CELL if line.kind in ("operation", "phase", "family") else CELL + 2
    for figure in reversed(line.figures):
        canvas.right(right, y, figure, TEXT)
        right -= cell
    x = 3 + 2 * line.indent
    canvas.put(x, y, cut(line.text, right - x - 1, signs.more), TEXT if not line.indent else DIM)
