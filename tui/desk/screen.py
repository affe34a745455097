"""The desk: what its keys do."""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable
from datetime import datetime
from functools import partial

from store.trouble import Refused
from store.views.desk.at_desk import AtDesk, at_desk, calls_due
from store.views.desk.page import desk
from store.views.door import door, places
from store.views.ready import waiting_jobs
from tui import deeds, keys
from tui.desk.acts import ACTS
from tui.desk.calling import take_call
from tui.desk.paint import desk_canvas
from tui.desk.rows import Beside, shown
from tui.desk.state import ROW, DeskState, Row, Shown
from tui.parts.canvas import Canvas
from tui.parts.everywhere import do_key
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.pressed import ENTER
from tui.parts.where import BACK, Elsewhere, Where

NOBODY = "nobody signed in"


class DeskScreen(Painted[Shown]):
    """Everything that is not on a lift yet."""

    CSS_PATH = "screen.tcss"

    cursor: str | None = None

    # -- reading and painting

    def look(self, now: datetime) -> Shown:
        """The desk, as whoever is here may see it."""
        shop = self.session.shop
        known = door(shop, now)
        lacks = {one.number: one.lacks for one in waiting_jobs(shop, now)}
        named = {one.code: f"lift {one.code}" for one in places(shop) if one.kind == "lift"}
        beside = Beside(lacks, calls_due(shop), named)
        return shown(desk(shop, now, names=self.session.sees_customers), known.shop, beside)

    def took(self, view: Shown) -> None:
        """The line that one stands on may be gone: then what wants somebody, else the first."""
        self.zone = view.zone
        if view.row(self.cursor) is None:
            self.cursor = next(iter((*view.wants, *(row.job for row in view.rows))), None)

    def picture(self, view: Shown, size: tuple[int, int]) -> Canvas:
        """Every group, and more of the line that one stands on."""
        signs = self.session.signs
        if self.session.paint.monochrome:
            signs = signs.without_colour()
        return desk_canvas(view, size, signs, self._state())

    def _state(self) -> DeskState:
        who = self.session.who
        return DeskState(
            self.cursor, f"{who.name}, {who.role}" if who else NOBODY, self.saying, self.stale,
            keys.last_row(keys.DESK),
        )  # fmt: skip

    def job_at_hand(self) -> str | None:
        """The job that one stands on."""
        return self.cursor

    def way_back(self) -> str:
        """The desk's own undo."""
        return keys.filled("  {desk.undo} undoes it.")

    # -- talking

    async def visit(self) -> Where | None:
        """Take keys until somebody goes elsewhere."""
        self.said, self.session.said = self.session.said, ""
        await self.renew()
        while True:
            key = (await self.next_key()).key
            if key.startswith(ROW):
                self._clicked(key.removeprefix(ROW))
                continue
            if not await do_key(self, key, keys.DESK, self._forms()):
                return BACK

    def _forms(self) -> dict[str, Callable[[], Awaitable[None]]]:
        page = max(1, self.board_size[1] // 2)
        return {
            **{name: partial(self._act, act) for name, act in ACTS.items()},
            "open": self._open, "enquiry": self._call, "next": self._next,
            "undo": self._undo,
            "up": lambda: self._step(-1), "down": lambda: self._step(1),
            "page-up": lambda: self._step(-page), "page-down": lambda: self._step(page),
            "before": lambda: self._group(-1), "after": lambda: self._group(1),
        }  # fmt: skip

    async def _act(self, act: Callable[[Painted[Shown], AtDesk], Awaitable[None]]) -> None:
        await act(self, await self._here())

    async def _here(self) -> AtDesk:
        """The job that one stands on.

        Raises:
            Refused: there is none.
        """
        job, session, sees = self._row().job, self.session, self.session.sees_customers
        return await asyncio.to_thread(
            lambda: at_desk(session.shop, job, session.now(), customers=sees)
        )

    def _row(self) -> Row:
        row = None if self.shown is None else self.shown.row(self.cursor)
        if row is None:
            raise Refused(keys.filled("Nothing is at the desk. {desk.enquiry} takes a call down."))
        return row

    async def _call(self) -> None:
        """A call is taken down; one stands on its line then."""
        self._stand(await take_call(self))

    async def _open(self) -> None:
        raise Elsewhere(Where("job", self._row().job))

    async def _undo(self) -> None:
        await somebody(self)
        await self.act(deeds.undo)

    # -- moving about

    def _clicked(self, job: str) -> None:
        """A click goes to a line; on the one that one stands on it opens the job."""
        if job == self.cursor:
            self.press(ENTER)
        else:
            self._stand(job)

    def _stand(self, job: str) -> None:
        self.cursor = job
        self.repaint()

    def _jobs(self) -> list[str]:
        return [row.job for row in self.shown.rows] if self.shown else []

    async def _step(self, by: int) -> None:
        jobs = self._jobs()
        if jobs:
            at = jobs.index(self.cursor) if self.cursor in jobs else 0
            self._stand(jobs[min(max(0, at + by), len(jobs) - 1)])

    async def _group(self, way: int) -> None:
        """To the first line of the group before or after."""
        groups = [one for one in self.shown.groups if one.rows] if self.shown else []
        at = next(
            (n for n, one in enumerate(groups) if self.cursor in [row.job for row in one.rows]), 0
        )
        if not 0 <= at + way < len(groups):
            self.remark("No group is beyond this one.")
            return
        self._stand(groups[at + way].rows[0].job)

    async def _next(self) -> None:
        """To what next wants somebody, the most urgent first; around when all were seen."""
        wants = self.shown.wants if self.shown else ()
        if not wants:
            self.say("Nothing at the desk wants anybody.")
            return
        at = wants.index(self.cursor) if self.cursor in wants else -1
        self._stand(wants[(at + 1) % len(wants)])
