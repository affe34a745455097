"""The record of a job, or its estimate sheet before it is agreed, read on its card."""

from __future__ import annotations

import asyncio
from typing import Any

from store.views.estimate_sheet import estimate_sheet
from store.views.record.page import record
from tui.papers.paper import Paper
from tui.papers.record import record_paper
from tui.papers.sheet import sheet_paper
from tui.parts.painted import Painted
from tui.parts.reading import read_paper

BEFORE = ("enquiry", "booked", "arrived", "quoted", "waiting", "declined", "turned-away")
"""States in which the sheet is what one wants to read."""


async def show_paper(screen: Painted[Any], job: str) -> None:
    """Show it until it was read.

    Raises:
        Trouble: it cannot be read.
    """
    await read_paper(screen, await asyncio.to_thread(_paper, screen, job))


def _paper(screen: Painted[Any], job: str) -> Paper:
    session = screen.session
    now, shop = session.now(), session.shop
    names = session.sees_customers
    found = record(shop, job, now, names=names)
    if found.state in BEFORE:
        return sheet_paper(estimate_sheet(shop, job, now, names=names))
    return record_paper(found)
