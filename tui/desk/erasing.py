"""Erasing a customer: name, number and words about them go, the technical record stays."""

from __future__ import annotations

import asyncio
from typing import Any

from store.views.desk.at_desk import at_desk
from tui.desk import deeds
from tui.desk.customers import may_see
from tui.parts.finding_jobs import find_job
from tui.parts.painted import Painted

FACTS = (
    "Name, telephone and who gave a word for them are deleted, in the file and beside it.",
    "What was done on the vehicle stays. A backup made before still holds them.",
)


async def erase_a_customer(screen: Painted[Any]) -> None:
    """Have a customer found by any job of theirs, and erased after one question.

    Raises:
        Back: left with Esc.
        Trouble: refused: nothing is kept of one, or a job of theirs is open.
    """
    await may_see(screen)
    job = await find_job(screen, "whose customer is to be erased? Any job of theirs")
    session = screen.session
    here = await asyncio.to_thread(
        lambda: at_desk(session.shop, job, session.now(), customers=True)
    )
    who = here.customer[0] if here.customer else f"the customer of {job}"
    await screen.talk.sure(f"Erase {who}?", "erase for ever", "keep them", facts=FACTS)
    await screen.act(deeds.erase_customer(job))
