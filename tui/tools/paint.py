"""Special tools for any size, as lines: answers, every kit on one time line, the one at hand."""

from __future__ import annotations

from typing import NamedTuple

from store.views.tools.values import KitNow
from tui.colours import Ink, Paint
from tui.keys import filled
from tui.lane.axis import ZOOMS, Axis, axis
from tui.lane.labels import paint_axis, paint_lines
from tui.parts.canvas import Canvas, Line, Piece
from tui.parts.lines import LEAST, paint_keys, paint_said, put_pieces, too_small
from tui.signs import KIT_LOUD, Signs
from tui.tools.head import head_rows, paint_answers, paint_header
from tui.tools.marks import paint_marks
from tui.tools.ramp import paint_ramp
from tui.tools.state import ROW, Row, Shown, ToolsState, at_rest, rows_of
from tui.tools.told import paint_told
from tui.tools.words import back_in_time, back_words, state_words
from tui.words import chance, cut

DIM, TEXT, BOLD = Ink("dim"), Ink("text"), Ink("text", bold=True)
FOOT = 2
NAME = 2
"""First cell of names."""
SAYS = 17
"""First cell of what a loud word is about."""
NARROW, TALL = 72, 30
"""Under so many cells there is no lane; from so many rows on more is told of one kit."""
MOST_TOLD = 20
AHEAD_DAYS = 6
"""Working days that the line shows at least: a hire is ordered for the week to come."""


class Laid(NamedTuple):
    """Where things stand: rows of the list and of what is told, the lane's first cell."""

    top: int
    rows: int
    told: int
    gutter: int


def tools_lines(
    shown: Shown, size: tuple[int, int], paint: Paint, signs: Signs, state: ToolsState
) -> list[Line]:
    """All kits as exactly height lines of exactly width cells."""
    used = signs.without_colour() if paint.monochrome else signs
    return tools_canvas(shown, size, used, state).lines(paint)


def tools_canvas(shown: Shown, size: tuple[int, int], signs: Signs, state: ToolsState) -> Canvas:
    """The same before it is coloured."""
    canvas = Canvas(*size)
    width, height = size
    if width < LEAST[0] or height < LEAST[1]:
        too_small(canvas)
        return canvas
    paint_header(canvas, shown, state, signs)
    if shown.tools.kits:
        paint_answers(canvas, 1, shown, signs)
        _list(canvas, laid_out(shown, size, state), shown, (state, signs))
    else:
        _empty(canvas)
    paint_said(canvas, height - FOOT, state.said or "", signs)
    paint_keys(canvas, height - 1, state.keys, signs)
    return canvas


def laid_out(shown: Shown, size: tuple[int, int], state: ToolsState) -> Laid:
    """Rows and cells of a page of that size; what the list does not need is told of one kit."""
    width, height = size
    top = head_rows(shown) + 1
    room = height - FOOT - top
    least = 5 if height < TALL else 12
    wanted = sum(row.height for row in rows_of(shown, state, room))
    told = max(least, min(MOST_TOLD, room - wanted))
    return Laid(top, room - told, told, gutter_of(width))


def gutter_of(width: int) -> int:
    """The lane's first cell; 0 where there is no lane."""
    if width < NARROW:
        return 0
    return 28 if width < 112 else 36 if width < 160 else 46


def axis_of(shown: Shown, width: int, zoom: int | None) -> Axis:
    """The time line: the finest that shows so many working days ahead, or as it was asked for."""
    calendar, at = shown.tools.calendar, shown.tools.at
    if zoom is not None:
        return axis(calendar, at, width, zoom)
    found = axis(calendar, at, width, ZOOMS[-1])
    for minutes in ZOOMS[2:]:
        found = axis(calendar, at, width, minutes)
        if found.days_ahead > AHEAD_DAYS:
            break
    return found


def _list(canvas: Canvas, laid: Laid, shown: Shown, how: tuple[ToolsState, Signs]) -> None:
    state, signs = how
    along = None
    if laid.gutter:
        along = axis_of(shown, canvas.width - laid.gutter - 1, state.zoom)
        paint_axis(canvas, (laid.gutter, laid.top - 1), along)
    rows = visible(rows_of(shown, state, laid.rows), laid.rows, state.cursor)
    _beyond(canvas, laid, rows[1], signs)
    y = laid.top
    for row in rows[0]:
        _row(canvas, (y, along), row, shown, (laid, state, signs))
        y += row.height
    paint_told(canvas, canvas.height - FOOT - laid.told, laid.told, shown, how)


