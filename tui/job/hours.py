"""The phases of a job on one scale of hours: a long bar is a long phase."""

from __future__ import annotations

from dataclasses import dataclass

from rich.cells import cell_len

from store.views.values import JobCard, PhaseLine, Worker
from tui.colours import Ink, Role
from tui.parts.canvas import Canvas
from tui.parts.sheet import Sheet
from tui.signs import STATES, Signs, State
from tui.words import cut, hours, joined, tenth

DIM, TEXT, BOLD = Ink("dim"), Ink("text"), Ink("text", bold=True)
FIGURE = 5
"""Cells of a column of figures."""
HEADS = ("book", "est", "caut", "lab", "left")
ROOMY, FULL_NAMES = 112, 120
"""From so many cells on what is left of a phase has room; three people by their names."""


@dataclass(frozen=True, slots=True)
class Columns:
    """First cells of the columns, and widths where they differ."""

    name: int
    figures: int
    heads: tuple[str, ...]
    bar: int
    bar_width: int
    who: int
    note: int
    width: int


def columns(width: int) -> Columns:
    """The columns for a page of so many cells."""
    roomy = width >= ROOMY
    name, who = (25, 18 if width >= FULL_NAMES else 13) if roomy else (17, 6)
    note = 11 if not roomy else min(40, width // 5)
    heads = HEADS if roomy else HEADS[:-1]
    figures = 3 + name
    bar = figures + len(heads) * FIGURE + 3
    note_at = width - 1 - note
    return Columns(
        name, figures, heads, bar, note_at - who - 1 - bar, note_at - who, note_at, width
    )


def add_phases(sheet: Sheet, card: JobCard, signs: Signs) -> None:
    """The table of phases with its head and the sum of the job."""
    at = columns(sheet.width)
    sheet.mark("phases")
    head = sheet.block()
    head.put(1, 0, "phase", DIM)
    for n, word in enumerate(at.heads):
        head.right(at.figures + (n + 1) * FIGURE, 0, word, DIM)
    head.put(at.bar, 0, "hours, one scale" if at.bar_width > 16 else "hours", DIM)
    head.put(at.who, 0, "who", DIM)
    head.put(at.note, 0, "note", DIM)
    scale = _scale(card, at.bar_width)
    names = {one.badge: one for one in card.workers}
    waits: str | None = None
    for phase in card.phases:
        row = sheet.block()
        _phase_row(row, phase, card, (at, scale, names), signs)
        # what stops one phase stops those behind it: said once
        text, role = _note(phase, card, told=phase.blocked_by == waits)
        row.put(at.note, 0, cut(text, at.width - 1 - at.note, signs.more), Ink(role))
        if text == phase.blocked_by:
            waits = text
    _sum_row(sheet.block(), card, at)


def _scale(card: JobCard, width: int) -> float:
    """Cells an hour, so that the longest phase with its mark fits."""
    longest = max((_extent(phase) for phase in card.phases if _is_labour(phase)), default=1.0)
    return (width - 1) / max(longest, 0.1)


def _extent(phase: PhaseLine) -> float:
    return max(phase.estimate.cautious, phase.estimate.middle, phase.labour_h)


def _is_labour(phase: PhaseLine) -> bool:
    return phase.kind == "labour" and phase.state != "skipped"


def phase_state(phase: PhaseLine, card: JobCard) -> State:
    """The state whose sign stands before a phase."""
    if any(person.phase == phase.number for person in card.job.people):
        return "running"
    if phase.state == "held":
        return "held"
    if phase.state in ("finished", "skipped"):
        return "done" if phase.state == "finished" else "ahead"
    if phase.kind != "labour":
        return "standing" if phase.kind == "standing" else "outwork"
    return "waiting" if phase.state == "under way" else "to come"


def _phase_row(
    row: Canvas, phase: PhaseLine, card: JobCard,
    how: tuple[Columns, float, dict[str, Worker]], signs: Signs,
) -> None:  # fmt: skip
    at, scale, names = how
    state = phase_state(phase, card)
    ahead = phase.state in ("to come", "skipped")
    row.put(1, 0, signs.of(state), Ink(STATES[state].role))
    name = cut(f"{phase.number} {phase.name}", at.name - 1, signs.more)
    row.put(3, 0, name, DIM if ahead else TEXT)
    figures = [phase.book_h, phase.estimate.middle, phase.estimate.cautious]
    for n, value in enumerate(figures if _is_labour(phase) else figures[:1]):
        row.right(at.figures + (n + 1) * FIGURE, 0, tenth(value), DIM)
    if phase.labour_h > 0:
        row.right(at.figures + 4 * FIGURE, 0, tenth(phase.labour_h), BOLD if not ahead else DIM)
    if len(at.heads) > 4 and _is_labour(phase) and phase.state != "finished":
        row.right(at.figures + 5 * FIGURE, 0, tenth(phase.remaining.middle), TEXT)
    if _is_labour(phase):
        _bar(row, phase, state, (at, scale), signs)
    row.put(at.who, 0, _who(phase, names, at.note - at.who - 1, signs), TEXT)


def _who(phase: PhaseLine, workers: dict[str, Worker], room: int, signs: Signs) -> str:
    """Names as far as there is room for all of them, else initials."""
    known = [workers.get(badge) or Worker(badge, badge, badge[:2]) for badge in phase.people]
    names = ", ".join(one.name for one in known)
    if cell_len(names) <= room:
        return cut(names, room, signs.more)
    short = joined([one.initials for one in known])
    if cell_len(short) > room and len(known) > 1:
        short = f"{known[0].initials}+{len(known) - 1}"
    return cut(short, room, signs.more)


def _bar(
    row: Canvas, phase: PhaseLine, state: State, how: tuple[Columns, float], signs: Signs
) -> None:
    """Worked to the estimate, low what is to come, hatched beyond, dotted to the cautious."""
    at, scale = how
    estimate = round(phase.estimate.middle * scale)
    worked = round(phase.labour_h * scale)
    cautious = max(estimate, round(phase.estimate.cautious * scale))
    done = Ink("running" if state == "running" else "past")
    letter = signs.running if state == "running" else signs.worked
    finished = phase.state in ("finished", "skipped")
    row.fill(at.bar, 0, min(worked, estimate), done, letter)
    if not finished:
        row.fill(at.bar + worked, 0, estimate - worked, Ink("next"), signs.low)
    row.put(at.bar + estimate, 0, signs.estimate, Ink("promise", bold=True))
    over = max(0, worked - estimate)
    row.fill(at.bar + estimate + 1, 0, over, Ink("behind"), signs.beyond)
    rest = cautious - max(estimate, worked)
    row.fill(at.bar + estimate + 1 + over, 0, rest, Ink("dim"), signs.quiet)


def _note(phase: PhaseLine, card: JobCard, *, told: bool) -> tuple[str, Role]:
    """What is to be known of a phase; what blocks it unless that was told a row above."""
    if phase.state == "skipped":
        return phase.note or "skipped", "dim"
    if phase.held_h > 0.05:
        role: Role = "blocked" if phase.state == "held" else "dim"
        return f"{hours(phase.held_h)} held", role
    asked = sum(s.hours for s in card.supplements if s.state == "asked" and s.phase == phase.number)
    if asked:
        return f"+{tenth(asked)} asked", "text"
    if phase.kind != "labour" and phase.state != "finished":
        return "stands" if phase.kind == "standing" else "outwork", "waiting"
    return phase.note or (not told and phase.blocked_by) or "", "dim"


def _sum_row(row: Canvas, card: JobCard, at: Columns) -> None:
    book = sum(phase.book_h for phase in card.phases if _is_labour(phase))
    job = card.job
    row.put(3, 0, "all", BOLD)
    for n, value in enumerate((book, job.estimate.middle, job.estimate.cautious, job.labour_h)):
        row.right(at.figures + (n + 1) * FIGURE, 0, tenth(value), BOLD)
    left = job.remaining
    if len(at.heads) > 4:
        row.right(at.figures + 5 * FIGURE, 0, tenth(left.middle), BOLD)
    text = f"left {tenth(left.middle)} to {tenth(left.cautious)}"
    if left.cautious < 0.05:
        text = "nothing left"
    asked = sum(s.hours for s in card.supplements if s.state == "asked")
    after = tenth(left.middle + asked)
    more = (f"; with the extra work {after}", f"; {after} with extra work", "")
    room = at.width - 1 - at.bar
    fitting = next(m for m in more if len(text) + len(m) <= room or not m) if asked else ""
    row.put(at.bar, 0, text + fitting, TEXT)
