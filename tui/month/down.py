"""One step down from a figure: what it is, and the lines that it is made of."""

from __future__ import annotations

from datetime import datetime, tzinfo

from store.views.month_values import Month
from tui.colours import Ink
from tui.month.sheet import BOLD, DIM, TEXT
from tui.month.state import ROW, Level, Line, MonthState
from tui.papers.month_words import told
from tui.parts.canvas import Canvas
from tui.signs import Signs
from tui.words import MONTHS, cut, local, wrapped, zone_of

FIGURE, WHEN, WHERE = 14, 14, 10
"""Cells of a line's figure, of when it fell, of its job and phase."""
NOTHING_BELOW = "Nothing stands below this: no entry made it."


def paint_down(
    canvas: Canvas, rows: tuple[int, int], found: Month, state: MonthState, signs: Signs
) -> None:
    """The way from the page to here in the first row, then what it is, then its lines."""
    (y, end), level = rows, state.path[-1]
    way = f" {signs.becomes} ".join(one.line.way.says for one in state.path)
    canvas.put(2, y - 1, cut(way, canvas.width - 3, signs.more), BOLD)
    value = level.line.way.value
    says = "" if value is None else f"{told(value, level.line.unit, found.currency)}. "
    for text in wrapped(says + level.line.explained, canvas.width - 4)[:4]:
        canvas.put(2, y, text, DIM)
        y += 1
    y += 1
    below = level.line.below
    if not below:
        canvas.put(2, y, NOTHING_BELOW, DIM)
        return
    first = first_row(level, end - y)
    for n in range(first, min(len(below), first + end - y)):
        _line(canvas, y + n - first, below[n], (found, n == level.at, signs))
        canvas.spot(0, y + n - first, (canvas.width, 1), f"{ROW}{n}")
    if len(below) > end - y:
        text = f"{level.at + 1} of {len(below)}"
        canvas.right(canvas.width - 1, rows[0] - 1, f"  {text}", Ink("due"))


def first_row(level: Level, room: int) -> int:
    """The first line shown: one turns pages, so that lines keep their places."""
    return level.at // max(1, room) * room


def _line(canvas: Canvas, y: int, line: Line, how: tuple[Month, bool, Signs]) -> None:
    found, here, signs = how
    way, width = line.way, canvas.width
    end = width - 1
    if way.value is not None:
        canvas.right(end, y, told(way.value, line.unit, found.currency), TEXT)
    end -= FIGURE
    if width >= 76:
        canvas.put(end - WHEN, y, _when(way.at, found, zone_of(found.zone)), DIM)
        end -= WHEN + 1
    where = f"{way.job}.{way.phase}" if way.phase else way.job or ""
    canvas.put(2, y, cut(where, WHERE - 1, signs.more), DIM)
    further = bool(line.below or way.events or way.job)
    x = 2 + WHERE
    canvas.put(x, y, cut(way.says, end - x - 1, signs.more), TEXT if further else DIM)
    if here:
        canvas.ground(0, y, width, 1, "pick")
        canvas.put(0, y, signs.of("running"), Ink("text", bold=True, ground="pick"))


def _when(at: datetime | None, found: Month, zone: tzinfo) -> str:
    """`14 Sep 10:40`; with the year instead of the hour where that is another one."""
    if at is None:
        return ""
    here = local(at, zone)
    day = f"{here.day} {MONTHS[here.month - 1]}"
    same = here.year == found.span.first.year
    return f"{day} {here:%H:%M}" if same else f"{day} {here.year}"
