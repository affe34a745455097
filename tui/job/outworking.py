"""Work of other firms: sent, asked after, back with its report."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from store.trouble import Refused
from store.views.outside_values import OutworkLine
from store.views.values import JobCard, PhaseLine, StepLine
from tui.desk.reading import amount, day_to_come, day_words
from tui.job.deeds import Report, Sent, chase_outwork, outwork_back, send_outwork
from tui.job.outside_words import outwork_words
from tui.parts.filling import Entry, Filling, fill_in, forget
from tui.parts.painted import Painted
from tui.parts.prompt import OPTION_KEYS, Option
from tui.parts.signing import limits_first, read_values
from tui.parts.when import coming, maybe, some
from tui.words import day_time, local, money, zone_of

WHEN = ("Like fri 16:00, or 2026-10-19 16:00.",)
DAY = ("Like thu, tomorrow or 22 oct.",)
OPEN = ("to come", "under way", "held")


async def outwork(screen: Painted[Any], card: JobCard) -> None:
    """Send what is to go, ask after what is away, take in what is back.

    Raises:
        Back: left with Esc.
        Trouble: refused, or no phase of the job is another firm's.
    """
    phase = await _phase(screen, card)
    away = next((one for one in card.outwork if one.away and one.phase == phase.number), None)
    if away is None:
        await _send(screen, card, phase)
        return
    key = await screen.talk.pick(
        f"{card.job.number}.{phase.number} {phase.name}, at {away.firm}",
        [Option("1", "it is back", hot=True), Option("2", "asked how far it is")],
        facts=outwork_words(away, card),
    )
    if key == "1":
        await _back(screen, card, phase, away)
    else:
        await _asked(screen, card, away)


async def _phase(screen: Painted[Any], card: JobCard) -> PhaseLine:
    fitting = [one for one in card.phases if one.kind == "outwork" and one.state in OPEN]
    if not fitting:
        raise Refused(f"No phase of {card.job.number} waits for another firm.")
    if len(fitting) == 1:
        return fitting[0]
    at = {one.phase: one.firm for one in card.outwork if one.away}
    options = [
        Option(OPTION_KEYS[n], f"{one.number} {one.name}   {at.get(one.number, one.state)}")
        for n, one in enumerate(fitting)
    ]
    chosen = await screen.talk.pick(f"{card.job.number}: work of which phase?", options)
    return fitting[OPTION_KEYS.index(chosen)]


# -- away


async def _send(screen: Painted[Any], card: JobCard, phase: PhaseLine) -> None:
    """What and to whom by typing; the rest where there is something to say of it."""
    where = f"{card.job.number}.{phase.number} {phase.name}"
    now, zone = screen.session.now(), zone_of(screen.zone)
    what = Filling(("outwork", where), f"{where} goes to another firm", "send it")
    first = screen.session.filled.get(what.about, Sent())
    if not first.firm:
        said = await screen.talk.type(what.title, "what, and what is to be done", some)
        first = Sent(said, await screen.talk.type(what.title, "to which firm", some))

    async def change(key: str, found: Sent) -> Sent:
        return await _changed(screen, what.title, key, found)

    sent = await fill_in(
        screen, what, first, lambda found: _entries(found, now, zone), change,
        facts=lambda found: (f"{found.what}, to {found.firm}",),
    )  # fmt: skip
    await screen.act(send_outwork(card.job.number, phase.number, sent))
    forget(screen, what)


def _entries(found: Sent, now: datetime, zone: ZoneInfo) -> list[Entry]:
    promised = day_time(found.promised, zone, now) if found.promised else "not said"
    chase = day_words(found.chase, local(now, zone).date()) if found.chase else "nobody asks"
    return [
        Entry("1", "what", found.what), Entry("2", "firm", found.firm),
        Entry("3", "promised back", promised), Entry("4", "to be asked", chase),
        Entry("5", "price", "not said" if found.price is None else money(found.price)),
    ]  # fmt: skip


async def _changed(screen: Painted[Any], title: str, key: str, found: Sent) -> Sent:
    talk, now, zone = screen.talk, screen.session.now(), zone_of(screen.zone)
    if key == "1":
        return replace(found, what=await talk.type(title, "what", some, text=found.what))
    if key == "2":
        return replace(found, firm=await talk.type(title, "firm", some, text=found.firm))
    if key == "3":
        promised = await talk.type(
            title, "promised back (Enter: not said)",
            lambda text: coming(text, now, zone) if text else None, facts=WHEN,
        )  # fmt: skip
        return replace(found, promised=promised)
    if key == "4":
        chase = await talk.type(
            title, "to be asked on (Enter: nobody asks)",
            lambda text: day_to_come(text, now, zone) if text else None, facts=DAY,
        )  # fmt: skip
        return replace(found, chase=chase)
    return replace(found, price=await talk.type(title, "price (Enter: not said)", amount))


async def _asked(screen: Painted[Any], card: JobCard, away: OutworkLine) -> None:
    job, now, zone = card.job.number, screen.session.now(), zone_of(screen.zone)
    title = f"{job}.{away.phase}: {away.firm} was asked"
    said = await screen.talk.type(title, "what it says", some, facts=outwork_words(away, card))
    promised = await screen.talk.type(
        title, "promised now (Enter: as before)",
        lambda text: coming(text, now, zone) if text else None, facts=WHEN,
    )  # fmt: skip
    chase = await screen.talk.type(
        title, "to be asked again on (Enter: not again)",
        lambda text: day_to_come(text, now, zone) if text else None, facts=DAY,
    )  # fmt: skip
    await screen.act(chase_outwork(job, away.phase, said, promised, chase))


# -- back


async def _back(screen: Painted[Any], card: JobCard, phase: PhaseLine, away: OutworkLine) -> None:
    """What the report says, step by step of the phase; what it does not say stays open."""
    job = card.job.number
    title = f"{job}.{phase.number} {phase.name} is back from {away.firm}"
    text = await screen.talk.type(title, "the report in words (Enter: none)", maybe)
    readings: dict[str, float] = {}
    answers: dict[str, str] = {}
    for step in phase.steps:
        if step.state == "done":
            continue
        if step.kind == "decision":
            answers |= await _answer(screen, title, step)
        elif step.kind == "hold point" and step.asks and step.state != "half":
            readings |= await _values(screen, job, phase, step)
    price = await screen.talk.type(title, "what it came to (Enter: not known yet)", amount)
    await screen.act(outwork_back(job, phase.number, Report(text, readings, answers, price)))


async def _answer(screen: Painted[Any], title: str, step: StepLine) -> dict[str, str]:
    options = [
        Option(OPTION_KEYS[n], f"{text} ({code})") for n, (code, text) in enumerate(step.answers)
    ]
    options.append(Option("z", "not known yet"))
    chosen = await screen.talk.pick(title, options, facts=(step.text,))
    if chosen == "z":
        return {}
    return {step.step: step.answers[OPTION_KEYS.index(chosen)][0]}


async def _values(
    screen: Painted[Any], job: str, phase: PhaseLine, step: StepLine
) -> dict[str, float]:
    measured = await screen.talk.pick(
        f"{job}.{phase.number}: {step.text}",
        [Option("1", "the report has the figures", hot=True), Option("2", "it has none")],
        facts=step.limits,
    )
    if measured == "2":
        return {}
    step = await limits_first(screen, job, phase, step)
    values = await read_values(screen, phase, step)
    return {f"{step.step}:{name}": value for name, value in values.items()}
