"""Putting one's name under something: readings by position, the second person, answers by digit."""

from __future__ import annotations

import asyncio
from collections.abc import Mapping
from typing import Any

from store.trouble import Refused
from store.views.job import job_card
from store.views.values import Asked, JobCard, PhaseLine, StepLine
from tui import deeds
from tui.job.desk import ahead_of
from tui.job.owed import step_number, step_title
from tui.parts.finding import report_finding
from tui.parts.moving_clock import offer_clock
from tui.parts.painted import Painted
from tui.parts.prompt import Option
from tui.parts.talk import Back
from tui.parts.when import number, some
from tui.words import listed


async def sign_step(screen: Painted[Any], card: JobCard, phase: PhaseLine, step: StepLine) -> None:
    """Sign a step, hold point or decision as its kind asks; offer to bring the clock along.

    Raises:
        Back: left with Esc; what was signed before stays.
        Trouble: refused.
    """
    await _sign(screen, card, phase, step)
    await offer_clock(screen, card, phase)


async def _sign(screen: Painted[Any], card: JobCard, phase: PhaseLine, step: StepLine) -> None:
    job, title = card.job.number, step_title(phase, step)
    if step.waits_for is not None or step.kind == "step" or step.state == "done":
        # what is out of turn is refused in full by the act itself, before any reading is asked
        await screen.act(deeds.sign(job, phase.number, step.step))
        screen.say_briefly(f"{step_number(phase, step)} done: {step.text}")
        return
    if step.kind == "decision":
        options = [Option(_digit(n), words) for n, (_, words) in enumerate(step.answers)]
        facts = (*_facts(step), *ahead_of(card, step.text))
        chosen = await screen.talk.pick(title, options, facts=facts)
        code = next(c for n, (c, _) in enumerate(step.answers) if _digit(n) == chosen)
        await screen.act(deeds.sign(job, phase.number, step.step, answer=code))
        return
    await _hold_point(screen, job, phase, step)


def _digit(nth: int) -> str:
    return "123456789abcdef"[nth]


def _facts(step: StepLine) -> tuple[str, ...]:
    return tuple(filter(None, (step.detail, step.caution and f"! {step.caution}")))


async def _hold_point(screen: Painted[Any], job: str, phase: PhaseLine, step: StepLine) -> None:
    if step.state == "half":
        await _second_name(screen, job, phase, step)
        return
    if step.state == "out" and not await _measures_again(screen, job, phase, step):
        return
    step = await limits_first(screen, job, phase, step)
    readings = await read_values(screen, phase, step)
    await _first_name(screen, job, phase, step, readings)
    card = await _card(screen, job)
    after = _same_step(card, phase, step)
    if after.state == "out":
        where = f"{job}.{phase.number}"
        screen.say_briefly(f"{where}.{step.step}: the reading is kept, and {where} is held")
        await _offer_finding(screen, card, phase, after)
    elif after.state == "half":
        await _second_name(screen, job, phase, after)


async def _card(screen: Painted[Any], job: str) -> JobCard:
    session = screen.session
    return await asyncio.to_thread(lambda: job_card(session.shop, job, session.now()))


def _same_step(card: JobCard, phase: PhaseLine, step: StepLine) -> StepLine:
    steps = (s for p in card.phases if p.number == phase.number for s in p.steps)
    return next((one for one in steps if one.step == step.step), step)


# -- readings


async def limits_first(
    screen: Painted[Any], job: str, phase: PhaseLine, step: StepLine
) -> StepLine:
    """Have limits typed that come from the maker's data, with their source."""
    codes = dict.fromkeys(one.code for one in step.asks if one.untyped)
    if not codes:
        return step
    for code in codes:
        ask = next(one for one in step.asks if one.code == code)
        title = f"{step_title(phase, step)}: limits of {ask.text}, by the maker's data"
        unit = f" {ask.unit}" if ask.unit else ""
        low = await screen.talk.type(title, f"at least{unit} (Enter: none)", _maybe_number)
        high = await screen.talk.type(title, f"at most{unit} (Enter: none)", _maybe_number)
        source = await screen.talk.type(title, "from which data", some)
        await screen.act(deeds.type_limits(job, phase.number, step.step, code, (low, high), source))
    return _same_step(await _card(screen, job), phase, step)


def _maybe_number(text: str) -> float | None:
    return number(text) if text else None


async def read_values(
    screen: Painted[Any], phase: PhaseLine, step: StepLine
) -> Mapping[str, float]:
    """Every value in turn; Esc goes to the one before, and what was typed is there."""
    typed: dict[str, str] = {}
    nth = 0
    while nth < len(step.asks):
        ask = step.asks[nth]
        so_far = ", ".join(f"{one.position or one.text} {typed[one.name]}"
                           for one in step.asks[:nth])  # fmt: skip
        try:
            typed[ask.name] = await screen.talk.type(
                f"{step_title(phase, step)}   {nth + 1} of {len(step.asks)}",
                _label(ask), _number_text, text=typed.get(ask.name, ""),
                facts=(*_facts(step), f"{ask.text}: {ask.limits}",
                       *([f"so far: {so_far}"] if so_far else [])),
            )  # fmt: skip
            nth += 1
        except Back:
            if nth == 0:
                raise
            nth -= 1
    return {name: number(text) for name, text in typed.items()}


