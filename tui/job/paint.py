"""The job card for any size, as lines: what is owed first, then hours, then how it came to be."""

from __future__ import annotations

from store.views.values import JobCard
from tui.colours import Ink, Paint
from tui.job.hours import add_phases
from tui.job.owed import add_owed
from tui.job.sections import (
    add_estimate,
    add_facts,
    add_lane,
    add_ledger,
    add_proofs,
    add_steps,
    paint_job_head,
)
from tui.job.state import JobState
from tui.lane.outlook import outlook
from tui.parts.canvas import Canvas, Line
from tui.parts.lines import LEAST, paint_keys, paint_said, too_small
from tui.parts.sheet import Sheet, last_scroll
from tui.signs import Signs

TOP, FOOT = 3, 2
"""Rows of head and gap, rows of what was said and keys."""
TWO_COLUMNS, LEFT = 180, 124
"""From so many cells on the ledger stands beside the rest, right of the cell."""


def job_lines(
    card: JobCard, size: tuple[int, int], paint: Paint, signs: Signs, state: JobState
) -> list[Line]:
    """The card as exactly height lines of exactly width cells."""
    shown = signs.without_colour() if paint.monochrome else signs
    return job_canvas(card, size, shown, state).lines(paint)


def job_canvas(card: JobCard, size: tuple[int, int], signs: Signs, state: JobState) -> Canvas:
    """The same before it is coloured."""
    canvas = Canvas(*size)
    width, height = size
    if width < LEAST[0] or height < LEAST[1]:
        too_small(canvas)
        return canvas
    paint_job_head(canvas, card, outlook(card.job, state.settled), signs)
    sheets = _sheets(card, width, signs, state)
    rows = height - TOP - FOOT
    scroll = min(max(0, state.scroll), last_scroll(sheets, rows))
    x = 0
    for sheet in sheets:
        sheet.show(canvas, (x, TOP), rows, scroll)
        x = LEFT
    paint_said(canvas, height - 2, state.said or "", signs)
    below = last_scroll(sheets, rows) - scroll
    if below and not state.said:
        canvas.right(width - 1, height - 2, f"{below} more lines below", Ink("dim"))
    paint_keys(canvas, height - 1, state.keys, signs)
    return canvas


def job_last_scroll(card: JobCard, size: tuple[int, int], signs: Signs) -> int:
    """The farthest that `JobState.scroll` has an effect in this size."""
    sheets = _sheets(card, size[0], signs, JobState())
    return last_scroll(sheets, size[1] - TOP - FOOT)


def _sheets(card: JobCard, width: int, signs: Signs, state: JobState) -> tuple[Sheet, ...]:
    """The page, on wide screens with the ledger as a second one."""
    wide = width >= TWO_COLUMNS
    sheet = Sheet(LEFT - 2 if wide else width)
    add_owed(sheet, card, signs)
    add_phases(sheet, card, signs)
    add_estimate(sheet, card, signs)
    add_proofs(sheet, card, signs)
    add_facts(sheet, card, signs)
    add_lane(sheet, card, outlook(card.job, state.settled), signs)
    add_steps(sheet, card, signs)
    if not wide:
        add_ledger(sheet, card, signs)
        return (sheet,)
    beside = Sheet(width - LEFT)
    add_ledger(beside, card, signs)
    return sheet, beside
