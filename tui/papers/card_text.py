"""A job card as text of 80 columns, to be printed where there is no browser."""

from __future__ import annotations

from collections.abc import Iterator

from store.rules.codes import written
from store.views.printed_card import PrintedCard
from tui.papers.card import (
    CLOCK_ROWS,
    DECIDE,
    FOUND_ROWS,
    HOURS_HEADS,
    ON_PAPER,
    CardPhase,
    CardStep,
    alarms,
    facts,
    findings,
    foot,
    phases,
)
from tui.words import plain, wrapped

WIDTH = 80
RULE = "-" * WIDTH
HOURS_CELLS = (12, 14, 18, 12, 12)


def card_lines(found: PrintedCard) -> Iterator[str]:
    """The whole card."""
    job = found.card.job
    yield from wrapped(plain(f"JOB {job.number}, {job.vehicle}"), WIDTH)
    yield RULE
    for name, value in facts(found):
        first, *rest = wrapped(plain(value), WIDTH - 16) or [""]
        yield f"{name:<16}{first}"
        yield from (f"{'':<16}{one}" for one in rest)
    yield ""
    for one in alarms(found):
        yield from _set_in(f"!! {one}", "", 3)
    yield ""
    for text in (DECIDE, ON_PAPER):
        yield from wrapped(text, WIDTH)
    for phase in phases(found):
        yield ""
        yield RULE
        yield from _phase(phase)
    yield from _blanks(found)
    yield ""
    yield from wrapped(plain(foot(found)), WIDTH)


def _phase(one: CardPhase) -> Iterator[str]:
    mark = "[x]" if one.over else "[ ]"
    yield from _set_in(f"{mark} {one.number} {one.name}: {one.state}", "", 6)
    letters = f"; code {written(one.code)}" if one.code and not one.over else ""
    yield from _set_in(f"{one.figures}{letters}", "    ", 6)
    for warning in () if one.over else one.warnings:
        yield from _set_in(f"! {warning}", "    ", 6)
    for step in one.steps:
        yield from _step(step)


def _step(one: CardStep) -> Iterator[str]:
    mark = "[x]" if one.done else "[ ]"
    kind = "" if one.kind == "step" else f"{one.kind.upper()}: "
    done = f" ({one.done})" if one.done else ""
    yield from _set_in(f"{mark} {one.number} {kind}{one.text}{done}", "    ", 13)
    if one.done:
        return
    if one.caution:
        yield from _set_in(f"! {one.caution}", "             ", 15)
    for note in one.notes:
        yield from _set_in(note, "             ", 15)
    for text, limits, unit in one.readings:
        yield from _set_in(f"{text}: __________ {unit}   ({limits})", "             ", 15)
    for n in range(one.names):
        yield f"{'':<13}name {n + 1}: ____________________  time: __________"
    if one.code is not None:
        yield f"{'':<13}{written(one.code)}"


def _set_in(text: str, margin: str, further: int) -> Iterator[str]:
    """A text in lines, further ones under its words."""
    first, *rest = wrapped(plain(text), WIDTH - max(len(margin), further)) or [""]
    yield f"{margin}{first}"
    yield from (" " * further + one for one in rest)


def _blanks(found: PrintedCard) -> Iterator[str]:
    yield ""
    yield RULE
    yield "found: what, in which phase, hours"
    for line in findings(found):
        yield from _set_in(f"* {line}", "  ", 4)
    yield from (f"  {'_' * (WIDTH - 2)}" for _ in range(FOUND_ROWS))
    yield ""
    yield RULE
    people = ", ".join(f"{badge} {name}" for badge, name in found.people)
    yield from wrapped(plain(f"hours: {people}"), WIDTH)
    cells = zip(HOURS_HEADS, HOURS_CELLS, strict=True)
    yield "  ".join(f"{name:<{width}}" for name, width in cells).rstrip()
    for _ in range(CLOCK_ROWS):
        yield "  ".join("_" * width for width in HOURS_CELLS)
