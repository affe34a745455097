"""The owner's month: what is read and painted, before any key is taken."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from threading import Lock

from store.file.shop import Shop
from store.views.door import door
from store.views.month.stand import stand
from tui import keys
from tui.month.paint import FOOT, TOP, month_canvas, names_of, pages_of
from tui.month.sheet import Page
from tui.month.state import Level, MonthState, Shown
from tui.parts.canvas import Canvas
from tui.parts.keyline import KeyLine
from tui.parts.painted import Painted
from tui.session import Session

OFTEN = timedelta(minutes=1)
KEPT = 12
"""Months that stay read."""


class MonthRead(Painted[Shown]):
    """One month as it was read, and where one stands in it."""

    def __init__(self, session: Session, line: KeyLine) -> None:
        super().__init__(session, line)
        self.month = ""
        self.cursor: str | None = None
        self.scroll = 0
        self.path: tuple[Level, ...] = ()
        self._reading = Lock()
        self._kept: dict[tuple[str, str], Shown] = {}
        self.whole = self.changed = False
        self.whose = ""

    def look(self, now: datetime) -> Shown:
        """The month at hand: its name at once, all of it when there is time to read it."""
        from store.views.month.page import (
            months,  # with the work book's reader: not on the event loop
        )

        shop, who = self.session.shop, self.session.who
        listed = months(shop, now)
        if self.month not in {one.month for one in listed}:
            self.month = next((one.month for one in listed if not one.running), listed[0].month)
        wanted = self.month
        bare = Shown(wanted, listed, door(shop, now).shop)
        kept = self._kept.get((wanted, who.badge if who else ""))
        if who is None or not self.whole:
            return replace(bare, found=kept.found, book=kept.book) if kept and who else bare
        with self._reading:
            if wanted != self.month:
                return bare  # another one is wanted by now, and read by whoever waits
            return self._read(shop, bare, now, who.badge)

    def _read(self, shop: Shop, bare: Shown, now: datetime, badge: str) -> Shown:
        """All of it, unless nothing was written since it was read."""
        from store.views.month.page import month

        here, key = stand(shop), (bare.month, badge)
        kept = self._kept.get(key)
        if kept is None or (kept.seq != here.seq and self._is_old(kept, now)):
            found = month(shop, bare.month, now, by=badge)
            kept = replace(bare, found=found, book=here.book, seq=here.seq)
            self._kept.pop(key, None)
            self._kept[key] = kept
            for old in list(self._kept)[:-KEPT]:
                del self._kept[old]
            self.changed = False
        return replace(kept, months=bare.months)

    def _is_old(self, kept: Shown, now: datetime) -> bool:
        """A month takes seconds to read: what others write meanwhile is told once a minute."""
        return self.changed or kept.found is None or abs(now - kept.found.at) >= OFTEN

    def took(self, view: Shown) -> None:
        """Figures may have gone: then one stands at the first."""
        if view.found is None:
            return
        self.zone = view.found.zone
        names = self.names(view)
        if self.cursor not in names:
            self.cursor, self.scroll = next(iter(names), None), 0

    def picture(self, view: Shown, size: tuple[int, int]) -> Canvas:
        """The page, or one step down from it."""
        signs = self.session.signs
        if self.session.paint.monochrome:
            signs = signs.without_colour()
        return month_canvas(view, size, signs, self.state())

    def state(self) -> MonthState:
        """What is shown beside the month."""
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

    def pages(self, view: Shown) -> tuple[Page, ...]:
        """The page as it is laid for this size."""
        return pages_of(view, self.board_size, self.session.signs)

    def names(self, view: Shown) -> list[str]:
        """What can be followed, from the top."""
        return names_of(self.pages(view)) if view.found is not None else []

    def rows(self) -> int:
        """Rows of the page that are seen at once."""
        return self.board_size[1] - FOOT - TOP + 1
