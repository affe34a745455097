"""Quotes and what became of them, read on the screen."""

from __future__ import annotations

import asyncio
from typing import Any

from store.views.quotes import quotes_and_outcomes
from tui.papers.outcomes import outcomes_paper
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.reading import read_paper


async def show_outcomes(screen: Painted[Any]) -> None:
    """Show them until they were read.

    Raises:
        Back: nobody came.
        Trouble: they cannot be read.
    """
    await somebody(screen)
    session = screen.session
    found = await asyncio.to_thread(lambda: quotes_and_outcomes(session.shop, session.now()))
    await read_paper(screen, outcomes_paper(found))