def visible(rows: list[Row], room: int, cursor: str | None) -> tuple[list[Row], tuple[int, int]]:
    """The lines that fit round the one that one stands on, and how many are above and below.

    One moves through pages, so that lines keep their places while one goes through them.
    """
    pages: list[list[Row]] = [[]]
    for row in rows:
        if pages[-1] and sum(one.height for one in pages[-1]) + row.height > room:
            pages.append([])
        pages[-1].append(row)
    here = next((n for n, page in enumerate(pages) if any(r.name == cursor for r in page)), 0)
    above = sum(len(page) for page in pages[:here])
    return pages[here], (above, len(rows) - above - len(pages[here]))


def _beyond(canvas: Canvas, laid: Laid, more: tuple[int, int], signs: Signs) -> None:
    above, below = more
    parts = [f"{above} above"] if above else []
    parts += [f"{below} more below"] if below else []
    room = (laid.gutter or canvas.width) - NAME
    canvas.put(NAME, laid.top - 1, cut(", ".join(parts), room - 1, signs.more), Ink("due"))


def _row(
    canvas: Canvas, at: tuple[int, Axis | None], row: Row, shown: Shown,
    how: tuple[Laid, ToolsState, Signs],
) -> None:  # fmt: skip
    (y, along), (laid, state, signs) = at, how
    canvas.spot(0, y, (canvas.width, row.height), f"{ROW}{row.name}")
    if row.kit is not None:
        if along is not None:
            paint_lines(canvas, (laid.gutter, y), on_lane(row), along, signs)
            paint_ramp(canvas, (laid.gutter, y), along, row.kit, signs)
        _kit(canvas, y, row, row.kit, (laid, signs))
        if along is not None:
            paint_marks(canvas, (laid.gutter, y, on_lane(row)), along, row.kit, signs)
    else:
        _words(canvas, y, row, shown, signs)
    if row.name == state.cursor:
        ends = laid.gutter - 1 if laid.gutter and row.kit is not None else canvas.width
        canvas.ground(0, y, ends, max(1, row.height - 1), "pick")
        canvas.put(0, y, signs.of("running"), Ink("text", bold=True, ground="pick"))


def _kit(canvas: Canvas, y: int, row: Row, kit: KitNow, how: tuple[Laid, Signs]) -> None:
    laid, signs = how
    room = (laid.gutter or canvas.width) - NAME - 1
    ink = BOLD if row.kind == "loud" else DIM if row.kind == "rest" else TEXT
    canvas.put(NAME, y, cut(kit.name, room, signs.more), ink)
    if on_lane(row) > 1:
        canvas.put(NAME, y + 1, cut(state_words(kit, signs), room, signs.more), DIM)
    x, last = NAME, y + row.height - 1
    if row.kind == "loud" and kit.verb is not None:
        loud = KIT_LOUD[kit.verb]
        word = f" {signs.of(loud.state)} {kit.verb} "
        x = max(canvas.put(NAME, last, word, Ink(loud.role, loud=True)) + 1, NAME + SAYS)
    elif row.height < 3:
        return
    pieces = said_pieces(kit, TEXT if kit.verb else DIM)
    put_pieces(canvas, (x, last), pieces, canvas.width - 1 - x, signs)


def on_lane(row: Row) -> int:
    """Rows of a line that have the lane beside them: the last one of a loud one is words."""
    return row.height - 1 if row.kind == "loud" else min(2, row.height)


def said_pieces(kit: KitNow, ink: Ink) -> list[Piece]:
    """What is said of it, then how likely that is to go well."""
    pieces: list[Piece] = [(kit.says, ink)]
    if kit.chance is not None:
        found = chance(kit.chance)
        pieces += [("  ", ink), (back_in_time(found), Ink(found.role, bold=found.bad))]
    return pieces


def _words(canvas: Canvas, y: int, row: Row, shown: Shown, signs: Signs) -> None:
    """A hire that went back, or all kits at rest, on one line."""
    zone, now = shown.tools.calendar.zone, shown.tools.at
    if row.back is not None:
        x = canvas.put(NAME, y, f"{signs.of('outwork')} {row.back.name}", DIM) + 2
        text = back_words(row.back, zone, now)
        canvas.put(x, y, cut(text, canvas.width - 1 - x, signs.more), DIM)
        return
    rest = [one.name for one in shown.tools.kits if at_rest(one)]
    x = canvas.put(NAME, y, f"{signs.of('free')} {len(rest)} at rest", TEXT) + 2
    canvas.put(x, y, cut("; ".join(rest), canvas.width - 1 - x, signs.more), DIM)


def _empty(canvas: Canvas) -> None:
    """What will stand here, and what begins it."""
    lines = (
        "Special tools stand here: where each is, who needs it when, what is hired and due.",
        filled("Kits come with the work book: {floor.work-book} on the floor, then {book.take} or"
               " {book.load}."),
    )  # fmt: skip
    for y, text in enumerate(lines, 2):
        canvas.put(1, y, cut(text, canvas.width - 2), DIM)
