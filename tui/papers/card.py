"""What a printed job card says, in words: shared by the text and the page."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from store.rules.codes import Code
from store.views.printed_card import PrintedCard
from store.views.values import PhaseLine, StepLine
from tui.papers.said import GRADES, at
from tui.words import hours, listed, zone_of

DECIDE = (
    "The vehicle maker's service data for this engine and gearbox number, the lift maker's manual, "
    "local codes and qualified people decide, not this card. It never says that something is safe."
)
ON_PAPER = (
    "A name here is no signature: hold points are signed at a terminal by their own people, with "
    "the readings. Hours are entered from the rows at the end."
)
CLOCK_ROWS, FOUND_ROWS = 14, 4
"""Blank rows for hours and for what was found."""
HOURS_HEADS = ("date", "who (badge)", "phase", "from", "to")


@dataclass(frozen=True, slots=True)
class CardStep:
    """A step with its box.

    Attributes:
        number: `3.2`.
        notes: detail, answers, who signs: a line each.
        readings: what is measured, its limits and unit: a field to fill in each.
        names: how many names a hold point wants.
        code: of a hold point or decision, None of a plain step.
    """

    number: str
    text: str
    done: str
    kind: str
    caution: str
    notes: tuple[str, ...]
    readings: tuple[tuple[str, str, str], ...]
    names: int
    code: Code | None


@dataclass(frozen=True, slots=True)
class CardPhase:
    """A phase; one that is `over` has nothing left to do, and its steps are left out."""

    number: str
    name: str
    state: str
    figures: str
    warnings: tuple[str, ...]
    steps: tuple[CardStep, ...]
    over: bool
    code: Code | None


def facts(found: PrintedCard) -> list[tuple[str, str]]:
    """The vehicle and the job by name."""
    card, job = found.card, found.card.job
    zone = zone_of(card.zone)
    rows = [
        ("vehicle", job.vehicle), *found.vehicle, ("family", job.family),
        ("condition", GRADES.get(card.grade, "")), ("work", job.work),
        ("complaint", found.complaint or ""),
        ("promised", at(job.promise, zone) if job.promise else ""),
        ("stands", f"{_place(found)}, {job.stands}"),
        ("known", ", ".join(f"{name} {value}" for name, value in card.options)),
    ]  # fmt: skip
    return [(name, value) for name, value in rows if value]


def _place(found: PrintedCard) -> str:
    job = found.card.job
    if job.place is None:
        return "on no lift"
    return f"lift {job.place}" if job.state == "on-lift" else f"place {job.place}"


def alarms(found: PrintedCard) -> list[str]:
    """What a third person must see first: open conditions, holds, work nobody agreed to."""
    card = found.card
    lines = [f"OPEN: {one}" for one in card.open_conditions]
    for one in card.holds:
        where = f"phase {one.phase}" if one.phase else "the whole job"
        lines.append(f"HELD: {where}, {one.reason}{f': {one.text}' if one.text else ''}")
    lines += [
        f"NOT AGREED: {one.text}, {hours(one.hours)}. Not before the customer's word."
        for one in card.supplements
        if one.state == "asked"
    ]
    return lines


def findings(found: PrintedCard) -> list[str]:
    """What was discovered so far, and what became of it."""
    return [
        f"phase {one.phase}: {one.text}"
        f"{f', {hours(one.hours)}' if one.hours is not None else ''} ({one.became})"
        for one in found.card.findings
    ]


def phases(found: PrintedCard) -> Iterator[CardPhase]:
    """The phases that are part of the work, in the order of the route."""
    for one in found.card.phases:
        if one.state != "skipped":
            yield _phase(found, one)


def _phase(found: PrintedCard, one: PhaseLine) -> CardPhase:
    job = found.card.job.number
    figures = f"estimate {one.estimate.middle:.1f} h, cautious {one.estimate.cautious:.1f} h"
    if one.labour_h:
        figures += f", so far {one.labour_h:.1f} h"
    if one.kind != "labour":
        figures = f"{one.kind}, {one.estimate.middle:.1f} h: nobody clocks on it"
    warnings = list(one.cautions)
    if one.blocked_by:
        warnings.append(f"Not yet: {one.blocked_by}")
    over = one.state == "finished"
    code = Code("phase", f"{job}.{one.number}") if one.kind == "labour" else None
    return CardPhase(
        one.number, one.name, one.state, figures, tuple(warnings),
        () if over else tuple(_step(found, one, step) for step in one.steps), over, code,
    )  # fmt: skip


def _step(found: PrintedCard, phase: PhaseLine, step: StepLine) -> CardStep:
    where = f"{found.card.job.number}.{phase.number}.{step.step}"
    notes = [step.detail] if step.detail else []
    notes += [f"[  ] {text}" for _, text in step.answers]
    if step.who:
        notes.append(f"signed by {step.who}")
    readings = tuple(
        (
            f"{one.text}{f', {one.position}' if one.position else ''}",
            "limits from the maker's data: ________ source: ________" if one.untyped
            else one.limits,
            one.unit,
        )
        for one in step.asks
    )  # fmt: skip
    return CardStep(
        f"{phase.number}.{step.step}", step.text, _done(found, step), step.kind, step.caution,
        tuple(notes), readings, step.signs if step.kind == "hold point" else 0,
        None if step.kind == "step" else Code("step", where),
    )  # fmt: skip


def _done(found: PrintedCard, step: StepLine) -> str:
    """Who signed it and when; "" where it is to be done."""
    valid = [one for one in step.signed if not one.void]
    if step.state != "done" or not valid:
        return ""
    names = listed(list(dict.fromkeys(one.name for one in valid)))
    return f"{names}, {at(valid[-1].at, zone_of(found.card.zone))}"


def foot(found: PrintedCard) -> str:
    """Which state of the shop the card shows."""
    when = at(found.card.at, zone_of(found.card.zone))
    return f"{found.shop}. Printed {when}, after entry {found.entry}; what is later is not on it."
