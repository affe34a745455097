"""The owner's month: what the keys do."""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

from store.trouble import Refused
from tui import deeds, keys
from tui.deeds import Deed
from tui.month import acts
from tui.month.deeds import entries
from tui.month.figures import BEFORE, PEOPLE, PRICES, RATE, made_of, prices_line
from tui.month.paint import scrolled
from tui.month.reading import MonthRead
from tui.month.state import ROW, Level, Line, Shown
from tui.parts.everywhere import do_key
from tui.parts.people import somebody
from tui.parts.pressed import ENTER
from tui.parts.talk import Back
from tui.parts.where import BACK, Elsewhere, Where

if TYPE_CHECKING:
    from store.actions.acting import Done

NOBODY = "Months are read by somebody: badge first. Technicians see the shop and themselves."
"""Said where nobody signs in."""


class MonthScreen(MonthRead):
    """One month, and the way down from each of its figures."""

    CSS_PATH = "screen.tcss"

    # -- talking

    async def visit(self) -> Where | None:
        """Take keys until somebody goes elsewhere."""
        self.said, self.session.said = self.session.said, ""
        self.whole = False
        self._who_is_here()
        await self.renew()
        try:
            await somebody(self)
        except Back:
            self.session.said = NOBODY
            return BACK
        self._who_is_here()
        self.whole = True
        self.read()
        while True:
            key = (await self.next_key()).key
            if key.startswith(ROW):
                await self._clicked(key.removeprefix(ROW))
            elif keys.meant(keys.MONTH, key) == "month":
                self.remark("This is the owner's month.")
            elif keys.meant(keys.MONTH, key) == "back" and self.path:
                self.path = self.path[:-1]
                self.repaint()
            elif keys.meant(keys.MONTH, key) == "adopt":
                await self.doing(partial(self._adopt, int(key)))
            elif not await do_key(self, key, keys.MONTH, self._forms()):
                return BACK

    def _who_is_here(self) -> None:
        """Where somebody else stood before, one stands at the top: their lines are theirs."""
        badge = self.session.who.badge if self.session.who else ""
        if badge != self.whose:
            self.whose, self.path, self.cursor, self.scroll = badge, (), None, 0

    async def act(self, deed: Deed, *, badge: str | None = None, name: str = "") -> Done:
        """Say at once that it is done; the figures follow as soon as they are read again."""
        self.whole = False
        try:
            done = await super().act(deed, badge=badge, name=name)
        finally:
            self.whole = self.changed = True
        self.read()
        return done

    def _forms(self) -> dict[str, Callable[[], Awaitable[None]]]:
        return {
            "open": self._open, "job": self._job, "entries": self._entries, "undo": self._undo,
            "before": lambda: self._beside(-1), "after": lambda: self._beside(1),
            "another": self._another, "several": self._several, "costs": self._costs,
            "prices": self._prices, "people": self._people, "report": self._report,
            "up": lambda: self._step(-1), "down": lambda: self._step(1),
            "page-up": lambda: self._turn(-1), "page-down": lambda: self._turn(1),
        }  # fmt: skip

    async def _view(self) -> Shown:
        """The month, read whole where it is not yet."""
        if self.shown is None or self.shown.found is None or self.shown.month != self.month:
            await self.renew()
        if self.shown is None or self.shown.found is None:
            raise Refused("The month cannot be read just now.")
        return self.shown

    async def _adopt(self, digit: int) -> None:
        view = await self._view()
        if digit > len(view.sure):
            sure = len(view.sure)
            raise Refused(
                f"There is no line {digit} to adopt: {sure or 'none'} of the book's "
                f"{'is' if sure == 1 else 'are'} sure."
            )
        await acts.adopt(self, view, [view.sure[digit - 1]])

    async def _several(self) -> None:
        await acts.several(self, await self._view())

    async def _costs(self) -> None:
        found = (await self._view()).found
        assert found is not None
        await acts.costs(self, found)

    async def _report(self) -> None:
        found = (await self._view()).found
        assert found is not None
        await acts.write(self, found)

    async def _undo(self) -> None:
        await somebody(self)
        await self.act(deeds.undo)

    # -- month to month

    async def _beside(self, by: int) -> None:
        listed = sorted(one.month for one in self.shown.months) if self.shown else []
        at = listed.index(self.month) + by if self.month in listed else -1
        if not 0 <= at < len(listed):
            newest = "No newer month has begun." if by > 0 else "The shop begins in this month."
            raise Refused(newest)
        await self._to(listed[at])

    async def _another(self) -> None:
        if self.shown is not None:
            await self._to(await acts.another(self, self.shown))

    async def _to(self, month: str) -> None:
        """Its name at once; its figures as soon as they are read. One stays at the same figure."""
        stop = self.path[0].stop if self.path else ""
        self.month, self.path = month, ()
        self.whole = False
        await self.renew()
        self.whole = True
        if stop:
            found = (await self._view()).found
            line = made_of(found).get(stop) if found is not None else None
            self.path = (Level(line, stop),) if line is not None else ()
            self.repaint()
        else:
            self.read()

    # -- down and up

    async def _open(self) -> None:
        """What the figure is made of; of a clock its entries; of an entry its job."""
        view = await self._view()
        if not self.path and (self.cursor or "").startswith(BEFORE):
            await self._to((self.cursor or "").removeprefix(BEFORE))
            return
        if not self.path:
            line = made_of(view.found).get(self.cursor or "") if view.found else None
            if line is None:
                raise Refused("Nothing stands below this line.")
            self._down(line, self.cursor or "")
            return
        here = self.path[-1].here
        if here is None:
            raise Refused("Nothing stands below this.")
        if here.below:
            self._down(here, self.path[0].stop)
        elif here.way.events:
            await self._entries()
        elif here.way.job:
            raise Elsewhere(Where("job", here.way.job))
        else:
            raise Refused("Nothing stands below this: no entry made it.")

    def _down(self, line: Line, stop: str) -> None:
        self.path = (*self.path, Level(line, stop))
        self.repaint()

    async def _entries(self) -> None:
        """The entries of the ledger that the line comes from."""
        here = self.path[-1].here if self.path else None
        if here is None or not here.way.events:
            raise Refused(
                keys.filled("Entries stand below jobs and clocks: {month.open} goes down.")
            )
        line = await asyncio.to_thread(entries, self.session.shop, here.way)
        self._down(line, self.path[0].stop)

    async def _job(self) -> None:
        job = self.job_at_hand()
        if job is None:
            raise Refused(keys.filled("That is no job. {month.open} goes down to jobs."))
        raise Elsewhere(Where("job", job))

    async def _prices(self) -> None:
        """Quotes at other hours; once more, at a rate that is typed."""
        view = await self._view()
        found = view.found
        assert found is not None
        if not found.prices.ways:
            raise Refused(found.prices.says)
        if not (self.path and self.path[0].stop == PRICES):
            self.path = (Level(prices_line(found.prices), PRICES),)
        else:
            tried = (await acts.at_rate(self, found)).prices
            self.path = (Level(prices_line(tried), PRICES, _of_rate(prices_line(tried))),)
        self.repaint()
        self.remark(keys.filled("{month.prices} types another rate."))

    async def _people(self) -> None:
        found = (await self._view()).found
        assert found is not None
        if not found.hours.people:
            raise acts.nobody_else(found)
        self.path = (Level(made_of(found)[PEOPLE], PEOPLE),)
        self.repaint()

    # -- moving about

    async def _clicked(self, name: str) -> None:
        """A click goes to a line; on the one that one stands on it is as Enter."""
        if self.path:
            again = int(name) == self.path[-1].at if name.isdecimal() else False
            if name.isdecimal():
                self.path = (*self.path[:-1], replace(self.path[-1], at=int(name)))
        else:
            again, self.cursor = name == self.cursor, name
        if again:
            self.press(ENTER)
        self.repaint()

    async def _step(self, by: int) -> None:
        if self.path:
            self.path = (*self.path[:-1], self.path[-1].stepped(by))
            self.repaint()
            return
        view = await self._view()
        names = self.names(view)
        at = names.index(self.cursor) if self.cursor in names else 0
        if names:
            self._stand(view, names[min(max(0, at + by), len(names) - 1)])

    def _stand(self, view: Shown, name: str) -> None:
        self.cursor = name
        self.scroll = scrolled(self.pages(view), self.state(), self.rows())
        self.repaint()

    async def _turn(self, way: int) -> None:
        """A page further, to the first figure on it."""
        rows = self.rows()
        if self.path:
            await self._step(way * (rows - 4))
            return
        view = await self._view()
        pages = self.pages(view)
        stops = [stop for page in pages for stop in page.stops]
        here = next((one for one in stops if one.name == self.cursor), None)
        if here is None:
            return
        beyond = [one for one in stops if (one.y - here.y) * way >= rows - 2]
        found = (min if way > 0 else max)(beyond, key=lambda one: one.y, default=None)
        self._stand(view, (found or stops[-1 if way > 0 else 0]).name)


def _of_rate(line: Line) -> int:
    """The first line that is at a rate of its own."""
    return next((n for n, one in enumerate(line.below) if RATE in one.way.says), 0)
