"""A step of the next phase is signed while the clock runs on the last: one key moves the clock."""

from __future__ import annotations

import asyncio
from typing import Any

from store.views.job import job_card
from store.views.values import JobCard, PhaseLine
from tui import deeds
from tui.parts.painted import Painted
from tui.parts.prompt import Option
from tui.parts.talk import Back


async def offer_clock(screen: Painted[Any], card: JobCard, phase: PhaseLine) -> None:
    """Offer to go over to a phase of which a step was just signed.

    Args:
        card: as it was before the step was signed; with `phase` of it.

    Raises:
        Trouble: the phase cannot be clocked on; it says why.
    """
    if _behind(screen, card, phase) is None:
        return
    session, job = screen.session, card.job.number
    card = await asyncio.to_thread(lambda: job_card(session.shop, job, session.now()))
    phase = next((one for one in card.phases if one.number == phase.number), phase)
    last, said = _behind(screen, card, phase), screen.said
    if last is None:
        return
    try:
        chosen = await screen.talk.pick(
            f"Your clock still runs on {job}.{last}",
            [Option("1", f"move to {job}.{phase.number}", hot=True),
             Option("2", f"stay on {job}.{last}")],
            facts=(f"That was a step of {job}.{phase.number} {phase.name}.",),
        )  # fmt: skip
    except Back:
        chosen = "2"
    if chosen == "1":
        await screen.act(deeds.clock_over(job, phase.number))
    else:
        screen.say(said)


def _behind(screen: Painted[Any], card: JobCard, phase: PhaseLine) -> str | None:
    """The phase before this one on which the clock of who is signed in runs."""
    who = screen.session.who
    mine = next((one for one in card.job.people if who and one.badge == who.badge), None)
    if mine is None or mine.phase is None or mine.left_running or phase.kind != "labour":
        return None
    if phase.hold is not None or phase.state in ("finished", "skipped"):
        return None
    order = [one.number for one in card.phases]
    if mine.phase not in order or order.index(mine.phase) >= order.index(phase.number):
        return None
    return mine.phase
