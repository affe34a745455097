"""What to do now, its caution, what comes after it, and what stops it."""

from __future__ import annotations

from store.views.values import Bay, PhaseLine, StepLine
from tui.bay.choosing import next_own
from tui.bay.state import BayState
from tui.colours import Ink
from tui.job.owed import step_number
from tui.keys import filled
from tui.parts.canvas import Canvas
from tui.signs import STATES, Signs, State
from tui.words import counted, cut, hours, listed, wrapped

DIM, TEXT, BOLD = Ink("dim"), Ink("text"), Ink("text", bold=True)
DUE = Ink("due", bold=True)
LABEL, SIGN, NUMBER, WORDS = 2, 9, 11, 17
"""First cells of the columns."""
MOST_STOPS = 4


def paint_steps(
    canvas: Canvas, rows: tuple[int, int], bay: Bay, state: BayState, signs: Signs
) -> int:
    """Fill rows `rows[0]` up to `rows[1]` less one; returns the row after the last used."""
    top, end = rows
    phase = shown_phase(bay)
    room = min(MOST_STOPS, max(1, (end - top) // 3))
    stops = _stops(bay, canvas.width - 2 - WORDS, room, signs)
    low = end - len(stops)
    if phase is None:
        canvas.put(LABEL, top, "NOW", DIM)
        canvas.put(WORDS, top, "no phase chosen", DIM)
        y = top + 1
    else:
        y = _phase_steps(canvas, (top, low), phase, state, signs)
    for nth, (text, kind) in enumerate(stops):
        row = y + nth
        if nth == 0 or stops[nth - 1][1] != kind:
            canvas.put(LABEL, row, kind, DIM)
            canvas.put(SIGN, row, signs.of("due" if kind == "stops" else "act"), DUE)
        canvas.put(WORDS, row, cut(text, canvas.width - 2 - WORDS, signs.more), TEXT)
    return _then(canvas, (y + len(stops), end), bay, signs)


def _then(canvas: Canvas, rows: tuple[int, int], bay: Bay, signs: Signs) -> int:
    """What is the person's own next, where a row is free for it; else the pad alone says it."""
    y, end = rows
    own = next_own(bay)
    if own is None or y >= end:
        return y
    place = f"   {own.place}" if own.place else ""
    text = f"{own.job}.{own.phase}  {own.name}   {own.vehicle}{place}"
    canvas.put(LABEL, y, "then", DIM)
    canvas.put(SIGN, y, signs.of("to come"), DIM)
    canvas.put(NUMBER, y, cut(text, canvas.width - 2 - NUMBER, signs.more), TEXT)
    return y + 1


def shown_phase(bay: Bay) -> PhaseLine | None:
    """The phase whose steps are on the screen."""
    if bay.card is None:
        return None
    return next((p for p in bay.card.phases if p.number == bay.phase), None)


def _stops(bay: Bay, width: int, most: int, signs: Signs) -> list[tuple[str, str]]:
    """What stops the phase, then what is open on the vehicle; how many did not fit is said."""
    opens = list(reversed(bay.card.open_conditions)) if bay.card else []
    blocks = [(text, "stops") for text in bay.blocks[: max(1, most - bool(opens))]]
    return blocks + [(text, "open") for text in _open_lines(opens, width, most - len(blocks))]


def _open_lines(opens: list[str], width: int, most: int) -> list[str]:
    """Open conditions on as few lines as they take, the newest first: none is dropped silently."""
    for shown in range(len(opens), -1, -1):
        left = len(opens) - shown
        words = opens[:shown] + ([f"and {left} more open: see 7"] if left else [])
        lines = wrapped("; ".join(words), width)
        if len(lines) <= max(1, most):
            return lines if words else []
    return []


def _phase_steps(
    canvas: Canvas, rows: tuple[int, int], phase: PhaseLine, state: BayState, signs: Signs
) -> int:
    top, end = rows
    todo = [step for step in phase.steps if step.state != "done"]
    canvas.put(LABEL, top, "NOW", DIM)
    if not todo:
        return _no_steps(canvas, (top, end), phase, signs)
    here = min(max(0, state.step), len(todo) - 1)
    y = _now(canvas, (top, end), phase, todo[here], signs)
    coming = todo[here + 1 :]
    if coming and y < end - 1:
        y += 1
    for nth, step in enumerate(coming):
        rest = len(coming) - nth
        if y >= end - 1 and rest > 1 and y < end:
            canvas.put(WORDS, y, f"and {counted(rest, 'step')} more", DIM)
            return y + 1
        if y >= end:
            break
        _coming(canvas, y, phase, step, signs)
        y += 1
    return y


def _no_steps(canvas: Canvas, rows: tuple[int, int], phase: PhaseLine, signs: Signs) -> int:
    """A phase without steps, or with all of them done."""
    y, end = rows
    all_done = bool(phase.steps)
    text = "every step is done" if all_done else f"{phase.number} {phase.name}"
    canvas.put(SIGN, y, signs.of("running"), Ink("running"))
    canvas.put(NUMBER, y, cut(text, canvas.width - 2 - NUMBER, signs.more), BOLD)
    y += 1
    for caution in phase.cautions:
        y = _caution(canvas, (y, end), caution, signs)
    left = f"{hours(phase.remaining.middle)} left.  " + filled("{bay.finish} finishes the phase.")
    if y < end:
        canvas.put(NUMBER, y, cut(left, canvas.width - 2 - NUMBER, signs.more), DIM)
    return y + 1


def _now(
    canvas: Canvas, rows: tuple[int, int], phase: PhaseLine, step: StepLine, signs: Signs
) -> int:
    """The step at hand: text, detail, what it waits for, caution."""
    y, end = rows
    state = step_state(step)
    running = state == "to come"
    sign: State = "running" if running else state
    canvas.put(SIGN, y, signs.of(sign), Ink("text" if running else STATES[state].role, bold=True))
    canvas.put(NUMBER, y, step_number(phase, step), BOLD)
    room = canvas.width - 2 - WORDS
    for line in wrapped(_title(step), room)[:2]:
        canvas.put(WORDS, y, line, BOLD)
        y += 1
    for line in _details(step, room)[: max(0, end - y - 1)]:
        canvas.put(WORDS, y, line, TEXT)
        y += 1
    for caution in (*phase.cautions, *([step.caution] if step.caution else [])):
        y = _caution(canvas, (y, end), caution, signs)
    return y


def _details(step: StepLine, room: int) -> list[str]:
    lines = wrapped(step.detail, room)
    if step.limits:
        lines += wrapped("; ".join(step.limits), room)
    if step.answers:
        words = (f"{nth}  {words}" for nth, (_, words) in enumerate(step.answers, 1))
        lines += [cut(one, room) for one in words]
    names = [s.name for s in step.signed if not s.void]
    if step.state == "half" and names:
        lines += [f"signed by {listed(names)}; wants one more name"]
    if step.waits_for:
        lines += wrapped(f"waits: {step.waits_for}", room)
    return lines


def _caution(canvas: Canvas, rows: tuple[int, int], text: str, signs: Signs) -> int:
    """` ! ` filled, the sentence bold: at most two lines."""
    y, end = rows
    room = canvas.width - 2 - WORDS
    if y >= end:
        return y
    canvas.put(SIGN - 1, y, f" {signs.of('act')} ", Ink("behind", loud=True))
    lines = wrapped(text, room)
    if len(lines) > 2:
        lines = [lines[0], cut(" ".join(lines[1:]), room, signs.more)]
    for line in lines[: end - y]:
        canvas.put(WORDS, y, line, Ink("behind", bold=True))
        y += 1
    return y


def step_state(step: StepLine) -> State:
    """The state whose sign stands before a step."""
    if step.state == "out":
        return "act"
    if step.kind == "decision":
        return "answer"
    return "sign" if step.kind == "hold point" or step.state == "half" else "to come"


def _title(step: StepLine) -> str:
    return f"sign: {step.text}" if step.kind == "hold point" else step.text


def _coming(canvas: Canvas, y: int, phase: PhaseLine, step: StepLine, signs: Signs) -> None:
    state = step_state(step)
    quiet = state == "to come"
    ink = DIM if quiet else TEXT
    canvas.put(SIGN, y, signs.of(state), Ink(STATES[state].role))
    canvas.put(NUMBER, y, step_number(phase, step), ink)
    facts = [*step.limits[:1], *(["two people"] if step.signs > 1 else [])]
    end = canvas.width - 2
    side = cut(", ".join(facts), (end - WORDS) // 3, signs.more)
    start = canvas.right(end, y, side, DIM)
    room = (start - 2 if side else end) - WORDS
    canvas.put(WORDS, y, cut(_title(step), room, signs.more), ink)
