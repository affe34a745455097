"""The list of follow-ups: what its keys do."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from datetime import datetime
from functools import partial
from typing import Any

from store.trouble import Refused
from store.views.follow_ups import FollowUp, FollowUps, follow_ups
from tui import deeds, keys
from tui.follow.acts import is_done, is_dropped, is_moved
from tui.follow.paint import follow_canvas, name_of
from tui.follow.state import ROW, FollowState
from tui.parts.canvas import Canvas
from tui.parts.everywhere import do_key
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.pressed import ENTER
from tui.parts.where import BACK, Elsewhere, Where

NOBODY = "nobody signed in"


class FollowScreen(Painted[FollowUps]):
    """What is to be done in the months after, over all jobs."""

    CSS_PATH = "screen.tcss"

    cursor: str | None = None

    # -- reading and painting

    def look(self, now: datetime) -> FollowUps:
        """The list, as whoever is here may see it."""
        return follow_ups(self.session.shop, now, names=self.session.sees_customers)

    def took(self, view: FollowUps) -> None:
        """The line that one stands on may be done: then the first one."""
        self.zone = view.zone
        names = [name_of(one) for one in view.lines]
        if self.cursor not in names:
            self.cursor = next(iter(names), None)

    def picture(self, view: FollowUps, size: tuple[int, int]) -> Canvas:
        """Every line, and more of the one that one stands on."""
        signs = self.session.signs
        if self.session.paint.monochrome:
            signs = signs.without_colour()
        return follow_canvas(view, size, signs, self._state())

    def _state(self) -> FollowState:
        who = self.session.who
        return FollowState(
            self.cursor, f"{who.name}, {who.role}" if who else NOBODY, self.saying, self.stale,
            keys.last_row(keys.FOLLOW),
        )  # fmt: skip

    def job_at_hand(self) -> str | None:
        """The job of the line that one stands on."""
        return self.cursor.split(".", maxsplit=1)[0] if self.cursor else None

    def way_back(self) -> str:
        """The list's own undo."""
        return keys.filled("  {follow-ups.undo} undoes it.")

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
            if not await do_key(self, key, keys.FOLLOW, self._forms()):
                return BACK

    def _forms(self) -> dict[str, Callable[[], Awaitable[None]]]:
        page = max(1, self.board_size[1] // 2)
        return {
            "open": self._open, "is-done": partial(self._act, is_done),
            "shift": partial(self._act, is_moved), "not-done": partial(self._act, is_dropped),
            "undo": self._undo,
            "up": lambda: self._step(-1), "down": lambda: self._step(1),
            "page-up": lambda: self._step(-page), "page-down": lambda: self._step(page),
        }  # fmt: skip

    async def _act(self, act: Callable[[Painted[Any], FollowUp], Awaitable[None]]) -> None:
        await act(self, self._line())

    def _line(self) -> FollowUp:
        lines = self.shown.lines if self.shown else ()
        one = next((one for one in lines if name_of(one) == self.cursor), None)
        if one is None:
            raise Refused(keys.filled("Nothing is to follow. {job.close} on a job card sets it."))
        return one

    async def _open(self) -> None:
        raise Elsewhere(Where("job", self._line().job))

    async def _undo(self) -> None:
        await somebody(self)
        await self.act(deeds.undo)

    # -- moving about

    def _clicked(self, name: str) -> None:
        """A click goes to a line; on the one that one stands on it opens the job."""
        if name == self.cursor:
            self.press(ENTER)
        else:
            self._stand(name)

    def _stand(self, name: str) -> None:
        self.cursor = name
        self.repaint()

    async def _step(self, by: int) -> None:
        names = [name_of(one) for one in self.shown.lines] if self.shown else []
        if names:
            at = names.index(self.cursor) if self.cursor in names else 0
            self._stand(names[min(max(0, at + by), len(names) - 1)])
