"""The desk for any size, as lines: what wants whom, then every group in the order of a job's way.

The name of a group stands once, left of its first line, as on a job card. What wants somebody is
loud, all else is quiet.
"""

from __future__ import annotations

from typing import NamedTuple

from rich.cells import cell_len

from tui.colours import Ink, Paint
from tui.desk.head import paint_header, paint_sentence
from tui.desk.state import ROW, DeskState, Group, Row, Shown
from tui.keys import filled
from tui.parts.canvas import Canvas, Line
from tui.parts.lines import LEAST, paint_keys, paint_said, too_small
from tui.parts.loud import put_loud
from tui.signs import LOUD, Signs
from tui.words import cut, wrapped

DIM, TEXT, BOLD = Ink("dim"), Ink("text"), Ink("text", bold=True)
TOP, FOOT = 4, 2
"""Rows of header, sentence and gap; rows of what was said and keys."""
ROOMY = 80
"""From so many cells on there is a column for what a job is about."""
TALL = 30
"""From so many rows on more is told of one line."""
NUMBER = 5
LABEL = 12
"""First cell beside the names of groups."""


class Columns(NamedTuple):
    """First cells of the columns."""

    number: int
    vehicle: int
    about: int
    says: int
    end: int


class Place(NamedTuple):
    """One row of the list: a line of a group, or an empty row (`row` None)."""

    group: Group
    row: Row | None
    nth: int


def desk_lines(
    desk: Shown, size: tuple[int, int], paint: Paint, signs: Signs, state: DeskState
) -> list[Line]:
    """The desk as exactly height lines of exactly width cells."""
    shown = signs.without_colour() if paint.monochrome else signs
    return desk_canvas(desk, size, shown, state).lines(paint)


def desk_canvas(desk: Shown, size: tuple[int, int], signs: Signs, state: DeskState) -> Canvas:
    """The same before it is coloured."""
    canvas = Canvas(*size)
    width, height = size
    if width < LEAST[0] or height < LEAST[1]:
        too_small(canvas)
        return canvas
    paint_header(canvas, desk, state, signs)
    paint_sentence(canvas, 1, desk, signs)
    if desk.rows:
        _list(canvas, rows_of(desk, height), desk, state, signs)
        _told(canvas, desk, state, signs)
    else:
        _empty(canvas)
    paint_said(canvas, height - 2, state.said or "", signs)
    paint_keys(canvas, height - 1, state.keys, signs)
    return canvas


def columns(width: int) -> Columns:
    """The columns for a page of so many cells; on a narrow one without what a job is about."""
    vehicle = LABEL + NUMBER
    room = width - 1 - vehicle
    about = vehicle + max(15, min(34, room // 4)) + 2
    says = about if width < ROOMY else about + max(14, min(52, room // 4)) + 2
    return Columns(LABEL, vehicle, about, says, width - 1)


def places(desk: Shown, room: int) -> list[Place]:
    """Every row of the list; groups are parted where there is room for it."""
    groups = [one for one in desk.groups if one.rows]
    parted = len(desk.rows) + len(groups) - 1 <= room
    found: list[Place] = []
    for group in groups:
        if parted and found:
            found.append(Place(group, None, -1))
        found += [Place(group, row, n) for n, row in enumerate(group.rows)]
    return found


def rows_of(desk: Shown, height: int) -> int:
    """Rows that the list has."""
    return height - TOP - FOOT - told_rows(desk, height) - 1


def _list(canvas: Canvas, room: int, desk: Shown, state: DeskState, signs: Signs) -> None:
    """As much of the list as fits round the line that one stands on."""
    every = places(desk, room)
    here = next((n for n, one in enumerate(every) if one.row and one.row.job == state.cursor), 0)
    first = min(max(0, here - room // 2), max(0, len(every) - room))
    at = columns(canvas.width)
    for y, place in enumerate(every[first : first + room], TOP):
        if place.row is None:
            continue
        if place.nth == 0 or y == TOP:
            canvas.put(1, y, cut(place.group.name, at.number - 3, signs.more), DIM)
        elif place.nth == 1 and place.group.more:
            canvas.put(1, y, cut(f"{place.group.more} more", at.number - 3, signs.more), DIM)
        _row(canvas, y, place.row, at, signs)
        canvas.spot(at.number, y, (at.end - at.number, 1), f"{ROW}{place.row.job}")
        if place.row.job == state.cursor:
            canvas.ground(at.number - 2, y, canvas.width - at.number + 2, 1, "pick")
            canvas.put(at.number - 2, y, signs.of("running"), Ink("text", True, ground="pick"))
    _beyond(canvas, (first, len(every) - first - room), signs)


def _beyond(canvas: Canvas, more: tuple[int, int], signs: Signs) -> None:
    """How many lines are above and below those shown, on the row under the sentence."""
    above, below = more
    parts = [f"{above} above"] if above > 0 else []
    parts += [f"{below} more below"] if below > 0 else []
    if parts:
        canvas.right(canvas.width - 1, TOP - 1, ", ".join(parts), Ink("due"))


def _row(canvas: Canvas, y: int, row: Row, at: Columns, signs: Signs) -> None:
    quiet = row.state == "out"
    canvas.put(at.number, y, row.job, DIM if quiet else BOLD)
    room = at.about - at.vehicle - 2
    called = f"{row.vehicle} {row.plate}".rstrip()
    called = called if cell_len(called) <= room else row.vehicle
    canvas.put(at.vehicle, y, cut(called, room, signs.more), TEXT)
    if at.says > at.about:
        canvas.put(at.about, y, cut(row.about, at.says - at.about - 2, signs.more), DIM)
    if row.loud:
        role = LOUD[row.loud].role
        x = put_loud(canvas, (at.says - 1, y), row.loud, signs, Ink(role, loud=True)) + 1
        canvas.put(x, y, cut(row.says, at.end - x, signs.more), TEXT)
        return
    x = canvas.put(at.says, y, f"{signs.of(row.state)} ", Ink(row.role, bold=True))
    canvas.put(x, y, cut(row.says, at.end - x, signs.more), Ink(row.role))


def told_rows(desk: Shown, height: int) -> int:
    """Rows under the list that tell more of one line: always as many, so that nothing jumps."""
    return 0 if not desk.rows else 2 if height < TALL else 4


def _told(canvas: Canvas, desk: Shown, state: DeskState, signs: Signs) -> None:
    """More of the line that one stands on, above the last rows."""
    many = told_rows(desk, canvas.height)
    row = desk.row(state.cursor)
    if not many or row is None:
        return
    room = canvas.width - 3 - NUMBER
    lines = [line for text in row.told for line in wrapped(text, room)]
    if len(lines) > many:
        lines = [*lines[: many - 1], cut(" ".join(lines[many - 1 :]), room, signs.more)]
    top = canvas.height - FOOT - many
    canvas.fill(0, top - 1, canvas.width, Ink("line"), signs.rule)
    canvas.put(1, top, row.job, BOLD)
    for y, line in enumerate(lines, top):
        canvas.put(1 + NUMBER, y, line, TEXT)


def _empty(canvas: Canvas) -> None:
    """What will stand here, and the keys that begin it."""
    lines = (
        "Calls, arrivals, checks, quotes and what waits for a lift stand here.",
        filled("{desk.enquiry} takes a call down.  {desk.new} works out what a job would take."),
    )
    for y, text in enumerate(lines, TOP):
        canvas.put(1, y, text, DIM)
