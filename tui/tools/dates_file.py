"""Dates of hires and all others, written into a file that calendars read."""

from __future__ import annotations

import asyncio
from datetime import datetime
from pathlib import Path

from store.file.shop import Shop
from store.trouble import Refused
from tui.parts.when import some
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
    target = await at.screen.talk.type(
        "every date, for a calendar", "file", lambda text: _target(text, session.shop.path),
        text=str(session.shop.path.parent / NAME),
        facts=("On this machine, beside the shop file; a file of that name is replaced.",),
    )  # fmt: skip
    many = await asyncio.to_thread(_written, session.shop, session.now(), target)
    at.screen.say(f"{counted(many, 'date')} written: {target}.")


def _target(typed: str, shop: Path) -> Path:
    path = Path(some(typed)).expanduser()
    if path.resolve().name.startswith(shop.resolve().name):
        raise Refused("That is the shop file. Type another name.")
    return path


def _written(shop: Shop, now: datetime, target: Path) -> int:
    from store.file.text_out import write_text
    from store.views.dates import dates
    from tui.papers.ics import ics_of

    found = dates(shop, now)
    write_text(target, ics_of(found))
    return len(found.dates)
