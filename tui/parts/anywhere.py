"""Pages that lie over whatever screen one is at: a day from paper, the work book."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Mapping
from typing import Any

from tui.parts.painted import Painted


async def paper(screen: Painted[Any]) -> None:
    """Enter a day from paper; what it needs is loaded when it is wanted."""
    from tui.paper.screen import enter_paper

    await enter_paper(screen)


async def work_book(screen: Painted[Any]) -> None:
    """The work book; what it needs is loaded when it is wanted."""
    from tui.book.screen import work_book as shown

    await shown(screen)


async def lists(screen: Painted[Any]) -> None:
    """Everybody's list; what it needs is loaded when it is wanted."""
    from tui.lists.screen import work_lists

    await work_lists(screen)


async def why(screen: Painted[Any]) -> None:
    """What waits for what; what it needs is loaded when it is wanted."""
    from tui.needs.why_page import why_page

    await why_page(screen)


async def let_begin(screen: Painted[Any]) -> None:
    """The foreman's word for a phase that waits for a kit."""
    from tui.tools.letting import let_on_job

    await let_on_job(screen)


ANYWHERE: Mapping[str, Callable[[Painted[Any]], Awaitable[None]]] = {
    "paper": paper, "work-book": work_book, "lists": lists, "why": why, "let": let_begin,
}  # fmt: skip
"""By the id of the floor's key for it: the list of all actions does it in place."""
