"""The owner's month: what the keys do."""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable
from dataclasses import replace
from datetime import datetime, timedelta
from functools import partial
from threading import Lock
from typing import TYPE_CHECKING

from store.file.shop import Shop
from store.trouble import Refused
from store.views.door import door
from store.views.month import month as month_of
from store.views.month import months
from store.views.month_stand import stand
from tui import deeds, keys
from tui.deeds import Deed
from tui.month import acts
from tui.month.deeds import entries
from tui.month.figures import PEOPLE, PRICES, made_of, prices_line
from tui.month.paint import FOOT, TOP, month_canvas, names_of, pages_of, scrolled
from tui.month.sheet import Page
from tui.month.state import ROW, Level, Line, MonthState, Shown
from tui.parts.canvas import Canvas
from tui.parts.everywhere import do_key
from tui.parts.keyline import KeyLine
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.pressed import ENTER
from tui.parts.talk import Back
from tui.parts.where import BACK, Elsewhere, Where
from tui.session import Session

if TYPE_CHECKING:
    from store.actions.acting import Done

NOBODY = "Months are read by somebody: badge first. Technicians see the shop and themselves."
"""Said where nobody signs in."""
OFTEN = timedelta(minutes=1)
KEPT = 12
"""Months that stay read."""


class MonthScreen(Painted[Shown]):
    """One month, and the way down from each of its figures."""

    CSS_PATH = "screen.tcss"

    def __init__(self, session: Session, line: KeyLine) -> None:
        super().__init__(session, line)
        self.month = ""
        self.cursor: str | None = None
        self.scroll = 0
        self.path: tuple[Level, ...] = ()
        self._reading = Lock()
        self._kept: dict[tuple[str, str], Shown] = {}
        self._whole = self._changed = False

    # -- reading and painting

    def look(self, now: datetime) -> Shown:
        """The month at hand: its name at once, all of it when there is time to read it."""
        shop, who = self.session.shop, self.session.who
        listed = months(shop, now)
        if self.month not in {one.month for one in listed}:
            self.month = next((one.month for one in listed if not one.running), listed[0].month)
        wanted = self.month
        bare = Shown(wanted, listed, door(shop, now).shop)
        kept = self._kept.get((wanted, who.badge if who else ""))
        if who is None or not self._whole:
            return replace(bare, found=kept.found, book=kept.book) if kept and who else bare
        with self._reading:
            if wanted != self.month:
                return bare  # another one is wanted by now, and read by whoever waits
            return self._read(shop, bare, now, who.badge)

    def _read(self, shop: Shop, bare: Shown, now: datetime, badge: str) -> Shown:
        """All of it, unless nothing was written since it was read."""
        here, key = stand(shop), (bare.month, badge)
        kept = self._kept.get(key)
        if kept is None or (kept.seq != here.seq and self._is_old(kept, now)):
            found = month_of(shop, bare.month, now, by=badge)
            kept = replace(bare, found=found, book=here.book, seq=here.seq)
            self._kept.pop(key, None)
            self._kept[key] = kept
            for old in list(self._kept)[:-KEPT]:
                del self._kept[old]
            self._changed = False
        return replace(kept, months=bare.months)

    def _is_old(self, kept: Shown, now: datetime) -> bool:
        """A month takes seconds to read: what others write meanwhile is told once a minute."""
        return self._changed or kept.found is None or abs(now - kept.found.at) >= OFTEN

    def took(self, view: Shown) -> None:
        """Figures may have gone: then one stands at the first."""
        if view.found is None:
            return
        self.zone = view.found.zone
        names = self._names(view)
        if self.cursor not in names:
            self.cursor, self.scroll = next(iter(names), None), 0

    def picture(self, view: Shown, size: tuple[int, int]) -> Canvas:
        """The page, or one step down from it."""
        signs = self.session.signs
        if self.session.paint.monochrome:
            signs = signs.without_colour()
        return month_canvas(view, size, signs, self._state())

    def _state(self) -> MonthState:
        who = self.session.who
        return MonthState(
            self.cursor, self.scroll, self.path, f"{who.name}, {who.role}" if who else "",
            self.saying, self.stale,
        )  # fmt: skip

    def job_at_hand(self) -> str | None:
        """The job of the line that one stands on."""
        here = self.path[-1].here if self.path else None
        return here.way.job if here is not None else None

    def way_back(self) -> str:
        """The screen's own undo."""
        return keys.filled("  {month.undo} undoes it.")

    # -- talking

    async def visit(self) -> Where | None:
        """Take keys until somebody goes elsewhere."""
        self.said, self.session.said = self.session.said, ""
        self._whole = False
        await self.renew()
        try:
            await somebody(self)
        except Back:
            self.session.said = NOBODY
            return BACK
        self._whole = True
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

    async def act(self, deed: Deed, *, badge: str | None = None, name: str = "") -> Done:
        """Say at once that it is done; the figures follow as soon as they are read again."""
        self._whole = False
        try:
            done = await super().act(deed, badge=badge, name=name)
        finally:
            self._whole = self._changed = True
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
        self._whole = False
        await self.renew()
        self._whole = True
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

    def _pages(self, view: Shown) -> tuple[Page, ...]:
        return pages_of(view, self.board_size, self.session.signs)

    def _names(self, view: Shown) -> list[str]:
        return names_of(self._pages(view)) if view.found is not None else []

    def _rows(self) -> int:
        return self.board_size[1] - FOOT - TOP + 1

    async def _step(self, by: int) -> None:
        if self.path:
            self.path = (*self.path[:-1], self.path[-1].stepped(by))
            self.repaint()
            return
        view = await self._view()
        names = self._names(view)
        at = names.index(self.cursor) if self.cursor in names else 0
        if names:
            self._stand(view, names[min(max(0, at + by), len(names) - 1)])

    def _stand(self, view: Shown, name: str) -> None:
        self.cursor = name
        self.scroll = scrolled(self._pages(view), self._state(), self._rows())
        self.repaint()

    async def _turn(self, way: int) -> None:
        """A page further, to the first figure on it."""
        rows = self._rows()
        if self.path:
            await self._step(way * (rows - 4))
            return
        view = await self._view()
        pages = self._pages(view)
        stops = [stop for page in pages for stop in page.stops]
        here = next((one for one in stops if one.name == self.cursor), None)
        if here is None:
            return
        beyond = [one for one in stops if (one.y - here.y) * way >= rows - 2]
        found = (min if way > 0 else max)(beyond, key=lambda one: one.y, default=None)
        self._stand(view, (found or stops[-1 if way > 0 else 0]).name)


def _of_rate(line: Line) -> int:
    """The first line that is at a rate of its own."""
    return next((n for n, one in enumerate(line.below) if ", at " in one.way.says), 0)
