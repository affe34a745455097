"""The sections of a job card under its phases: the estimate's life, proofs, lane, ledger."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime

from rich.cells import cell_len

from store.views.values import JobCard, PhaseLine, Signature, StepLine
from tui.colours import Ink
from tui.job.owed import step_title
from tui.lane.axis import axis
from tui.lane.band import lay_out, paint_band
from tui.lane.captions import paint_captions
from tui.lane.labels import paint_axis, paint_labels, paint_lines
from tui.lane.outlook import Outlook
from tui.parts.canvas import Canvas, Piece
from tui.parts.lines import paint_rule, put_pieces
from tui.parts.sheet import Sheet
from tui.signs import STATES, Signs, State
from tui.words import cut, day_time, listed, tenth

DIM, TEXT, BOLD = Ink("dim"), Ink("text"), Ink("text", bold=True)


def add_estimate(sheet: Sheet, card: JobCard, signs: Signs) -> None:
    """How the estimate came to be: a staircase of hours with causes."""
    if not card.estimate_changes:
        return
    sheet.gap()
    sheet.block().put(1, 0, "how the estimate came to be", DIM)
    before: float | None = None
    for change in card.estimate_changes:
        step = None if before is None else change.middle - before
        _stair(sheet, (card, change.at), (f"{tenth(change.middle)} ", step), change.cause, signs)
        before = change.middle
    for line in card.supplements:
        if line.state == "asked" and before is not None:
            before += line.hours
            cause = f"{line.text}; waits for the customer's word"
            _stair(sheet, (card, line.asked_at), (f"{tenth(before)}?", line.hours), cause, signs)


def _stair(
    sheet: Sheet, when: tuple[JobCard, datetime], figures: tuple[str, float | None],
    cause: str, signs: Signs,
) -> None:  # fmt: skip
    card, at = when
    total, step = figures
    row = sheet.block()
    row.put(3, 0, day_time(at, card.calendar.zone, card.at), DIM)
    row.right(25, 0, total, BOLD)
    if step is not None:
        text = f"{'+' if step >= 0 else signs.of('ahead')}{tenth(abs(step))}"
        row.put(26, 0, text, Ink("behind") if step >= 0.05 else Ink("ahead"))
    row.put(33, 0, cut(cause, sheet.width - 34, signs.more), DIM)


def add_proofs(sheet: Sheet, card: JobCard, signs: Signs) -> None:
    """Hold points: who signed what when, and which are open."""
    points = [(p, s) for p in card.phases for s in p.steps if s.kind == "hold point"]
    if not points:
        return
    sheet.gap()
    for nth, (phase, step) in enumerate(points):
        row = sheet.block()
        if nth == 0:
            row.put(1, 0, "signed", DIM)
        put_pieces(row, (10, 0), list(_proof(phase, step, card, signs)), sheet.width - 11, signs)


def add_steps(sheet: Sheet, card: JobCard, signs: Signs) -> None:
    """The steps of the phase at hand, if it has any."""
    number = card.job.phase.number if card.job.phase else None
    phase = next((p for p in card.phases if p.number == number), None)
    if phase is None or not phase.steps:
        return
    sheet.gap()
    title = f"steps of {phase.number} {phase.name}"
    paint_rule(sheet.block(), 0, (0, sheet.width), title, signs)
    for step in phase.steps:
        pieces = list(_proof(phase, step, card, signs))
        put_pieces(sheet.block(), (3, 0), pieces, sheet.width - 4, signs)
        if step.waits_for:
            text = cut(f"waits: {step.waits_for}", sheet.width - 11, signs.more)
            sheet.block().put(10, 0, text, DIM)


def _proof(phase: PhaseLine, step: StepLine, card: JobCard, signs: Signs) -> Iterator[Piece]:
    states: dict[str, State] = {"done": "done", "half": "sign", "out": "act", "open": "to come"}
    state = states[step.state]
    if step.kind == "decision" and step.state == "open":
        state = "answer"
    done = step.state == "done"
    yield f"{signs.of(state)} ", Ink(STATES[state].role)
    yield f"{step_title(phase, step)}  ", TEXT if done else DIM
    valid: Sequence[Signature] = [s for s in step.signed if not s.void]
    if valid:
        yield f"{listed([s.name for s in valid])}  ", TEXT
        yield f"{day_time(valid[-1].at, card.calendar.zone, card.at)}  ", DIM
        values = ", ".join(f"{name} {value:g}" for name, value in valid[-1].readings)
        yield values, DIM
    elif step.limits:
        yield "; ".join(step.limits), DIM


def add_facts(sheet: Sheet, card: JobCard, signs: Signs) -> None:
    """What the job was taken as: family, grade, price basis, options."""
    facts = [card.job.family, f"grade {card.grade}"]
    facts += [card.price_basis] if card.price_basis else []
    facts += [f"book version {card.book_version}"] if card.book_version is not None else []
    facts += [f"{name} {value}" for name, value in card.options]
    sheet.gap()
    row = sheet.block()
    row.put(1, 0, "taken as", DIM)
    row.put(10, 0, cut("   ".join(filter(None, facts)), sheet.width - 11, signs.more), TEXT)


def add_lane(sheet: Sheet, card: JobCard, outlook: Outlook | None, signs: Signs) -> None:
    """The job's lane along working time, two cells thick where there is room."""
    thick = 2 if sheet.width >= 112 else 1
    along = axis(card.calendar, card.at, sheet.width - 4)
    band = lay_out(along, card.job, outlook)
    sheet.gap()
    block = sheet.block(4 + thick)
    paint_rule(block, 0, (0, sheet.width), "along working time", signs)
    paint_lines(block, (2, 1), 3 + thick, along, signs)
    paint_axis(block, (2, 1), along)
    paint_labels(block, (2, 2), band, signs)
    paint_band(block, (2, 3), band, signs, thick)
    paint_captions(block, (2, 3 + thick), band, signs)


