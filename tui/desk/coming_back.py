"""A job that comes back: from which one before, where in it, whose fault it is, who pays."""

from __future__ import annotations

import asyncio
from typing import Any

from store.trouble import Refused
from store.views.desk.at_desk import AtDesk
from store.views.job import job_card
from tui.desk import deeds
from tui.desk.words import title
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.prompt import OPTION_KEYS, Option
from tui.parts.when import some

FAULTS: dict[str, deeds.Fault] = {"1": "ours", "2": "not ours", "3": "not known yet"}
PAYERS: dict[str, deeds.Pays] = {"1": "shop", "2": "customer", "3": "supplier"}
NOBODY_KNOWS = "z"


async def comes_back(screen: Painted[Any], here: AtDesk) -> None:
    """Have a job linked to the one that it comes back from.

    Raises:
        Back: left with Esc.
        Refused: the vehicle was not here before, or it was refused.
    """
    await somebody(screen)
    before = [one for one in here.before if one.state == "closed"]
    if not before:
        raise Refused(f"{here.vehicle.label} had no job here before that is closed.")
    options = [
        Option(key, f"{one.job} {one.work}", hot=n == 0 and one.fresh)
        for n, (key, one) in enumerate(zip(OPTION_KEYS, before, strict=False))
    ]
    asks = title(here, "comes back from")
    old = before[OPTION_KEYS.index(await screen.talk.pick(asks, options))]
    phase = await _phase(screen, old.job)
    comes = f"{here.job} comes back from {old.job}"
    cause = await screen.talk.type(
        comes, "cause, as far as it is known", some, text=here.complaint or ""
    )
    fault = await screen.talk.pick(
        f"{comes}: whose fault?",
        [Option(key, words, hot=key == "3") for key, words in FAULTS.items()],
    )
    payer = await screen.talk.pick(
        f"{comes}: who pays?",
        [Option(key, who, hot=key == ("2" if fault == "2" else "1"))
         for key, who in PAYERS.items()],
        facts=("Its hours stand against the old job and teach nothing.",),
    )  # fmt: skip
    link = deeds.Comeback(old.job, phase, cause, FAULTS[fault], PAYERS[payer])
    await screen.act(deeds.come_back(here.job, link))


async def _phase(screen: Painted[Any], job: str) -> str | None:
    """In which phase of the old job the trouble lies; None where nobody can say."""
    session = screen.session
    card = await asyncio.to_thread(lambda: job_card(session.shop, job, session.now()))
    options = [
        Option(key, f"{one.number} {one.name}")
        for key, one in zip(OPTION_KEYS, card.phases, strict=False)
    ]
    options.append(Option(NOBODY_KNOWS, "not known yet", hot=True))
    asks = f"{job}: in which of its phases does the trouble lie?"
    chosen = await screen.talk.pick(asks, options)
    return None if chosen == NOBODY_KNOWS else card.phases[OPTION_KEYS.index(chosen)].number
