"""All steps of a phase in a list, to sign any of them; left and right go to other phases."""

from __future__ import annotations

import asyncio
from dataclasses import dataclass
from functools import partial
from typing import Any

from store.views.job import job_card
from store.views.values import JobCard, PhaseLine, StepLine
from tui import keys
from tui.bay.steps import step_state
from tui.colours import Ink
from tui.job.owed import step_title
from tui.parts.canvas import Canvas
from tui.parts.everywhere import everywhere, no_key
from tui.parts.lines import paint_keys, paint_said
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.signing import sign_step
from tui.signs import STATES, Signs, State
from tui.words import cut, day_time, listed, wrapped

DIM, TEXT, BOLD = Ink("dim"), Ink("text"), Ink("text", bold=True)
TOP = 3


@dataclass(slots=True)
class _Standing:
    """Which phase and step one stands on."""

    phase: int
    step: int = 0


async def step_list(screen: Painted[Any], job: str, phase: str | None) -> None:
    """Show the steps until somebody goes back; sign those that are chosen."""
    card = await _card(screen, job)
    at = next((n for n, p in enumerate(card.phases) if p.number == phase), 0)
    here = _Standing(at)
    here.step = _first_open(card.phases[at])
    try:
        while True:
            here.step = min(max(0, here.step), max(0, len(card.phases[here.phase].steps) - 1))
            _show(screen, card, here)
            key = (await screen.talk.key()).key
            match keys.meant(keys.STEPS, key):
                case "up":
                    here.step -= 1
                case "down":
                    here.step += 1
                case "before" | "after" as way:
                    step = -1 if way == "before" else 1
                    here.phase = (here.phase + step) % len(card.phases)
                    here.step = _first_open(card.phases[here.phase])
                case "sign":
                    card = await _sign(screen, card, here)
                case "back":
                    return
                case None:
                    no_key(screen, key, keys.STEPS)
                case common:
                    await screen.doing(partial(everywhere, screen, common, keys.STEPS))
    finally:
        screen.cover(None)


async def _card(screen: Painted[Any], job: str) -> JobCard:
    session = screen.session
    return await asyncio.to_thread(lambda: job_card(session.shop, job, session.now()))


def _first_open(phase: PhaseLine) -> int:
    return next((n for n, step in enumerate(phase.steps) if step.state != "done"), 0)


async def _sign(screen: Painted[Any], card: JobCard, here: _Standing) -> JobCard:
    phase = card.phases[here.phase]
    if phase.steps:
        step = phase.steps[here.step]
        await screen.doing(lambda: _sign_one(screen, card, phase, step))
    after = await _card(screen, card.job.number)
    same = next((n for n, p in enumerate(after.phases) if p.number == phase.number), 0)
    here.phase = same
    if phase.steps and after.phases[same].steps[here.step].state == "done":
        here.step += 1
    return after


async def _sign_one(screen: Painted[Any], card: JobCard, phase: PhaseLine, step: StepLine) -> None:
    await somebody(screen)
    await sign_step(screen, card, phase, step)


def _show(screen: Painted[Any], card: JobCard, here: _Standing) -> None:
    at, signs = (here.phase, here.step), screen.session.signs
    screen.cover(lambda size: steps_canvas(card, at, size, signs, _said(screen)))


def _said(screen: Painted[Any]) -> str:
    """What was done, without its way back: in this list that key leaves."""
    return (screen.saying or "").removesuffix(screen.way_back())


def steps_canvas(
    card: JobCard, at: tuple[int, int], size: tuple[int, int], signs: Signs, said: str
) -> Canvas:
    """The list: one row a step, more under the one that one stands on."""
    canvas = Canvas(*size)
    width, height = size
    phase = card.phases[at[0]]
    canvas.put(1, 0, cut(f"{card.job.number} {card.job.vehicle}", width - 2, signs.more), DIM)
    title = f"{phase.number} {phase.name}   {phase.state}"
    canvas.put(1, 1, cut(title, width - 2, signs.more), BOLD)
    rows = [_rows(phase, step, n == at[1], width, card) for n, step in enumerate(phase.steps)]
    first = _first_row(rows, at[1], height - TOP - 3)
    y = TOP
    for nth, row in enumerate(rows):
        if nth < first:
            continue
        for line in row:
            if y >= height - 3:
                break
            _paint_row(canvas, y, line, signs, nth == at[1])
            y += 1
    if not phase.steps:
        canvas.put(3, TOP, "This phase has no steps.", DIM)
    paint_said(canvas, height - 2, said, signs)
    paint_keys(canvas, height - 1, keys.last_row(keys.STEPS), signs)
    return canvas


_Row = tuple[State | None, str, str, Ink]
"""Sign, text, text at the right end, ink."""


def _rows(phase: PhaseLine, step: StepLine, here: bool, width: int, card: JobCard) -> list[_Row]:
    done = step.state == "done"
    state: State = "done" if done else step_state(step)
    valid = [one for one in step.signed if not one.void]
    zone = card.calendar.zone
    right = ""
    if valid:
        right = f"{listed([s.name for s in valid])} {day_time(valid[-1].at, zone, card.at)}"
    ink = DIM if done else BOLD if here else TEXT
    rows: list[_Row] = [(state, step_title(phase, step), right, ink)]
    if here:
        room = width - 12
        notes = [step.detail, *step.limits, step.who and f"signed by {step.who}"]
        notes += [f"waits: {step.waits_for}"] if step.waits_for else []
        notes += (
            [", ".join(f"{name} {value:g}" for name, value in valid[-1].readings)] if valid else []
        )
        rows += [(None, line, "", TEXT) for note in notes if note for line in wrapped(note, room)]
        if step.caution:
            rows += [(None, line, "", Ink("behind", bold=True)) for line in
                     wrapped(f"! {step.caution}", room)]  # fmt: skip
    return rows


def _first_row(rows: list[list[_Row]], here: int, room: int) -> int:
    """The first step that is shown, so that the one at hand is whole."""
    first = 0
    while first < here and sum(len(row) for row in rows[first : here + 1]) > room:
        first += 1
    return first


def _paint_row(canvas: Canvas, y: int, row: _Row, signs: Signs, here: bool) -> None:
    state, text, right, ink = row
    end = canvas.width - 1
    start = canvas.right(end, y, cut(right, canvas.width // 3, signs.more), DIM) if right else end
    if state is None:
        canvas.put(10, y, cut(text, start - 11, signs.more), ink)
    else:
        canvas.put(4, y, signs.of(state), Ink(STATES[state].role, bold=True))
        canvas.put(6, y, cut(text, start - 8, signs.more), ink)
    if here:
        canvas.ground(0, y, canvas.width, 1, "pick")
        if state is not None:
            canvas.put(1, y, signs.of("running"), Ink("text", bold=True, ground="pick"))
