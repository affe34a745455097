"""The work book over whatever screen one is at: looked through, and changed one thing at a time."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from dataclasses import replace
from functools import partial
from typing import Any

from store.trouble import Refused
from store.views.book_seen import BookSeen
from tui import keys
from tui.book.changing import seen
from tui.book.forms import Forms
from tui.book.paint import LINE, book_canvas, rows_of
from tui.book.state import BookLine, lines_of
from tui.parts.everywhere import everywhere, no_key
from tui.parts.painted import Painted


async def work_book(screen: Painted[Any]) -> None:
    """Show the book until somebody goes back.

    Raises:
        Elsewhere: another screen is wanted.
        Trouble: it cannot be read.
    """
    await _Looking(screen, await seen(screen)).run()


class _Looking(Forms):
    """One look through the book."""

    def __init__(self, screen: Painted[Any], view: BookSeen) -> None:
        super().__init__(screen, view)
        self._list = 0

    async def run(self) -> None:
        """Take keys until somebody goes back."""
        screen, before = self.screen, self.screen.page
        screen.say("")
        try:
            while True:
                self._show()
                key = (await screen.talk.key()).key
                if key.startswith(LINE):
                    self._to(int(key.removeprefix(LINE)))
                    continue
                match keys.meant(keys.BOOK, key):
                    case "back" if self.state.opened is None:
                        return
                    case "back":
                        self.state = replace(self.state, opened=None, here=self._list)
                    case "up" | "down" | "page-up" | "page-down" as way:
                        self._step(way)
                    case None:
                        no_key(screen, key, keys.BOOK)
                    case meant if meant in keys.COMMON:
                        await screen.doing(partial(everywhere, screen, meant, keys.BOOK))
                    case meant:
                        await screen.doing(self._forms()[meant])
        finally:
            screen.cover(before)
            screen.say("")

    def _forms(self) -> dict[str, Callable[[], Awaitable[None]]]:
        return {
            "open": self._open, "hours": self.hours, "odds": self.odds, "copy": self.copy,
            "rename": self.rename, "part": self.part, "add": self.add, "drop": self.drop,
            "write": self.write, "load": self.load, "take": self.take,
        }  # fmt: skip

    # -- where one is

    def _show(self) -> None:
        state, screen = self.state, self.screen
        signs = screen.session.signs
        screen.cover(lambda size: book_canvas(state, size, signs, screen.saying or ""))

    def _lines(self) -> list[BookLine]:
        return lines_of(self.state)

    def _step(self, way: str) -> None:
        page = rows_of(self.screen.board_size[1])
        by = {"up": -1, "down": 1, "page-up": -page, "page-down": page}[way]
        self._to(self.state.here + by, by)

    def _to(self, row: int, by: int = 1) -> None:
        """To a line; over a title one goes on."""
        lines = self._lines()
        row = min(max(0, row), max(0, len(lines) - 1))
        if lines and lines[row].kind == "title":
            row = min(max(0, row + (1 if by > 0 else -1)), len(lines) - 1)
        if row == self.state.here:
            self.screen.remark("The list ends here.")
        self.state = replace(self.state, here=row)

    async def _open(self) -> None:
        line = self.at()
        if line.kind != "operation":
            raise Refused(keys.filled("{book.hours} changes its hours, {book.odds} its odds."))
        self._list = self.state.here
        self.state = replace(self.state, opened=line.what, here=0)
