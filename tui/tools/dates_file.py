"""Dates of hires and all others, written into a file that calendars read."""

from __future__ import annotations

import asyncio
from datetime import datetime
from pathlib import Path

from store.file.shop import Shop
from tui.parts.on_disk import ask_target
from tui.tools.at_hand import AtHand
from tui.words import counted

NAME = "shop-dates.ics"


async def write_dates(at: AtHand) -> None:
    """Write hires due, promises, inspections and follow-ups as iCalendar (RFC 5545).

    Raises:
        Back: Esc.
        Trouble: it cannot be written; what was there is as it was.
    """
    session = at.screen.session
    target = await ask_target(
        at.screen, "every date, for a calendar", text=str(session.shop.path.parent / NAME),
        facts=("On this machine, beside the shop file; a file of that name is replaced.",),
    )  # fmt: skip
    many = await asyncio.to_thread(_written, session.shop, session.now(), target)
    at.screen.say(f"{counted(many, 'date')} written: {target}.")


def _written(shop: Shop, now: datetime, target: Path) -> int:
    from store.file.text_out import write_text
    from store.views.dates import dates
    from tui.papers.ics import ics_of

    found = dates(shop, now)
    write_text(target, ics_of(found))
    return len(found.dates)
