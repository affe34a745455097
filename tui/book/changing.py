"""What changes of the work book share: what would be otherwise is shown, asked once, written."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from dataclasses import replace
from typing import Any

from store.rules.book import WorkBook
from store.rules.book_changes import BookChange
from store.rules.roles import why_not
from store.trouble import Refused
from store.views.book_seen import BookSeen, book_seen
from tui import deeds, keys
from tui.book.state import BookLine, BookState, lines_of
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.words import counted

MOST_SAID = 8
"""Changes that are shown before they are written; of more the number is said."""
Edit = Callable[[str], str]


async def seen(screen: Painted[Any]) -> BookSeen:
    """Read the book that holds now."""
    session = screen.session
    return await asyncio.to_thread(lambda: book_seen(session.shop, session.now()))


class Changing:
    """Where one is in the book, and how it changes.

    Attributes:
        screen: over which the book lies.
        state: the book as it was read, and the line that one is at.
    """

    def __init__(self, screen: Painted[Any], view: BookSeen) -> None:
        self.screen = screen
        self.state = BookState(view)

    def at(self) -> BookLine:
        """The line that one is at.

        Raises:
            Refused: there is no book.
        """
        lines = lines_of(self.state)
        if not lines:
            raise Refused(keys.filled("No work book yet. {book.add} writes a first operation."))
        return lines[self.state.here]

    def operation(self) -> str:
        """The operation that is open, or the one that one is at."""
        return self.state.opened or self.at().what

    def book(self) -> WorkBook:
        """The book that is shown.

        Raises:
            Refused: there is none.
        """
        if self.state.view.book is None:
            raise Refused(keys.filled("No work book yet. {book.add} writes a first operation."))
        return self.state.view.book

    async def may(self) -> None:
        """Go on only with somebody who may change the book."""
        await somebody(self.screen)
        who = self.screen.session.who
        says = why_not("load work book", who.role, "") if who is not None else None
        if who is not None and says is not None:
            raise Refused(f"{who.name} {says}")

    async def change(self, edit: Edit) -> None:
        """Show what would be otherwise, ask once, write the next version."""
        view, screen = self.state.view, self.screen
        source, said = await asyncio.to_thread(changed, view, edit)
        arrow = f" {screen.session.signs.becomes} "
        facts = [_words(one, arrow) for one in said[:MOST_SAID]]
        facts += [f"and {len(said) - MOST_SAID} more"] if len(said) > MOST_SAID else []
        await screen.talk.sure(
            "The work book from now on; jobs that are taken keep the old one:",
            "write it", "leave it as it is", facts=facts,
        )  # fmt: skip
        try:
            await screen.act(deeds.load_book(source, upon=view.version or None))
        finally:
            await self.anew()  # what was refused because the book has changed is looked at anew

    async def anew(self) -> None:
        """Read the book again, and stay on the line where there is one."""
        view = await seen(self.screen)
        opened = self.state.opened
        if view.book is None or opened not in view.book.operations:
            opened = None
        state = replace(self.state, view=view, opened=opened)
        last = max(0, len(lines_of(state)) - 1)
        self.state = replace(state, here=min(state.here, last))


def changed(view: BookSeen, edit: Edit) -> tuple[str, tuple[BookChange, ...]]:
    """The book's text after a change, and what it says otherwise.

    Raises:
        BadWorkBook: the checker refuses it.
        Refused: it says so already.
    """
    from store.edges.workbook.model import load
    from store.rules.book_changes import changes

    source = edit(view.source)
    after = load(source)
    if view.book is None:
        added = counted(len(after.operations), "operation")
        return source, (BookChange("a first work book", "", added),)
    said = changes(view.book, after)
    if not said:
        raise Refused("The work book says so already: nothing would change.")
    return source, said


def _words(one: BookChange, arrow: str) -> str:
    if not one.before:
        return f"{one.what}: {one.after}, new"
    if not one.after:
        return f"{one.what}: {one.before}, gone"
    return f"{one.what}  {one.before}{arrow}{one.after}"
