"""Finishing a phase; one that went over its cautious hours asks why, by one digit."""

from __future__ import annotations

import asyncio
from typing import Any

from store.rules.overrun import REASONS
from store.views.job import job_card
from tui import deeds
from tui.parts.painted import Painted
from tui.parts.prompt import Option
from tui.parts.when import some
from tui.words import hours

SHORT = {
    "rust": "rust, seized", "broke": "broke, stripped", "part": "no or wrong part",
    "access": "bad access", "interrupted": "interrupted",
}  # fmt: skip
OWN_WORDS = "6"
WHY = (
    *(Option(str(nth), SHORT[code]) for nth, code in enumerate(REASONS, 1)),
    Option(OWN_WORDS, "say it ..."),
)
CODES = {str(nth): code for nth, code in enumerate(REASONS, 1)}


async def finish_phase(screen: Painted[Any], job: str, number: str) -> None:
    """Finish a phase; over its cautious hours one key says why.

    Raises:
        Back: no reason was given; the phase is finished all the same.
        Trouble: something in it is open; it says what.
    """
    await screen.act(deeds.finish(job, number))
    session = screen.session
    card = await asyncio.to_thread(lambda: job_card(session.shop, job, session.now()))
    line = next((one for one in card.phases if one.number == number), None)
    if line is not None and line.kind == "labour" and line.labour_h > line.estimate.cautious:
        screen.say_briefly(f"{job}.{number} {line.name} is finished, {hours(line.labour_h)}.")
        await say_why(screen, f"{job}.{number}", line.labour_h, line.estimate.cautious)


async def say_why(screen: Painted[Any], where: str, labour_h: float, cautious_h: float) -> None:
    """Have it said why a finished phase took longer; Esc leaves it unsaid.

    Args:
        where: `JOB.PHASE`.

    Raises:
        Back: left with Esc.
    """
    title = f"{where} took {hours(labour_h)}, over the cautious {hours(cautious_h)}. Why?"
    chosen = await screen.talk.pick(title, WHY)
    why = REASONS.get(CODES.get(chosen, ""))
    if why is None:
        why = await screen.talk.type(title, "because", some)
    job, number = where.rsplit(".", 1)
    await screen.act(deeds.finish(job, number, why))
