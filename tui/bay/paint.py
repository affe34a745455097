"""The bay's home screen for any size: does my clock run, on what, and what do I do next?"""

from __future__ import annotations

from rich.cells import cell_len, set_cell_size

from store.views.values import Bay
from tui.bay.clock import field_rows, paint_clock
from tui.bay.state import BayState
from tui.bay.steps import paint_steps
from tui.colours import Ink, Paint
from tui.keys import filled
from tui.parts.canvas import Canvas, Line
from tui.parts.lines import LEAST, paint_rule, paint_said, too_small
from tui.signs import Signs
from tui.words import cut, hours, moment, tenth, zone_of

PAD_ROWS = ("789", "456", "123", "0.-")
"""As the pad lies under the glove."""
PAD_FOOT = 7
"""Rows from the pad's first to the screen's last."""
DIM, TEXT, BOLD = Ink("dim"), Ink("text"), Ink("text", bold=True)


def bay_lines(
    bay: Bay, size: tuple[int, int], paint: Paint, signs: Signs, state: BayState
) -> list[Line]:
    """The bay as exactly height lines of exactly width cells."""
    return bay_canvas(bay, size, signs, state).lines(paint)


def bay_canvas(bay: Bay, size: tuple[int, int], signs: Signs, state: BayState) -> Canvas:
    """The same before it is coloured."""
    canvas = Canvas(*size)
    width, height = size
    if width < LEAST[0] or height < LEAST[1]:
        too_small(canvas)
        return canvas
    _head(canvas, bay, state, signs)
    top = 1 + field_rows(size) + (1 if height >= 24 else 0)
    paint_clock(canvas, 1, bay, signs)
    pad_top = height - PAD_FOOT
    after = paint_steps(canvas, (top, pad_top - 1), bay, state, signs)
    _choices(canvas, (after + 1, pad_top - 1), bay, signs)
    _pad(canvas, pad_top, state, signs)
    _foot(canvas, bay, state, signs)
    return canvas


def _head(canvas: Canvas, bay: Bay, state: BayState, signs: Signs) -> None:
    end = canvas.width - 1
    now = moment(bay.at, zone_of(bay.zone))
    if state.stale:
        start = canvas.right(end, 0, f" ! AS OF {state.stale} ", Ink("due", loud=True))
    else:
        start = canvas.right(end, 0, now, TEXT)
    name = cut(bay.person.name, 20, signs.more)
    middle = max(2, (canvas.width - cell_len(name)) // 2)
    middle = min(middle, start - cell_len(name) - 2)
    canvas.put(middle, 0, name, BOLD)
    place = f"lift {bay.lift}  {bay.lift_says}" if bay.lift else bay.lift_says
    canvas.put(1, 0, cut(place.strip(), middle - 3, signs.more), DIM)


def _choices(canvas: Canvas, rows: tuple[int, int], bay: Bay, signs: Signs) -> None:
    """On tall screens: what one could go over to."""
    top, end = rows
    if end - top < 4 or not bay.choices:
        return
    paint_rule(canvas, top, (0, canvas.width), "could be done next", signs)
    mine = (bay.clock.job, bay.clock.phase) if bay.clock else (None, None)
    others = [one for one in bay.choices if (one.job, one.phase) != mine][: end - top - 1]
    name = min(max((cell_len(one.name) for one in others), default=0), canvas.width // 3)
    for y, choice in enumerate(others, top + 1):
        yours = "yours   " if choice.yours else ""
        figures = f"{yours}{tenth(choice.labour_h)}/{tenth(choice.estimate_h)} h"
        start = canvas.right(canvas.width - 2, y, figures, DIM)
        why = f"  {choice.blocked_by}" if choice.blocked_by else ""
        canvas.put(2, y, signs.of("waiting" if why else "to come"), DIM)
        canvas.put(4, y, f"{choice.job}.{choice.phase}", TEXT)
        what = set_cell_size(cut(choice.name, name, signs.more), name + 2)
        text = f"{what}{choice.place or '':<9}{choice.vehicle}{why}"
        canvas.put(13, y, cut(text, start - 15, signs.more), DIM if why else TEXT)


def _pad(canvas: Canvas, top: int, state: BayState, signs: Signs) -> None:
    column = min(34, (canvas.width - 2) // 3)
    for row, digits in enumerate(PAD_ROWS):
        for place, digit in enumerate(digits):
            key = state.pad.get(digit)
            if key is None:
                continue
            x, y = 1 + place * column, top + row
            block = Ink("text", loud=True) if key.hot else Ink("text", bold=True, ground="panel")
            canvas.put(x, y, f" {digit} ", block)
            room = min(column, canvas.width - 1 - x) - 5
            canvas.put(x + 4, y, cut(key.words, room, signs.more), BOLD if key.hot else TEXT)


def _foot(canvas: Canvas, bay: Bay, state: BayState, signs: Signs) -> None:
    """What was done last and the way back; the scanner; the job's hours."""
    height, end = canvas.height, canvas.width - 2
    said = state.said or bay.said or ""
    if said and not state.said and bay.can_undo:
        said += filled("    {bay.undo} takes it back")
    paint_said(canvas, height - 2, said, signs)
    start = end
    if bay.card is not None:
        job = bay.card.job
        text = f"job {job.number}  {tenth(job.labour_h)} of {hours(job.estimate.middle)}"
        start = canvas.right(end, height - 1, text, DIM)
    canvas.put(1, height - 1, cut(state.scan, start - 3, signs.more), DIM)
