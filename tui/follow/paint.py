"""The list of follow-ups for any size, as lines: what is overdue is loud and first."""

from __future__ import annotations

from datetime import date, timedelta
from typing import NamedTuple

from store.views.follow_ups import FollowUp, FollowUps
from tui.colours import Ink, Paint
from tui.follow.state import ROW, FollowState
from tui.follow.words import due_words, said
from tui.keys import filled
from tui.parts.canvas import Canvas, Line
from tui.parts.lines import LEAST, paint_keys, paint_said, too_small
from tui.parts.loud import put_loud
from tui.signs import LOUD, Signs
from tui.words import counted, cut, moment, wrapped, zone_of

DIM, TEXT, BOLD = Ink("dim"), Ink("text"), Ink("text", bold=True)
ON_PANEL, DIM_PANEL = Ink("text", bold=True, ground="panel"), Ink("dim", ground="panel")
TOP, FOOT = 4, 2
"""Rows of header, sentence and gap; rows of what was said and keys."""
TALL, ROOMY = 30, 80
WEEK = timedelta(days=7)
CALM = "Nothing is overdue."


class Columns(NamedTuple):
    """First cells of the columns."""

    due: int
    job: int
    vehicle: int
    what: int
    who: int
    end: int


def name_of(one: FollowUp) -> str:
    """`2417.3`"""
    return f"{one.job}.{one.line}"


def follow_lines(
    found: FollowUps, size: tuple[int, int], paint: Paint, signs: Signs, state: FollowState
) -> list[Line]:
    """The list as exactly height lines of exactly width cells."""
    shown = signs.without_colour() if paint.monochrome else signs
    return follow_canvas(found, size, shown, state).lines(paint)


def follow_canvas(
    found: FollowUps, size: tuple[int, int], signs: Signs, state: FollowState
) -> Canvas:
    """The same before it is coloured."""
    canvas = Canvas(*size)
    width, height = size
    if width < LEAST[0] or height < LEAST[1]:
        too_small(canvas)
        return canvas
    _header(canvas, found, state, signs)
    _sentence(canvas, found, signs)
    if found.lines:
        _list(canvas, found, state, signs)
        _told(canvas, found, state, signs)
    else:
        canvas.put(1, TOP, "What is to be done in the months after a job stands here.", DIM)
        canvas.put(1, TOP + 1, filled("A hand-over sets it: {job.close} on the job card."), DIM)
    paint_said(canvas, height - 2, state.said or "", signs)
    paint_keys(canvas, height - 1, state.keys, signs)
    return canvas


