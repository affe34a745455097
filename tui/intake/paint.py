"""The intake for any size, as lines: form, hours, promise, and what may change them."""

from __future__ import annotations

from store.views.counter import Counter
from tui.colours import Ink, Paint
from tui.intake.head import paint_form, paint_head, paint_matches
from tui.intake.promise import offers, paint_promise
from tui.intake.rest import paint_sections, sections, shared_out
from tui.intake.state import IntakeState
from tui.intake.table import paint_table, phase_rows
from tui.keys import filled
from tui.parts.canvas import Canvas, Line
from tui.parts.lines import LEAST, paint_keys, paint_said, too_small
from tui.signs import Signs
from tui.words import cut, wrapped

DIM, TEXT, BOLD = Ink("dim"), Ink("text"), Ink("text", bold=True)
TWO_COLUMNS, LEFT = 180, 118
"""From so many cells on the rest stands beside the hours, right of the cell."""
FORM = 3
FOOT = 2
OFFERED_ROWS = 11
"""Under a field, before there are hours: what fits, and a free row."""
FEWEST = 4
"""Phases that are shown at least, before lists get a second row."""


def intake_lines(
    here: Counter, size: tuple[int, int], paint: Paint, signs: Signs, state: IntakeState
) -> list[Line]:
    """The screen as exactly height lines of exactly width cells."""
    shown = signs.without_colour() if paint.monochrome else signs
    return intake_canvas(here, size, shown, state).lines(paint)


def intake_canvas(here: Counter, size: tuple[int, int], signs: Signs, state: IntakeState) -> Canvas:
    """The same before it is coloured."""
    canvas = Canvas(*size)
    width, height = size
    if width < LEAST[0] or height < LEAST[1]:
        too_small(canvas)
        return canvas
    paint_head(canvas, here, state, signs)
    plan = Plan(here, size, signs, state)
    paint_form(canvas, plan.form, here, state, signs)
    _body(canvas, plan, here, state, signs)
    if state.typing is not None:
        paint_matches(canvas, plan.form + FORM, state.typing, signs)
    paint_said(canvas, height - 2, state.said or "", signs)
    if not state.said and state.note:
        canvas.put(1, height - 2, cut(state.note, width - 2, signs.more), DIM)
    paint_keys(canvas, height - 1, state.keys, signs)
    return canvas


class Plan:
    """Which rows what takes. Blank rows go first, then lists shrink, then phases scroll.

    Attributes:
        form, table, promise: their first rows; `rest`: of the lists.
        table_rows: head, phases and sum.
    """

    def __init__(
        self, here: Counter, size: tuple[int, int], signs: Signs, state: IntakeState
    ) -> None:
        width, height = size
        self.wide = width >= TWO_COLUMNS
        made = sections(here, state, signs)
        phases = len(state.found.route) if state.found else 0
        dates = 2 if len(offers(here, state)) > 1 else 1
        room = height - 1 - FORM - FOOT - dates - 2
        lists = 0 if self.wide else len(made)
        blanks = min(4, max(1, room - phases - lists))
        shown = max(min(phases, FEWEST), min(phases, room - lists - blanks))
        lists = max(0, min(lists, room - shown - blanks))
        self.form = 2 if blanks >= 2 else 1
        self.table = self.form + FORM + (1 if blanks >= 3 else 0)
        self.table_rows = shown + 2
        self.promise = self.table + self.table_rows + 1
        self.rest = self.promise + dates + (1 if blanks >= 4 else 0)
        rows = height - FOOT - self.rest
        if self.wide:
            self.sections = shared_out(made, height - FOOT - self.table)
        else:
            self.sections = shared_out(made, max(lists, rows))


def shown_phases(here: Counter, size: tuple[int, int], signs: Signs, state: IntakeState) -> int:
    """How many phases fit."""
    return phase_rows(state.found, Plan(here, size, signs, state).table_rows)


def _body(canvas: Canvas, plan: Plan, here: Counter, state: IntakeState, signs: Signs) -> None:
    width = LEFT - 2 if plan.wide else canvas.width
    if state.found is None:
        _no_hours(canvas, plan, here, state, signs)
        return
    paint_table(canvas, (plan.table, plan.table_rows), width, state, signs)
    left = len(state.found.route) - state.first - (plan.table_rows - 2)
    above = f"{state.first} above" if state.first else ""
    below = f"{left} more below" if left > 0 else ""
    text = "  ".join(one for one in (above, below) if one)
    if text:
        canvas.put(7, plan.table, f"({text})", Ink("due"))
    paint_promise(canvas, plan.promise, width, here, state, signs)
    at = (LEFT, plan.table) if plan.wide else (1, plan.rest)
    paint_sections(canvas, at, canvas.width - 1, plan.sections, signs)


def _no_hours(canvas: Canvas, plan: Plan, here: Counter, state: IntakeState, signs: Signs) -> None:
    """What to do next, where nothing can be worked out yet; a field that has the keys says it."""
    y = plan.table
    for text in [] if state.typing is not None else _teach(here, state):
        for line in wrapped(text, canvas.width - 2):
            canvas.put(1, y, line, TEXT)
            y += 1
    y = plan.form + FORM + OFFERED_ROWS if state.typing is not None else y + 1
    made = [one for one in sections(here, state, signs) if one.label in ("before", "lift")]
    rows = shared_out(made, max(0, canvas.height - FOOT - y))
    paint_sections(canvas, (1, y), canvas.width - 1, rows, signs)


def _teach(here: Counter, state: IntakeState) -> list[str]:
    form = state.form
    if state.wrong:
        return [f"! {state.wrong}"]
    if form.small:
        took = here.small_h if form.small_h is None else form.small_h
        usual = ", the usual" if form.small_h is None else ""
        return [
            f"A small job: one phase, {took:.1f} h{usual}.  "
            + filled("{intake.hours} says other hours.")
        ]
    if not here.has_book:
        return [
            "There is no work book yet, so only small jobs can be taken: type what is to be done.",
            "A book: hoistbook workbook load FILE.toml.",
        ]
    if not form.work:
        return ["Which vehicle, which work: its hours stand here as soon as both are known."]
    if not form.family:
        return [
            filled(
                "Which family: engine, gearbox and driven axles, like B4-M-F.  "
                "{intake.family} says it."
            )
        ]
    return ["Hours are being worked out."]
