"""The job card as text: what is owed first, then phases with their steps, then the estimate."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from zoneinfo import ZoneInfo

from store.views.values import JobCard, PhaseLine, Signature, StepLine, SupplementLine
from tui import words
from tui.cli.text_desk_job import lines as desk_lines
from tui.cli.text_floor import FLAG_WORDS, WIDTH
from tui.cli.text_told import told_lines
from tui.parts.clearing import weighed
from tui.ready.words import ready_words

STATES = {
    "to come": " ", "under way": ">", "held": "!", "finished": "x", "skipped": "-",
}  # fmt: skip
STEP_STATES = {"open": "[ ]", "half": "[/]", "out": "[!]", "done": "[x]"}


def lines(card: JobCard, *, all_steps: bool = False) -> Iterator[str]:
    """The card, at most 80 columns.

    Args:
        all_steps: those of every phase; else of the present one, and what must be signed in others.
    """
    zone, job = card.calendar.zone, card.job
    yield words.cut(f"{job.number} {job.vehicle}   {job.work}", WIDTH)
    yield from _head(card, zone)
    yield from _ready(card)
    yield from _owed(card, zone)
    if card.clearing is not None:
        yield from _two_in(f"clear the lift: {'; '.join(weighed(card.clearing))}")
    yield ""
    yield f"  {'phase':<38}{'book':>6}{'est':>6}{'caut':>6}{'lab':>6}  who"
    waits: str | None = None
    for phase in card.phases:
        told = phase.blocked_by == waits  # what stops one phase stops those behind it: said once
        waits = phase.blocked_by
        yield from _phase(phase, card, zone, all_steps=all_steps, told=told)
    yield (
        f"  {'all':<44}{words.tenth(job.estimate.middle):>6}{words.tenth(job.estimate.cautious):>6}"
        f"{words.tenth(job.labour_h):>6}"
    )
    left = f"{words.tenth(job.remaining.middle)} to {words.hours(job.remaining.cautious)}"
    yield f"  left {left}" if job.phase else "  nothing left"
    yield ""
    yield "how the estimate came to be"
    for one in card.estimate_changes:
        when = words.day_time(one.at, zone, card.at)
        yield words.cut(f"  {when:<16} {words.tenth(one.middle):>6}  {one.cause}", WIDTH)
    yield from desk_lines(card)
    yield from told_lines(card)


def _head(card: JobCard, zone: ZoneInfo) -> Iterator[str]:
    job = card.job
    place = f"at place {job.place}" if job.place else "at no place"
    stands = f"sits {job.stands}" if job.stands == "fixed" else job.stands
    parts = [job.state.replace("-", " "), place, stands]
    if job.family:
        parts.append(f"{job.family}, grade {card.grade}")
    if job.finish:
        parts.append(words.out_by(job.finish.middle, job.finish.cautious, zone, card.at))
    if job.promise:
        parts.append(f"promised {words.day_time(job.promise, zone, card.at)}")
    yield from _two_in("; ".join(parts))
    flags = [FLAG_WORDS[one] for one in job.flags]
    if flags:
        yield words.cut("  " + ", ".join(flags), WIDTH)


def _ready(card: JobCard) -> Iterator[str]:
    """Whether it can come in, or what it came in without; nothing where nobody asks."""
    if card.job.ready is not None or card.unready:
        yield from _two_in(ready_words(card))


def _owed(card: JobCard, zone: ZoneInfo) -> Iterator[str]:
    for hold in card.holds:
        where = card.job.number if hold.phase is None else f"{card.job.number}.{hold.phase}"
        until = f", until {words.day_time(hold.until, zone, card.at)}" if hold.until else ""
        move = f", {hold.next_move} moves next" if hold.next_move else ""
        text = f" ({hold.text})" if hold.text else ""
        yield from _two_in(f"HELD {where}: {hold.reason}{text}{until}{move}")
    for line in card.supplements:
        if line.state == "asked":
            yield from _two_in(_supplement(line, zone, card.at))
    for condition in card.open_conditions:
        yield words.cut(f"  ! open: {condition}", WIDTH)


def _two_in(text: str) -> Iterator[str]:
    return (f"  {line}" for line in words.wrapped(text, WIDTH - 2))


def _supplement(line: SupplementLine, zone: ZoneInfo, now: datetime) -> str:
    money = "" if line.money is None else f", {words.money(line.money)}"
    when = words.day_time(line.answered_at or line.asked_at, zone, now)
    return f"extra {line.line}: {line.text}, {words.hours(line.hours)}{money}: {line.state} {when}"


def _phase(
    phase: PhaseLine, card: JobCard, zone: ZoneInfo, *, all_steps: bool, told: bool
) -> Iterator[str]:
    labour = words.tenth(phase.labour_h) if phase.labour_h else ""
    name = phase.name if phase.kind == "labour" else f"{phase.name} ({phase.kind})"
    yield words.cut(
        f"{STATES[phase.state]} {phase.number:>3} {words.cut(name, 34):<34}"
        f"{words.tenth(phase.book_h):>6}{words.tenth(phase.estimate.middle):>6}"
        f"{words.tenth(phase.estimate.cautious):>6}{labour:>6}  {' '.join(phase.people)}".rstrip(),
        WIDTH,
    )
    if phase.note:
        yield words.cut(f"      {phase.note}", WIDTH)
    if phase.blocked_by and not told and phase.state in ("to come", "under way"):
        yield from _indented("waits: " + phase.blocked_by)
    if phase.state in ("to come", "under way", "held"):
        for caution in phase.cautions:
            yield from _indented("! " + caution)
    present = card.job.phase is not None and card.job.phase.number == phase.number
    for step in phase.steps:
        if not (all_steps or present or step.kind != "step"):
            continue
        yield from _step(step, phase, card, zone)


def _indented(text: str) -> Iterator[str]:
    return (f"      {line}" for line in words.wrapped(text, WIDTH - 6))


def _step(step: StepLine, phase: PhaseLine, card: JobCard, zone: ZoneInfo) -> Iterator[str]:
    kind = {"step": "", "hold point": "HOLD POINT ", "decision": "DECISION "}[step.kind]
    yield words.cut(f"    {STEP_STATES[step.state]} {step.step:>2} {kind}{step.text}", WIDTH)
    if phase.state in ("finished", "skipped") and step.state in ("done", "open"):
        yield from (_signed(one, zone, card.at) for one in step.signed if step.kind != "step")
        return
    for limit in step.limits:
        yield words.cut(f"           {limit}", WIDTH)
    for code, text in step.answers:
        yield words.cut(f"           {code} = {text}", WIDTH)
    yield from (_signed(one, zone, card.at) for one in step.signed)


def _signed(signature: Signature, zone: ZoneInfo, now: datetime) -> str:
    given = ", ".join(f"{name} {value:g}" for name, value in signature.readings)
    answer = f": {signature.answer}" if signature.answer else ""
    notes = [_void(signature, zone, now)] if signature.void else []
    notes += [] if signature.in_limits else ["outside the limits"]
    notes += [f"as it is: {signature.as_is}"] if signature.as_is else []
    tail = f" ({', '.join(notes)})" if notes else ""
    when = words.day_time(signature.at, zone, now)
    return words.cut(f"           {signature.name} {when}{answer} {given}{tail}".rstrip(), WIDTH)


def _void(signature: Signature, zone: ZoneInfo, now: datetime) -> str:
    when = f" {words.day_time(signature.void_at, zone, now)}" if signature.void_at else ""
    return f"void{when}{f': {signature.void_why}' if signature.void_why else ''}"
