"""The page of lists: everybody's work in its order, then what could go on and is nobody's."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from store.views.assigned_values import Assigned, Work, WorkList
from tui import keys
from tui.colours import Ink
from tui.lists.words import away_words, clock_words, is_late, turn_words
from tui.parts.canvas import ON_SCREEN, Canvas
from tui.parts.lines import LEAST, paint_keys, paint_rule, paint_said, too_small
from tui.signs import Signs
from tui.words import cut, day_time, hours, moment

DIM, TEXT, BOLD = Ink("dim"), Ink("text"), Ink("text", bold=True)
TOP, FOOT = 2, 2
"""Rows above and under the lists."""
NTH, WHERE, NAME = 3, 6, 15
"""First cells of the columns."""
PLACE_CELLS, HOURS_CELLS, PROMISE_CELLS = 7, 7, 13
WITH_PLACE = 72
"""From here on there is room for where it stands."""
WIDE = 112
"""From here on there is room for when it is likely to be worked on."""
MOST = 128
"""Cells beyond which columns do not go further apart: an eye must find the line again."""
LINE = f"{ON_SCREEN}line "
"""What a press of a line presses; then its place."""


class Spot(NamedTuple):
    """A line one can stand on.

    Attributes:
        badge: whose list it is on; "" is nobody's.
        work: None where nothing is on the list.
    """

    badge: str
    work: Work | None

    @property
    def name(self) -> tuple[str, str]:
        """By which it is found again when the lists were read anew."""
        return self.badge, self.work.where if self.work else ""


@dataclass(frozen=True, slots=True)
class _Row:
    """One row of the page: a head, or a line at its place among those one can stand on."""

    head: str = ""
    spot: Spot | None = None
    nth: int = 0
    at: int = -1
    away: bool = False


def spots_of(view: Assigned) -> list[Spot]:
    """Every line one can stand on, from the top down."""
    return [row.spot for row in _rows(view) if row.spot is not None]


def _rows(view: Assigned) -> list[_Row]:
    found: list[_Row] = []
    at = 0
    for person in view.people:
        if person.role != "technician" and not person.works:
            continue
        found.append(_Row(_head(view, person)))
        away = person.absence is not None and person.absence.since <= view.at
        for nth, work in enumerate(person.works or (None,), 1):
            found.append(_Row(spot=Spot(person.badge, work), nth=nth, at=at, away=away))
            at += 1
    if view.nobodys:
        found.append(_Row("nobody's, could go on now"))
    for work in view.nobodys:
        found.append(_Row(spot=Spot("", work), at=at))
        at += 1
    return found


def _head(view: Assigned, person: WorkList) -> str:
    parts = [away_words(view, person)] if person.absence else []
    return "   ".join([person.name, clock_words(view, person), *parts])


def lists_canvas(
    view: Assigned, here: int, size: tuple[int, int], signs: Signs, said: str
) -> Canvas:
    """The page; `here` is the place of the line one stands on."""
    canvas = Canvas(*size)
    width, height = size
    if width < LEAST[0] or height < LEAST[1]:
        too_small(canvas)
        return canvas
    canvas.put(1, 0, "who does what next", BOLD)
    canvas.right(width - 1, 0, moment(view.at, view.calendar.zone), TEXT)
    rows, room = _rows(view), height - TOP - FOOT
    _titles(canvas, _columns(width))
    if not rows:
        canvas.put(3, TOP, 'Nobody yet.  F9, "people", adds the first.', DIM)
    shown = next((n for n, row in enumerate(rows) if row.at == here), 0)
    first = min(max(0, shown - room // 2), max(0, len(rows) - room))
    for y, row in enumerate(rows[first : first + room], TOP):
        if row.spot is None:
            paint_rule(canvas, y, (0, width), cut(row.head, width - 6, signs.more), signs)
            continue
        _line(canvas, y, view, row, signs)
        canvas.spot(0, y, (width, 1), f"{LINE}{row.at}")
        if row.at == here:
            canvas.ground(0, y, width, 1, "pick")
            canvas.put(1, y, signs.of("running"), Ink("text", bold=True, ground="pick"))
    paint_said(canvas, height - 2, said, signs)
    paint_keys(canvas, height - 1, keys.last_row(keys.LISTS), signs)
    return canvas


def _line(canvas: Canvas, y: int, view: Assigned, row: _Row, signs: Signs) -> None:
    work = row.spot.work if row.spot else None
    if work is None:
        canvas.put(WHERE, y, "nothing next", DIM if row.away else Ink("due"))
        return
    if row.spot is not None and row.spot.badge:
        canvas.put(NTH, y, str(row.nth), DIM)
    canvas.put(WHERE, y, work.where, BOLD)
    start = _right(canvas, y, view, work, signs)
    name = cut(work.name, start - NAME - 1, signs.more)
    after = canvas.put(NAME, y, name, TEXT) + 3
    if start - after > PLACE_CELLS:
        canvas.put(after, y, cut(work.vehicle, start - after - 2, signs.more), DIM)


class _Columns(NamedTuple):
    """Cells of the columns right of the name: where hours and dates end, where words begin."""

    promise: int
    hours: int
    done: int | None
    turn: int
    turn_cells: int


def _columns(width: int) -> _Columns:
    promise = min(width, MOST) - 1
    left = promise - PROMISE_CELLS
    wide = width >= WIDE
    done = left - HOURS_CELLS - 2 if wide else None
    cells = 30 if wide else 16
    turn = left - HOURS_CELLS - 2 - (15 if wide else 0) - cells
    return _Columns(promise, left, done, turn, cells)


def _titles(canvas: Canvas, columns: _Columns) -> None:
    canvas.put(columns.turn, 1, "can go on", DIM)
    if columns.done is not None:
        canvas.right(columns.done, 1, "likely done", DIM)
    canvas.right(columns.hours, 1, "left", DIM)
    canvas.right(columns.promise, 1, "promised", DIM)


def _right(canvas: Canvas, y: int, view: Assigned, work: Work, signs: Signs) -> int:
    """What stands right of the name, column by column; returns where it begins."""
    zone, columns = view.calendar.zone, _columns(canvas.width)
    if work.promise is not None:
        late = is_late(work)
        when = f"{'! ' if late else ''}{day_time(work.promise, zone, view.at)}"
        canvas.right(columns.promise, y, when, Ink("behind", bold=True) if late else DIM)
    canvas.right(columns.hours, y, hours(work.left_h), TEXT)
    if columns.done is not None and work.likely is not None:
        canvas.right(columns.done, y, day_time(work.likely[1], zone, view.at), DIM)
    turn = cut(turn_words(work), columns.turn_cells - 1, signs.more)
    canvas.put(columns.turn, y, turn, Ink("ahead") if work.begins else DIM)
    if not work.place or canvas.width < WITH_PLACE:
        return columns.turn
    place = columns.turn - PLACE_CELLS - 1
    canvas.put(place, y, cut(work.place, PLACE_CELLS, signs.more), DIM)
    return place
