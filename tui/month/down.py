"""One step down from a figure: what it is, and the lines that it is made of."""

from __future__ import annotations

from datetime import datetime, tzinfo
from typing import NamedTuple

from store.views.month.values import Month
from tui.colours import Ink
from tui.month.sheet import BOLD, DIM, TEXT
from tui.month.state import ROW, Level, Line, MonthState
from tui.papers.month_words import told
from tui.parts.canvas import Canvas
from tui.signs import Signs
from tui.words import MONTHS, cut, local, wrapped, zone_of

FIGURE, WHEN, WHERE = 15, 14, 10
"""Cells of a line's figure, of when it fell, of its job and phase."""
DETAIL = 3
"""Rows below the lines for all that is said of the one that one stands on."""
NOTHING_BELOW = "Nothing stands below this: no entry made it."


class Columns(NamedTuple):
    """Whether any line says where and when; without them there is more room for words."""

    where: bool
    when: bool


def paint_down(
    canvas: Canvas, rows: tuple[int, int], found: Month, state: MonthState, signs: Signs
) -> None:
    """The way from the page to here in the first row, then what it is, then its lines."""
    (y, end), level = rows, state.path[-1]
    way = f" {signs.becomes} ".join(one.line.way.says for one in state.path)
    canvas.put(2, y - 1, cut(way, canvas.width - 12, signs.more), BOLD)
    value = level.line.way.value
    says = "" if value is None else f"{told(value, level.line.unit, found.currency)}. "
    y = _words(canvas, y, says + level.line.explained, 4) + 1
    if not level.line.below:
        canvas.put(2, y, NOTHING_BELOW, DIM)
        return
    room = max(1, end - y - DETAIL - 1)
    _lines(canvas, (y, room), level, found, signs)
    if level.here is not None:
        _words(canvas, end - DETAIL, _all_of(level.here), DETAIL, TEXT)


def _words(canvas: Canvas, y: int, text: str, most: int, ink: Ink = DIM) -> int:
    for line in wrapped(text, canvas.width - 4)[:most]:
        canvas.put(2, y, line, ink)
        y += 1
    return y


def _all_of(line: Line) -> str:
    """What is said of a line, in full."""
    parts = (line.way.says, line.explained)
    return ": ".join(one for one in parts if one)


def _lines(canvas: Canvas, rows: tuple[int, int], level: Level, found: Month, signs: Signs) -> None:
    (y, room), below = rows, level.line.below
    columns = Columns(
        any(one.way.job for one in below),
        canvas.width >= 76 and any(one.way.at for one in below),
    )
    first = first_row(level, room)
    for n in range(first, min(len(below), first + room)):
        _line(canvas, y + n - first, below[n], (found, columns, signs))
        canvas.spot(0, y + n - first, (canvas.width, 1), f"{ROW}{n}")
        if n == level.at:
            canvas.ground(0, y + n - first, canvas.width, 1, "pick")
            canvas.put(0, y + n - first, signs.of("running"), Ink("text", bold=True, ground="pick"))
    if len(below) > room:
        canvas.right(canvas.width - 1, 1, f"{level.at + 1} of {len(below)}", Ink("due"))


def first_row(level: Level, room: int) -> int:
    """The first line shown: one turns pages, so that lines keep their places."""
    return level.at // max(1, room) * room


def _line(canvas: Canvas, y: int, line: Line, how: tuple[Month, Columns, Signs]) -> None:
    found, columns, signs = how
    way, x, end = line.way, 2, canvas.width - 1
    if way.value is not None:
        canvas.right(end, y, told(way.value, line.unit, found.currency), TEXT)
        end -= FIGURE
    if columns.when:
        end = canvas.width - 1 - FIGURE
        canvas.put(end - WHEN, y, _when(way.at, found, zone_of(found.zone)), DIM)
        end -= WHEN + 1
    if columns.where:
        where = f"{way.job}.{way.phase}" if way.phase else way.job or ""
        canvas.put(x, y, cut(where, WHERE - 1, signs.more), DIM)
        x += WHERE
    further = bool(line.below or way.events or way.job)
    canvas.put(x, y, cut(way.says, end - x - 1, signs.more), TEXT if further else DIM)


def _when(at: datetime | None, found: Month, zone: tzinfo) -> str:
    """`14 Sep 10:40`; with the year instead of the hour where that is another one."""
    if at is None:
        return ""
    here = local(at, zone)
    day = f"{here.day} {MONTHS[here.month - 1]}"
    same = here.year == found.span.first.year
    return f"{day} {here:%H:%M}" if same else f"{day} {here.year}"
