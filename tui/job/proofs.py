"""Hold points, decisions and steps: who signed when, what was read, and why a name is void."""

from __future__ import annotations

from collections.abc import Iterator

from rich.cells import cell_len

from store.views.values import JobCard, PhaseLine, Signature, StepLine
from tui.colours import Ink
from tui.job.labelled import FIRST, Labelled
from tui.job.owed import step_title
from tui.parts.canvas import Piece
from tui.parts.lines import paint_rule, put_pieces
from tui.parts.sheet import Sheet
from tui.signs import STATES, Signs, State
from tui.words import cut, day_time, listed

DIM, TEXT, BOLD = Ink("dim"), Ink("text"), Ink("text", bold=True)
UNDER = 12
"""First cell of what stands under a step."""
STATE_OF: dict[str, State] = {"done": "done", "half": "sign", "out": "act", "open": "to come"}


def add_proofs(sheet: Sheet, card: JobCard, signs: Signs) -> None:
    """Hold points and decisions: who signed what when, all that was read, and which are open."""
    rows = Labelled(sheet, "signed")
    for phase in card.phases:
        for step in phase.steps:
            if step.kind == "hold point" or (step.kind == "decision" and step.signed):
                pieces = [one for one in _proof(phase, step, card, signs) if one[0].strip()]
                _put_folded(rows, pieces, FIRST, signs)
                _all_names(rows, step, card, signs)


def _put_folded(rows: Labelled, pieces: list[Piece], x: int, signs: Signs) -> None:
    """Pieces one behind another; what finds no room beside the others begins a row under them."""
    row, left = rows.row(), x
    end = row.width - 1
    for text, ink in pieces:
        if left > x and left + cell_len(text.rstrip()) > end:
            row, left = rows.row(), UNDER + 2
        shown = text if left + cell_len(text) <= end else text.rstrip()
        left = put_pieces(row, (left, 0), [(shown, ink)], end - left, signs)


def add_steps(sheet: Sheet, card: JobCard, signs: Signs) -> None:
    """The steps of the phase at hand, if it has any."""
    number = card.job.phase.number if card.job.phase else None
    phase = next((p for p in card.phases if p.number == number), None)
    if phase is None or not phase.steps:
        return
    sheet.gap()
    sheet.mark("steps")
    title = f"steps of {phase.number} {phase.name}"
    paint_rule(sheet.block(), 0, (0, sheet.width), title, signs)
    for step in phase.steps:
        pieces = list(_proof(phase, step, card, signs))
        put_pieces(sheet.block(), (3, 0), pieces, sheet.width - 4, signs)
        if step.waits_for:
            text = cut(f"waits: {step.waits_for}", sheet.width - 11, signs.more)
            sheet.block().put(10, 0, text, DIM)


def _proof(phase: PhaseLine, step: StepLine, card: JobCard, signs: Signs) -> Iterator[Piece]:
    """One line: the sign, the step, the names that count, what they read or answered."""
    state = STATE_OF[step.state]
    if step.kind == "decision" and step.state == "open":
        state = "answer"
    yield f"{signs.of(state)} ", Ink(STATES[state].role)
    yield f"{step_title(phase, step)}  ", TEXT if step.state == "done" else DIM
    valid = [one for one in step.signed if not one.void]
    if valid:
        yield f"{listed(list(dict.fromkeys(one.name for one in valid)))}  ", TEXT
        yield f"{day_time(valid[-1].at, card.calendar.zone, card.at)}  ", DIM
        yield f"{said(valid[-1], step)}  ", TEXT
        yield _within(valid[-1], step), DIM
    elif step.limits:
        yield "; ".join(step.limits), DIM


def said(signature: Signature, step: StepLine) -> str:
    """What somebody read, position by position, or answered."""
    if signature.answer:
        return dict(step.answers).get(signature.answer, signature.answer)
    return ", ".join(
        f"{value:g}" if name == "value" else f"{name} {value:g}"
        for name, value in signature.readings
    )


def _within(signature: Signature, step: StepLine) -> str:
    """The limits beside what was read."""
    return f"limits {'; '.join(step.limits)}" if signature.readings and step.limits else ""


def _all_names(rows: Labelled, step: StepLine, card: JobCard, signs: Signs) -> None:
    """Every name one by one where the line over them does not tell all: read anew, void."""
    plain = all(not one.void and one.in_limits and not one.as_is for one in step.signed)
    if plain and sum(bool(one.readings) for one in step.signed) < 2:
        return
    for one in step.signed:
        pieces = [
            (f"{day_time(one.at, card.calendar.zone, card.at)}  ", DIM),
            (f"{one.name}  ", DIM if one.void else TEXT), (f"{said(one, step)}  ", TEXT),
            *_standing(one, card),
        ]  # fmt: skip
        _put_folded(rows, [one for one in pieces if one[0].strip()], UNDER, signs)


def _standing(one: Signature, card: JobCard) -> Iterator[Piece]:
    """Whether a name counts, and why not."""
    if not one.in_limits:
        yield "outside its limits  ", Ink("dim" if one.void or one.as_is else "behind")
    if one.as_is:
        yield f"let stand: {one.as_is}  ", DIM
    if one.void:
        when = f" {day_time(one.void_at, card.calendar.zone, card.at)}" if one.void_at else ""
        yield f"void{when}{f': {one.void_why}' if one.void_why else ''}", Ink("waiting")