def columns(width: int) -> Columns:
    """The columns for a page of so many cells; a narrow one says nothing of who does it."""
    vehicle = 24
    what = vehicle + max(14, min(30, (width - vehicle) // 4)) + 2
    who = width - 1 if width < ROOMY else width - 19
    return Columns(3, 15, vehicle, what, who, width - 1)


def told_rows(found: FollowUps, height: int) -> int:
    """Rows under the list that tell more of one line: always as many, so that nothing jumps."""
    return 0 if not found.lines else 4 if height < TALL else 5


def _header(canvas: Canvas, found: FollowUps, state: FollowState, signs: Signs) -> None:
    now = moment(found.at, zone_of(found.zone))
    middle = f" ! AS OF {state.stale} " if state.stale else now
    start = max(2, (canvas.width - len(now)) // 2)
    canvas.put(start, 0, middle, Ink("due", loud=True) if state.stale else BOLD)
    canvas.put(1, 0, cut("follow-ups", start - 3, signs.more), BOLD)
    room = canvas.width - 1 - start - len(middle) - 2
    canvas.right(canvas.width - 1, 0, cut(state.who, room, signs.more), DIM)


def _sentence(canvas: Canvas, found: FollowUps, signs: Signs) -> None:
    """Two rows: what is most overdue, or comes first; and how much is to come."""
    canvas.ground(0, 1, canvas.width, 2, "panel")
    end, x = canvas.width - 1, 1
    first = found.lines[0] if found.lines else None
    if first is not None and first.overdue:
        x = put_loud(canvas, (1, 1), "DUE", signs, Ink(LOUD["DUE"].role, True, True, "panel")) + 2
        says = f"{first.job} {first.vehicle}: {first.what}"
        canvas.put(x, 1, cut(says, end - x, signs.more), ON_PANEL)
    else:
        x = canvas.put(1, 1, CALM, Ink("ahead", bold=True, ground="panel")) + 2
        if first is not None:
            says = f"Next: {first.job}, {due_words(first, found.today)}."
            canvas.put(x, 1, cut(says, end - x, signs.more), DIM_PANEL)
        x = 1
    canvas.put(x, 2, cut(counts(found), end - x, signs.more), DIM_PANEL)


def counts(found: FollowUps) -> str:
    """`2 overdue   3 within a week   14 later`"""
    soon = [one for one in found.lines if one.due and not one.overdue and _soon(one.due, found)]
    late = found.overdue
    parts = [
        f"{late} overdue" if late else "",
        f"{len(soon)} within a week" if soon else "",
        counted(len(found.lines), "follow-up") + " in all",
    ]
    return "   ".join(filter(None, parts))


def _soon(due: date, found: FollowUps) -> bool:
    return due <= found.today + WEEK


def _list(canvas: Canvas, found: FollowUps, state: FollowState, signs: Signs) -> None:
    """As much of the list as fits round the line that one stands on."""
    room = canvas.height - TOP - FOOT - told_rows(found, canvas.height) - 1
    names = [name_of(one) for one in found.lines]
    here = names.index(state.cursor) if state.cursor in names else 0
    first = min(max(0, here - room // 2), max(0, len(names) - room))
    at = columns(canvas.width)
    for y, one in enumerate(found.lines[first : first + room], TOP):
        _row(canvas, y, one, at, found.today, signs)
        canvas.spot(1, y, (at.end - 1, 1), f"{ROW}{name_of(one)}")
        if name_of(one) == state.cursor:
            canvas.ground(1, y, canvas.width - 1, 1, "pick")
            canvas.put(1, y, signs.of("running"), Ink("text", True, ground="pick"))
    more = [f"{first} above"] if first else []
    below = len(names) - first - room
    more += [f"{below} more below"] if below > 0 else []
    canvas.right(canvas.width - 1, TOP - 1, ", ".join(more), Ink("due"))


def _row(canvas: Canvas, y: int, one: FollowUp, at: Columns, today: date, signs: Signs) -> None:
    due = due_words(one, today)
    late = one.overdue
    canvas.put(at.due, y, cut(due, at.job - at.due - 1, signs.more),
               Ink("due", bold=True) if late else TEXT)  # fmt: skip
    canvas.put(at.job, y, name_of(one), BOLD)
    canvas.put(at.vehicle, y, cut(one.vehicle, at.what - at.vehicle - 2, signs.more), TEXT)
    canvas.put(at.what, y, cut(one.what, at.who - at.what - 1, signs.more), TEXT)
    canvas.put(at.who, y, cut(one.who, at.end - at.who, signs.more), DIM)


def _told(canvas: Canvas, found: FollowUps, state: FollowState, signs: Signs) -> None:
    """More of the line that one stands on, above the last rows."""
    many = told_rows(found, canvas.height)
    one = next((one for one in found.lines if name_of(one) == state.cursor), None)
    if one is None:
        return
    room = canvas.width - 11
    lines = [line for text in (one.what, *said(one)) for line in wrapped(text, room)]
    if len(lines) > many:
        lines = [*lines[: many - 1], cut(" ".join(lines[many - 1 :]), room, signs.more)]
    top = canvas.height - FOOT - many
    canvas.fill(0, top - 1, canvas.width, Ink("line"), signs.rule)
    canvas.put(1, top, name_of(one), BOLD)
    for y, line in enumerate(lines, top):
        canvas.put(10, y, line, TEXT)
