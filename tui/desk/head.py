"""The first lines of the desk: whose, when, who looks; then what wants whom today."""

from __future__ import annotations

from rich.cells import cell_len

from tui.colours import Ink
from tui.desk.state import DeskState, Shown
from tui.parts.canvas import Canvas
from tui.parts.loud import put_loud
from tui.signs import LOUD, Signs
from tui.words import cut, moment, zone_of

DIM = Ink("dim", ground="panel")
BOLD = Ink("text", bold=True, ground="panel")
GAP = 3
CALM = "Nothing at the desk wants anybody."


def paint_header(canvas: Canvas, desk: Shown, state: DeskState, signs: Signs) -> None:
    """The desk of which shop, date and clock, reader; an old look says so where the clock was."""
    now = moment(desk.at, zone_of(desk.zone))
    middle = f" ! AS OF {state.stale} " if state.stale else now
    ink = Ink("due", loud=True) if state.stale else Ink("text", bold=True)
    start = max(2, (canvas.width - len(now)) // 2)
    canvas.put(start, 0, middle, ink)
    x = canvas.put(1, 0, "desk", Ink("text", bold=True)) + 2
    canvas.put(x, 0, cut(desk.shop, start - 2 - x, signs.more), Ink("dim"))
    room = canvas.width - 1 - start - len(middle) - 2
    canvas.right(canvas.width - 1, 0, cut(state.who, room, signs.more), Ink("dim"))


def paint_sentence(canvas: Canvas, y: int, desk: Shown, signs: Signs) -> None:
    """Two rows: what most wants somebody, and all that is to be done today."""
    canvas.ground(0, y, canvas.width, 2, "panel")
    end, x = canvas.width - 1, 1
    first = desk.row(desk.wants[0]) if desk.wants else None
    if first is None:
        x = canvas.put(1, y, CALM, Ink("ahead", bold=True, ground="panel")) + 2
        canvas.put(x, y, cut(desk.next, end - x, signs.more), DIM)
        x = 1
    else:
        ink = Ink(LOUD[first.loud].role, loud=True, ground="panel")
        x = put_loud(canvas, (1, y), first.loud, signs, ink) + 2
        text = f"{first.job} {first.vehicle}: {first.says}"
        canvas.put(x, y, cut(text, end - x, signs.more), BOLD)
    _counts(canvas, (x, y + 1), end, desk, signs)


def _counts(canvas: Canvas, at: tuple[int, int], end: int, desk: Shown, signs: Signs) -> None:
    """All of them, in fewer words where they do not fit; then as many as do."""
    x, y = at
    gap = " " * GAP
    long, brief = (gap.join(one[n] for one in desk.counts) for n in (0, 1))
    text = long if cell_len(long) <= end - x else brief
    canvas.put(x, y, cut(text, end - x, signs.more), DIM)