def add_ledger(sheet: Sheet, card: JobCard, signs: Signs) -> None:
    """Everything that happened, newest first."""
    sheet.gap()
    paint_rule(sheet.block(), 0, (0, sheet.width), "ledger, newest first", signs)
    names = min(12, max((cell_len(line.who) for line in card.ledger), default=0))
    for line in sorted(card.ledger, key=lambda line: -line.seq):
        row = sheet.block()
        when = day_time(line.at, card.calendar.zone, card.at)
        x = max(13, row.put(3, 0, when, DIM)) + 1
        row.put(x, 0, cut(line.who, names, signs.more), DIM)
        x += names + 2
        row.put(x, 0, cut(line.says, sheet.width - x - 1, signs.more), TEXT)
    if not card.ledger:
        sheet.block().put(3, 0, "nothing yet", DIM)


def paint_job_head(canvas: Canvas, card: JobCard, outlook: Outlook | None, signs: Signs) -> None:
    """Two lines: which job, where, since when; its work and its promise."""
    job, zone, end = card.job, card.calendar.zone, canvas.width - 1
    start = canvas.right(end, 0, day_time(card.at, zone, card.at), BOLD)
    where = [
        f"lift {job.place}" if job.state == "on-lift" and job.place else job.place or job.state
    ]
    where += [f"in since {day_time(job.in_since, zone, card.at)}"] if job.in_since else []
    first: list[Piece] = [
        (f"{job.number} ", BOLD), (f"{job.vehicle}  ", TEXT), (", ".join(where), DIM)
    ]  # fmt: skip
    put_pieces(canvas, (1, 0), first, start - 3, signs)
    second: list[Piece] = []
    if job.promise is not None and outlook is not None:
        second.append((f"promised {day_time(job.promise, zone, card.at)} ", TEXT))
        second.append((outlook.said_long, outlook.ink))
    elif job.promise is None:
        second.append(("not promised", DIM))
    room = end - 1 - sum(cell_len(text) for text, _ in second) - 3
    x = canvas.put(1, 1, cut(job.work, max(12, room), signs.more), DIM) + 3
    put_pieces(canvas, (x, 1), second, end - x, signs)