def _label(ask: Asked) -> str:
    return " ".join(filter(None, (ask.position or ask.text, ask.unit and f"in {ask.unit}")))


def _number_text(text: str) -> str:
    number(text)
    return text


# -- names


async def _first_name(
    screen: Painted[Any],
    job: str,
    phase: PhaseLine,
    step: StepLine,
    readings: Mapping[str, float],
) -> None:
    """One's own name; where that is not enough, somebody else's in the same place."""
    from store.actions.trouble import MayNot

    deed = deeds.sign(job, phase.number, step.step, readings=readings)
    if not _others_only(screen, await _card(screen, job), step):
        try:
            await screen.act(deed)
            return
        except Refused as refused:
            if not isinstance(refused, MayNot) and " with " not in step.who:
                raise
            screen.say_no(str(refused))
    badge, name = await screen.guests(
        f"{step_title(phase, step)}: who signs?",
        (f"It takes {step.who}.", "They scan or type their badge here. Esc: later."),
    )
    await screen.act(deed, badge=badge, name=name)


def _others_only(screen: Painted[Any], card: JobCard, step: StepLine) -> bool:
    """Whether it is plain that who is signed in may not sign: no PIN is asked in vain."""
    who = screen.session.who
    if who is None or step.signs == 2:
        return False
    if "foreman" in step.who and who.role == "technician":
        return True
    worked = any(who.badge in phase.people for phase in card.phases)
    return worked and "did not do the work" in step.who


async def _second_name(screen: Painted[Any], job: str, phase: PhaseLine, step: StepLine) -> None:
    """The second person signs here, with badge and PIN."""
    deed = deeds.sign(job, phase.number, step.step)
    signed = {one.badge: one.name for one in step.signed if not one.void}
    who = screen.session.who
    if who is not None and who.badge not in signed:
        await screen.act(deed)
        return
    badge, name = await screen.guests(
        f"{step_title(phase, step)}: a second name",
        (f"{listed(list(signed.values()))} signed. It takes {step.who}.",
         "The second person scans or types the badge here. Esc: later."),
    )  # fmt: skip
    await screen.act(deed, badge=badge, name=name)


# -- outside the limits


async def _measures_again(screen: Painted[Any], job: str, phase: PhaseLine, step: StepLine) -> bool:
    """What becomes of a reading outside its limits; True where it is measured again."""
    chosen = await screen.talk.pick(
        f"{step_title(phase, step)}: outside its limits",
        [Option("1", "measure again", hot=True), Option("2", "report a finding"),
         Option("3", "let it stand: a foreman signs")],
        facts=_last_readings(step),
    )  # fmt: skip
    if chosen == "1":
        return True
    card = await _card(screen, job)
    if chosen == "2":
        await report_finding(screen, job, phase.number, text=reading_text(card, phase, step))
        return False
    reason = await screen.talk.type(
        "Why can it be used as it is?", "reason", some, facts=_last_readings(step)
    )
    deed = deeds.sign(job, phase.number, step.step, as_is=reason)
    if screen.session.who is not None and screen.session.who.role != "technician":
        await screen.act(deed)
        return False
    badge, name = await screen.guests("A foreman lets it stand", ("The foreman's badge.",))
    await screen.act(deed, badge=badge, name=name)
    return False


def _last_readings(step: StepLine) -> tuple[str, ...]:
    last = step.signed[-1] if step.signed else None
    values = ", ".join(f"{name} {value:g}" for name, value in last.readings) if last else ""
    return tuple(filter(None, (values and f"read: {values}", *step.limits)))


def reading_text(card: JobCard, phase: PhaseLine, step: StepLine) -> str:
    """The reading in words, for a finding: as the hold says it, else as it was typed."""
    held = next(
        (h.text for h in card.holds if h.phase == phase.number and h.reason == "reading"), None
    )
    return held or "; ".join(_last_readings(step)[:1]) or step.text


async def _offer_finding(
    screen: Painted[Any], card: JobCard, phase: PhaseLine, step: StepLine
) -> None:
    text = reading_text(card, phase, step)
    chosen = await screen.talk.pick(
        f"{step_number(phase, step)} is outside its limits, and the phase is held",
        [Option("1", "report it as a finding", hot=True), Option("2", "measure again"),
         Option("3", "later")],
        facts=(f"{text}. The reading is kept.",),
    )  # fmt: skip
    if chosen == "1":
        await report_finding(screen, card.job.number, phase.number, text=text)
    elif chosen == "2":
        await _hold_point(screen, card.job.number, phase, step)
