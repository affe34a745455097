"""What is owed to or by somebody on a job: the first thing its card says."""

from __future__ import annotations

from collections.abc import Iterator

from store.views.values import JobCard, PhaseLine, StepLine, SupplementLine
from tui.colours import Ink
from tui.parts.loud import put_loud
from tui.parts.sheet import Sheet
from tui.signs import LOUD, Signs
from tui.words import cut, day_time, listed, money, tenth, wrapped

DIM, BOLD = Ink("dim"), Ink("text", bold=True)
INDENT = 12
"""Cells before the sentence beside a loud word."""


def add_owed(sheet: Sheet, card: JobCard, signs: Signs) -> None:
    """What is owed to or by somebody: answers, signatures, holds, open conditions."""
    said = False
    for word, first, second in _owed(card):
        said = True
        _sentence(sheet, word, (first, second), signs)
    for nth, text in enumerate(card.open_conditions):
        said = True
        row = sheet.block()
        row.put(1, 0, "" if nth else "open", DIM)
        row.put(10, 0, "!", Ink("due", bold=True))
        row.put(INDENT, 0, cut(text, sheet.width - INDENT - 1, signs.more), Ink("due"))
    if said:
        sheet.gap()


def _owed(card: JobCard) -> Iterator[tuple[str, str, str]]:
    """Loud word, sentence, and what stands under it."""
    for line in card.supplements:
        if line.state == "asked":
            yield "ANSWER", *_asked(line, card)
    for phase in card.phases:
        for step in phase.steps:
            if step.state == "half":
                names = listed([s.name for s in step.signed if not s.void])
                yield (
                    "SIGN",
                    f"{step_number(phase, step)} {step.text}",
                    f"{names} signed; wants one more",
                )
            elif step.state == "out":
                yield "READING", f"{step_number(phase, step)} {step.text}", _readings(step)
    hold = card.job.hold
    if hold is not None and not any(line.state == "asked" for line in card.supplements):
        yield "HELD", *_held(card)


def _asked(line: SupplementLine, card: JobCard) -> tuple[str, str]:
    price = f", {money(line.money)}" if line.money is not None else ""
    when = day_time(line.asked_at, card.calendar.zone, card.at)
    first = f"{line.text}: +{tenth(line.hours)} h{price}"
    return first, f"asked {when} by {line.asked_by}"


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


def _sentence(sheet: Sheet, word: str, texts: tuple[str, str], signs: Signs) -> None:
    row = sheet.block()
    role = LOUD[word].role
    x = max(INDENT, put_loud(row, (1, 0), word, signs, Ink(role, loud=True)) + 1)
    room = sheet.width - x - 1
    lines = wrapped(texts[0], room) or [""]
    row.put(x, 0, lines[0], BOLD)
    for line in lines[1:3]:
        sheet.block().put(x, 0, line, BOLD)
    if texts[1]:
        sheet.block().put(x, 0, cut(texts[1], room, signs.more), DIM)


def step_number(phase: PhaseLine, step: StepLine) -> str:
    """`4.3`, whether the step's own code names its phase or not."""
    return step.step if "." in step.step else f"{phase.number}.{step.step}"


def step_title(phase: PhaseLine, step: StepLine) -> str:
    """Number and text of a step."""
    return f"{step_number(phase, step)} {step.text}"
