"""A job card written as a page to print, from wherever one is."""

from __future__ import annotations

import asyncio
from pathlib import Path
from typing import TYPE_CHECKING, Any

from tui.parts.finding_jobs import find_job
from tui.parts.on_disk import ask_target
from tui.parts.painted import Painted

if TYPE_CHECKING:
    from datetime import datetime

    from store.file.shop import Shop


async def write_card(screen: Painted[Any]) -> None:
    """Write the card of the job at hand, or of one that is found by typing.

    Raises:
        Back: left with Esc.
        Trouble: it cannot be written; what was there is as it was.
    """
    session = screen.session
    session.refuse_files()
    job = screen.job_at_hand() or await find_job(screen, "the card of which job?")
    target = await ask_target(
        screen, f"job card of {job}, to print", text=f"{job}-card.html",
        facts=("A page for a browser, on this machine; a file of that name is replaced.",),
    )  # fmt: skip
    await asyncio.to_thread(_written, session.shop, job, session.now(), target)
    screen.say(f"Job card of {job} written: {target}. Print it from a browser.")


def _written(shop: Shop, job: str, now: datetime, target: Path) -> None:
    from store.file.text_out import write_text
    from store.views.printed_card import printed_card
    from tui.papers.card_html import card_html

    write_text(target, card_html(printed_card(shop, job, now)))
