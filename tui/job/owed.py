"""What is owed to or by somebody on a job: the first thing its card says."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from store.views.values import JobCard, PhaseLine, StepLine, SupplementLine
from tui.colours import Ink
from tui.job.outside_words import (
    due_firms,
    due_words,
    extra_amount,
    meanwhile_words,
    tried_words,
)
from tui.parts.loud import put_loud
from tui.parts.sheet import Sheet
from tui.signs import LOUD, Signs
from tui.words import cut, day_time, listed, wrapped

DIM, BOLD = Ink("dim"), Ink("text", bold=True)
INDENT = 12
"""Cells before the sentence beside a loud word."""
MOST_UNDER = 3
"""Rows that each thing said under a sentence may take."""


def add_owed(sheet: Sheet, card: JobCard, signs: Signs) -> None:
    """What is owed to or by somebody: answers, signatures, holds, open conditions."""
    said = False
    for word, first, under in _owed(card):
        said = True
        _sentence(sheet, (word, first, under), signs)
    for nth, text in enumerate(card.open_conditions):
        said = True
        row = sheet.block()
        row.put(1, 0, "" if nth else "open", DIM)
        row.put(10, 0, "!", Ink("due", bold=True))
        row.put(INDENT, 0, cut(text, sheet.width - INDENT - 1, signs.more), Ink("due"))
    if said:
        sheet.gap()


def _owed(card: JobCard) -> Iterator[tuple[str, str, Sequence[str]]]:
    """Loud word, sentence, and what stands under it."""
    asked = [line for line in card.supplements if line.state == "asked"]
    for line in asked:
        under = [_asked(line, card)]
        if line is asked[-1]:  # of all that is asked, said once
            under = ["; ".join(filter(None, (*under, tried_words(card))))]
            under += filter(None, [meanwhile_words(card)])
        yield "ANSWER", f"{line.text}: {extra_amount(line)}", under
    for away in due_firms(card):
        first, said = due_words(away, card)
        yield "DUE", first, [said]
    for phase in card.phases:
        for step in phase.steps:
            if step.state == "half":
                names = listed([s.name for s in step.signed if not s.void])
                yield (
                    "SIGN",
                    f"{step_number(phase, step)} {step.text}",
                    [f"{names} signed; wants one more"],
                )
            elif step.state == "out":
                yield "READING", f"{step_number(phase, step)} {step.text}", [_readings(step)]
    hold = card.job.hold
    if hold is not None and not asked:
        first, second = _held(card)
        yield "HELD", first, [second]


def _asked(line: SupplementLine, card: JobCard) -> str:
    when = day_time(line.asked_at, card.calendar.zone, card.at)
    return f"asked {when} by {line.asked_by}"


def _held(card: JobCard) -> tuple[str, str]:
    hold, zone = card.job.hold, card.calendar.zone
    if hold is None:
        return "", ""
    where = f"phase {hold.phase}" if hold.phase else "the job"
    first = f"{where} since {day_time(hold.since, zone, card.at)}: {hold.text or hold.reason}"
    until = f"expected {day_time(hold.until, zone, card.at)}" if hold.until else "no end known"
    return first, f"{until}; next move: {hold.next_move}" if hold.next_move else until


def _readings(step: StepLine) -> str:
    last = step.signed[-1] if step.signed else None
    values = ", ".join(f"{name} {value:g}" for name, value in last.readings) if last else ""
    limits = "; ".join(step.limits)
    return f"{values}, limits {limits}" if values and limits else values or limits


def _sentence(sheet: Sheet, said: tuple[str, str, Sequence[str]], signs: Signs) -> None:
    word, first, under = said
    row = sheet.block()
    role = LOUD[word].role
    x = max(INDENT, put_loud(row, (1, 0), word, signs, Ink(role, loud=True)) + 1)
    room = sheet.width - x - 1
    lines = wrapped(first, room) or [""]
    row.put(x, 0, lines[0], BOLD)
    for line in lines[1:3]:
        sheet.block().put(x, 0, line, BOLD)
    for text in filter(None, under):
        for line in wrapped(text, room)[:MOST_UNDER]:
            sheet.block().put(x, 0, cut(line, room, signs.more), DIM)


def step_number(phase: PhaseLine, step: StepLine) -> str:
    """`4.3`, whether the step's own code names its phase or not."""
    return step.step if "." in step.step else f"{phase.number}.{step.step}"


def step_title(phase: PhaseLine, step: StepLine) -> str:
    """Number and text of a step."""
    return f"{step_number(phase, step)} {step.text}"
