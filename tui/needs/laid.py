"""A page of acts that lies over any screen: digits do them, and after each it is read again."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable
from functools import partial
from typing import Any

from store.rules.acts import Act
from store.trouble import Refused
from tui import deeds, keys
from tui.keys import Table
from tui.needs.doing import do_act
from tui.parts.canvas import ON_SCREEN, Canvas
from tui.parts.everywhere import do_key
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.pressed import ENTER
from tui.parts.where import Elsewhere, Where

LINE = f"{ON_SCREEN}line "
"""What a press of a line presses; then its place."""
MOVES = ("up", "down", "page-up", "page-down")
"""What changes nothing: nothing is read again for it."""


class Laid(ABC):
    """One visit to the page, and the line that one stands on."""

    table: Table

    def __init__(self, screen: Painted[Any]) -> None:
        self.screen, self.here = screen, 0

    @property
    @abstractmethod
    def names(self) -> list[str]:
        """Every line by a name that it keeps."""

    @property
    @abstractmethod
    def acts(self) -> list[Act]:
        """What digits do, in their order."""

    @property
    @abstractmethod
    def job(self) -> str | None:
        """The job of the line one stands on; None where it is about none."""

    @abstractmethod
    async def look(self) -> None:
        """Read the page again."""

    @abstractmethod
    def canvas(self, size: tuple[int, int], said: str) -> Canvas:
        """Paint it."""

    def rows(self) -> int:
        """By how many lines a page is turned."""
        return 5

    async def show(self) -> None:
        """Take keys until somebody goes back."""
        screen, before = self.screen, self.screen.page
        await self.look()
        try:
            while True:
                screen.cover(lambda size: self.canvas(size, self._said()))
                if not await self.take((await screen.talk.key()).key):
                    return
        finally:
            screen.cover(before)

    async def take(self, key: str) -> bool:
        """Do what a key means; False leaves the page."""
        if key.startswith(LINE):
            self._click(int(key.removeprefix(LINE)))
            return True
        meant, screen = keys.meant(self.table, key), self.screen
        match meant:
            case "back":
                return False
            case "line" if int(key) > len(self.acts):
                screen.remark(f"There is no line {key}.")
            case "line":
                await screen.doing(partial(do_act, screen, self.acts[int(key) - 1]))
            case meant if meant == self.table.name:
                screen.remark(f"This is the {keys.TITLES[self.table.name]}.")
            case _:
                await do_key(screen, key, self.table, self.forms())
        if meant not in MOVES:
            await self._renew()
        return True

    def forms(self) -> dict[str, Callable[[], object]]:
        """What each key of the page does."""
        rows = self.rows()
        return {
            "open": self.open, "undo": self.undo,
            "up": partial(self.step, -1), "down": partial(self.step, 1),
            "page-up": partial(self.step, -rows), "page-down": partial(self.step, rows),
        }  # fmt: skip

    def open(self) -> None:
        """Open the job of the line.

        Raises:
            Elsewhere: there.
            Refused: it is about no job.
        """
        if self.job is None:
            raise Refused("This is about no job.")
        raise Elsewhere(Where("job", self.job))

    async def undo(self) -> None:
        """One's own last entry."""
        await somebody(self.screen)
        await self.screen.act(deeds.undo)

    def step(self, by: int) -> None:
        """Up or down, as far as there are lines."""
        self.here = min(max(0, self.here + by), max(0, len(self.names) - 1))

    def _click(self, place: int) -> None:
        """A click goes to a line; on the one that one stands on it is as Enter."""
        if place == self.here:
            self.screen.press(ENTER)
        self.here = min(place, max(0, len(self.names) - 1))

    async def _renew(self) -> None:
        """Read again; one stands on the same line, or on what took its place."""
        before = self.names
        name = before[self.here] if before else ""
        await self.look()
        after = self.names
        self.here = after.index(name) if name in after else min(self.here, max(0, len(after) - 1))

    def _said(self) -> str:
        """What was done, with this page's own way back."""
        screen = self.screen
        said, way_back = screen.saying or "", screen.way_back()
        if way_back and said.endswith(way_back):
            name = self.table.name
            return said.removesuffix(way_back) + keys.filled(f"  {{{name}.undo}} undoes it.")
        return said
