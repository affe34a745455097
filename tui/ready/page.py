"""The list of parts and kits over a screen: arrows or digits choose, one key says what became."""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable
from functools import partial
from typing import Any

from store.rules.part_states import PartState
from store.trouble import Refused
from store.views.job import job_card
from store.views.parts_values import KitOnCard, PartOnCard
from store.views.values import JobCard
from tui import deeds as shop_deeds
from tui import keys
from tui.parts.everywhere import everywhere, no_key
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.ready import acts, kit_acts
from tui.ready.paint import Row, Standing, click_of, parts_canvas, rows_of

STATES: dict[str, PartState] = {
    "ordered": "ordered", "here": "here", "wrong": "wrong", "returned": "returned",
    "fitted": "fitted", "drop": "not needed",
}  # fmt: skip
"""Keys that say what became of parts."""
KIT_ACTS: dict[str, Callable[[Painted[Any], JobCard, KitOnCard], Awaitable[None]]] = {
    "ordered": kit_acts.ask_kit, "here": kit_acts.receive, "returned": kit_acts.send_back,
}  # fmt: skip
"""The same keys on a kit."""
STEPS = {"up": -1, "down": 1, "page-up": -10, "page-down": 10}


class PartsList:
    """One visit to the list."""

    def __init__(self, screen: Painted[Any], card: JobCard) -> None:
        self.screen, self.card = screen, card
        self.here = Standing(_first_lacking(card))

    async def talk(self) -> None:
        """Take keys until somebody goes back."""
        screen = self.screen
        before = screen.page
        try:
            while True:
                self._show()
                key = (await screen.talk.key()).key
                if not await self._take(key):
                    return
        finally:
            screen.cover(before)

    async def _take(self, key: str) -> bool:
        """Do what a key means; False leaves the list."""
        clicked = click_of(key)
        if clicked is not None:
            key = "Enter" if clicked == self.here.row else ""
            self._go(clicked)
            if not key:
                return True
        match keys.meant(keys.PARTS, key):
            case "back":
                return False
            case "line":
                self._to_line(int(key))
            case "up" | "down" | "page-up" | "page-down" as way:
                self._go(self.here.row + STEPS[way])
            case "mark":
                self._mark()
            case None:
                no_key(self.screen, key, keys.PARTS)
            case meant if meant in keys.COMMON:
                await self.screen.doing(partial(everywhere, self.screen, meant, keys.PARTS))
            case meant:
                await self.screen.doing(lambda: self._act(meant))
                await self._look_again()
        return True

    def _show(self) -> None:
        screen, signs = self.screen, self.screen.session.signs
        screen.cover(
            lambda size: parts_canvas(self.card, self.here, size, signs, screen.saying or "")
        )

    def _go(self, row: int) -> None:
        last = max(0, len(rows_of(self.card)) - 1)
        self.here = Standing(min(max(0, row), last), self.here.marked)

    def _to_line(self, line: int) -> None:
        """To the line of that number, and to the next that ends with it where one stands there."""
        lines = [nth for nth, one in enumerate(self.card.parts) if one.line % 10 == line % 10]
        after = [nth for nth in lines if nth > self.here.row]
        if not lines:
            self.screen.remark("No line has that number.")
            return
        to = (after or lines)[0] if self.here.row in lines else lines[0]
        if to == self.here.row:
            self.screen.remark("This is the line of that number.")
        self._go(to)

    def _mark(self) -> None:
        at = self._at()
        if not isinstance(at, PartOnCard):
            self.screen.remark("Only parts are marked.")
            return
        self.here = Standing(self.here.row, self.here.marked ^ {at.line})
        self._go(self.here.row + 1)

    def _at(self) -> Row | None:
        rows = rows_of(self.card)
        return rows[self.here.row] if self.here.row < len(rows) else None

    def _chosen(self) -> list[PartOnCard]:
        """The marked lines, else the one at hand."""
        marked = [one for one in self.card.parts if one.line in self.here.marked]
        at = self._at()
        return marked or ([at] if isinstance(at, PartOnCard) else [])

    async def _act(self, meant: str) -> None:
        screen, card, at = self.screen, self.card, self._at()
        if meant == "add":
            await acts.add_part(screen, card, at if isinstance(at, PartOnCard) else None)
        elif meant == "undo":
            await somebody(screen)
            await screen.act(shop_deeds.undo)
        elif isinstance(at, KitOnCard) and not self.here.marked:
            if meant != "choose" and meant not in KIT_ACTS:
                raise Refused("That is for parts. A kit is asked for, comes, and goes back.")
            await (kit_acts.kit_next if meant == "choose" else KIT_ACTS[meant])(screen, card, at)
        elif not self._chosen():
            raise Refused(keys.filled("No part is listed. {parts.add} lists one."))
        elif meant == "choose":
            await acts.what_became(screen, card, self._chosen())
        else:
            await acts.move(screen, card, self._chosen(), STATES[meant])

    async def _look_again(self) -> None:
        """What was done has changed the list; the marks were for that act."""
        before = self.card
        self.card = await read(self.screen, before.job.number)
        if self.card.ledger == before.ledger:
            self._go(self.here.row)
            return
        at = self.here.row
        on = [n for n, one in enumerate(self.card.parts) if n >= at and one.lacks]
        stays = at >= len(self.card.parts) or self.card.parts[at].lacks
        self.here = Standing(at if stays or not on else on[0])
        self._go(self.here.row)


async def parts_list(screen: Painted[Any], job: str) -> None:
    """Show the parts and kits of a job until somebody goes back.

    Raises:
        Refused: no job has that number.
    """
    await PartsList(screen, await read(screen, job)).talk()


async def read(screen: Painted[Any], job: str) -> JobCard:
    """The card as it is now."""
    session = screen.session
    return await asyncio.to_thread(lambda: job_card(session.shop, job, session.now()))


def _first_lacking(card: JobCard) -> int:
    """Where one most likely has something to say."""
    return next((nth for nth, one in enumerate(card.parts) if one.lacks), 0)
