"""What a code does that is scanned at the bay: it clocks, signs, or says what it is."""

from __future__ import annotations

from store.rules.codes import Code
from store.trouble import Refused
from store.views.values import Bay, JobCard, PhaseLine
from tui import deeds
from tui.bay.left_running import stopped_when
from tui.parts import scanning
from tui.parts.painted import Painted
from tui.parts.signing import sign_step
from tui.words import time, zone_of


async def take(screen: Painted[Bay], code: Code) -> None:
    """A job or phase takes the clock, a step is signed; all else as everywhere.

    Raises:
        Elsewhere: somebody else is here now.
        Back: a form was left.
        Refused: it cannot be, or nothing of the shop has that code.
    """
    match code.kind:
        case "job":
            found = await scanning.card(screen, code.name)
            await _clock(screen, code.name, next_phase(found, _badge(screen)))
        case "phase":
            await _clock(screen, *code.parts)
        case "step":
            await _step(screen, *code.parts)
        case "lift":
            screen.say(await scanning.lift_words(screen, code.name))
        case _:
            await scanning.take(screen, code)


def _badge(screen: Painted[Bay]) -> str:
    who = screen.session.who
    return who.badge if who is not None else ""


def next_phase(card: JobCard, badge: str) -> str:
    """The phase that somebody goes over to who scans a job.

    What is under way comes first, one's own before others'; then what can be begun, in the order
    of the route; then whatever stands next, which says why it cannot be worked on.

    Raises:
        Refused: nothing of the job is left.
    """
    free = [one for one in card.phases if one.kind == "labour" and one.hold is None]
    under_way = [one for one in free if one.state == "under way"]
    mine = [one for one in under_way if badge in one.people]
    ready = [one for one in free if one.state == "to come" and one.blocked_by is None]
    best = [*mine[-1:], *under_way, *ready]
    if best:
        return best[0].number
    if card.job.phase is None:
        raise Refused(f"Nothing of {card.job.number} is left to do.")
    return card.job.phase.number


async def _clock(screen: Painted[Bay], job: str, phase: str) -> None:
    """The clock runs on a phase from now on; where it does already, nothing is written."""
    await screen.renew()
    clock = screen.shown.clock if screen.shown else None
    if clock is not None and clock.left_running:
        await stopped_when(screen, clock)
        clock = None
    if clock is None:
        await screen.act(deeds.clock_on(job, phase))
    elif (clock.job, clock.phase) == (job, phase):
        since = time(clock.since, zone_of(screen.zone))
        screen.say(f"Your clock runs on {job}.{phase} {clock.name} since {since}; it goes on.")
    else:
        await screen.act(deeds.clock_over(job, phase))


async def _step(screen: Painted[Bay], job: str, phase: str, step: str) -> None:
    """Sign a step as its kind asks; one that is signed already is left alone, and that is said."""
    from store.actions.turn import AlreadySigned

    card = await scanning.card(screen, job)
    line = _line(card, phase)
    found = next((one for one in line.steps if one.step == step), None)
    if found is None:
        raise Refused(f"{job}.{phase} has no step {step}. Its sheet is old: print a new one.")
    try:
        await sign_step(screen, card, line, found)
    except AlreadySigned as signed:
        screen.say(str(signed))


def _line(card: JobCard, phase: str) -> PhaseLine:
    for one in card.phases:
        if one.number == phase:
            return one
    raise Refused(f"{card.job.number} has no phase {phase}. Its sheet is old: print a new one.")
