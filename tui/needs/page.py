"""Who must do what, over any screen: one ranked list, each line one key from the act itself."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from functools import partial
from typing import Any

from store.trouble import Refused
from store.views.helps import helps
from store.views.needs import needs
from store.views.needs_values import Helps, Need, Needs
from tui import deeds, keys
from tui.needs.doing import do_act
from tui.needs.paint import LINE, needs_canvas, rows_of
from tui.parts.everywhere import everywhere, no_key
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.pressed import ENTER
from tui.parts.where import Elsewhere, Where

Found = tuple[Needs, Helps]
MOVES = ("up", "down", "page-up", "page-down")
"""What changes nothing: nothing is read again for it."""


class NeedsPage:
    """The list, and the line that one stands on."""

    def __init__(self, screen: Painted[Any], found: Found) -> None:
        self.screen, self.found, self.here = screen, found, 0

    @property
    def needs(self) -> tuple[Need, ...]:
        """Every line."""
        return self.found[0].needs

    def need(self) -> Need:
        """The line one stands on.

        Raises:
            Refused: there is none.
        """
        if not self.needs:
            raise Refused("Nothing needs anybody, so there is nothing to do here.")
        return self.needs[self.here]

    async def take(self, key: str) -> bool:
        """Do what a key means; False leaves the page."""
        if key.startswith(LINE):
            self._click(int(key.removeprefix(LINE)))
            return True
        meant = keys.meant(keys.NEEDS, key)
        match meant:
            case "back":
                return False
            case "line" if int(key) > len(self.needs):
                self.screen.remark(f"There is no line {key}.")
            case "line":
                self.here = int(key) - 1
                await self.screen.doing(self.do)
            case "needs":
                self.screen.remark("This is that list.")
            case None:
                no_key(self.screen, key, keys.NEEDS)
            case meant if meant in keys.COMMON:
                await self.screen.doing(partial(everywhere, self.screen, meant, keys.NEEDS))
            case meant:
                await self.screen.doing(self.forms()[meant])
        if meant not in MOVES:
            await self.renew()
        return True

    def forms(self) -> dict[str, Callable[[], object]]:
        """What each key of the page does."""
        rows = rows_of(self.screen.board_size)
        return {
            "do": self.do, "open": self.open, "undo": self.undo,
            "up": partial(self.step, -1), "down": partial(self.step, 1),
            "page-up": partial(self.step, -rows), "page-down": partial(self.step, rows),
        }  # fmt: skip

    async def do(self) -> None:
        """Do the act of the line."""
        await do_act(self.screen, self.need().act)

    def open(self) -> None:
        """Open the job of the line."""
        job = self.need().act.job
        if job is None:
            raise Refused("This is about no job. " + keys.filled("{needs.do} does it."))
        raise Elsewhere(Where("job", job))

    async def undo(self) -> None:
        """One's own last entry."""
        await somebody(self.screen)
        await self.screen.act(deeds.undo)

    def step(self, by: int) -> None:
        """Up or down, as far as there are lines."""
        self.here = min(max(0, self.here + by), max(0, len(self.needs) - 1))

    def _click(self, place: int) -> None:
        """A click goes to a line; on the one that one stands on it does it."""
        if place == self.here:
            self.screen.press(ENTER)
        self.here = min(place, max(0, len(self.needs) - 1))

    async def renew(self) -> None:
        """Read again; one stands on the same act, or on what took its place."""
        name = self.needs[self.here].act.name if self.needs else ""
        self.found = await look(self.screen)
        names = [one.act.name for one in self.needs]
        self.here = names.index(name) if name in names else min(self.here, max(0, len(names) - 1))

    def paint(self) -> None:
        """Show the page as it is now."""
        screen = self.screen
        found, here, signs = self.found, self.here, screen.session.signs
        screen.cover(lambda size: needs_canvas(found, here, size, signs, _said(screen)))


def _said(screen: Painted[Any]) -> str:
    """What was done, with this page's own way back."""
    said = screen.saying or ""
    way_back = screen.way_back()
    if way_back and said.endswith(way_back):
        return said.removesuffix(way_back) + keys.filled("  {needs.undo} undoes it.")
    return said


async def look(screen: Painted[Any]) -> Found:
    """The list as it is now, and what comes next where it is empty."""
    session, now = screen.session, screen.session.now()
    return await asyncio.to_thread(lambda: (needs(session.shop, now), helps(session.shop, now)))


async def needs_page(screen: Painted[Any]) -> None:
    """Show who must do what until somebody goes back."""
    before = screen.page
    page = NeedsPage(screen, await look(screen))
    try:
        while True:
            page.paint()
            if not await page.take((await screen.talk.key()).key):
                return
    finally:
        screen.cover(before)
