"""The floor: what its keys do."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from functools import partial

from store.rules.codes import Code
from store.trouble import Refused
from tui import keys
from tui.floor import acts, clocks
from tui.floor.lining_up import put_in_order
from tui.floor.lists import WANT
from tui.floor.looking import Looking
from tui.floor.paint import LIFT
from tui.floor.trying import try_it
from tui.lists.giving import give
from tui.parts.anywhere import ANYWHERE
from tui.parts.everywhere import everywhere, no_key
from tui.parts.talk import Back
from tui.parts.where import SIGN_IN, Where


class FloorScreen(Looking):
    """Every lift at a glance."""

    CSS_PATH = "screen.tcss"

    def way_back(self) -> str:
        """The floor's own undo."""
        return keys.filled("  {floor.undo} undoes it.")

    async def visit(self) -> Where | None:
        """Take keys until somebody goes elsewhere."""
        self.said, self.session.said = self.session.said, ""
        await self.renew()
        while True:
            key = (await self.next_key()).key
            found = await self._key(key)
            if found is not None:
                return found

    async def _key(self, key: str) -> Where | None:
        if key.startswith(LIFT):
            return self._clicked(key.removeprefix(LIFT))
        if key.startswith(WANT):
            self._want_at(int(key.removeprefix(WANT)))
            return None
        if len(key) == 1 and key.isalnum() and self._go_to(key):
            return None
        self._typed = ""
        match keys.meant(keys.FLOOR, key):
            case "open":
                return await self._open()
            case "list":
                return await self._from_list()
            case "sign-off":
                self.session.sign_off()
                return SIGN_IN
            case None:
                no_key(self, key, keys.FLOOR)
                return None
            case meant if meant in keys.COMMON:
                await self.doing(partial(everywhere, self, meant, keys.FLOOR))
                return None
            case meant:
                await self.doing(self._forms()[meant])
                return None

    def _forms(self) -> dict[str, Callable[[], Awaitable[None]]]:
        return {
            "next": self._next, "call": self._call, "zoom": self._zoom,
            "answer": lambda: acts.word(self, self._view(), self._looked_at()),
            "move": lambda: acts.move(self, self._view(), self._job()),
            "hold": lambda: acts.hold_job(self, self._job()),
            "release": lambda: acts.release(self, self._job()),
            "promise": lambda: acts.new_promise(self, self._job()),
            "service": lambda: acts.service(self, self._view(), self._lane()),
            "line": lambda: put_in_order(self, self._view()),
            "give": lambda: give(self, self._job()),
            "fix": lambda: clocks.put_right(self, self._view(), self._looked_at()),
            "send": lambda: clocks.send_over(self, self._view(), self._looked_at()),
            "try": lambda: try_it(self, self._state()),
            "undo": lambda: acts.undo(self),
            "parts": lambda: acts.parts(self, self._view(), self._looked_at()),
            **{id_: partial(does, self) for id_, does in ANYWHERE.items()},
            "up": lambda: self._step(-1), "down": lambda: self._step(1),
            "page-up": lambda: self._pages(-1), "page-down": lambda: self._pages(1),
        }  # fmt: skip

    async def scanned(self, code: Code) -> None:
        """A lift is where one stands then."""
        if code.kind == "lift" and code.name in [lane.lift for lane in self._lanes()]:
            self._stand(code.name)
        await super().scanned(code)

    def _clicked(self, lift: str) -> Where | None:
        """A click goes to a lift; on the one that one stands on it opens the job."""
        lane = next((one for one in self._lanes() if one.lift == lift), None)
        if lane is None:
            return None
        if lane.lift == self.cursor and lane.job is not None:
            return Where("job", lane.job.number)
        self._stand(lane.lift)
        return None

    async def _open(self) -> Where | None:
        try:
            return Where("job", self._job().number)
        except Refused as refused:
            self.say_no(str(refused))
            return None

    async def _from_list(self) -> Where | None:
        jobs = acts.all_jobs(self.shown) if self.shown else []
        if not jobs:
            self.say_no(keys.filled("No job is in the house. {floor.new} takes one in."))
            return None
        try:
            return Where("job", (await acts.which_job(self, jobs, "open which job?")).number)
        except Back:
            self.repaint()
            return None

    async def _call(self) -> None:
        lift = await acts.call_in(self, self._view(), self._lane())
        self.cursor, self.want = lift, None
        self._show(lift)
