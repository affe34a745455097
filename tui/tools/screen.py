"""Special tools: what the keys do."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from datetime import datetime
from functools import partial

from store.rules.codes import Code
from store.trouble import Refused
from store.views.door import door
from store.views.tools.hires_back import hires_back, supply
from store.views.tools.page import tools
from store.views.tools.values import KitNow
from tui import deeds, keys
from tui.lane.axis import zooms
from tui.parts.canvas import Canvas
from tui.parts.everywhere import do_key
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.pressed import ENTER
from tui.parts.where import BACK, Elsewhere, Where
from tui.tools.at_hand import AtHand
from tui.tools.forms import FORMS
from tui.tools.page import kit_page
from tui.tools.paint import axis_of, gutter_of, laid_out, tools_canvas, visible
from tui.tools.state import FOLD, ROW, Shown, ToolsState, at_rest, next_need, rows_of
from tui.words import counted

NOBODY = "nobody signed in"


class ToolsScreen(Painted[Shown]):
    """Every kit on one time line."""

    CSS_PATH = "screen.tcss"

    cursor: str | None = None
    open = False
    zoom: int | None = None
    _wanted = ""

    def about(self, here: Where) -> None:
        """The kit that one comes for, where there is one."""
        self._wanted = here.kit

    # -- reading and painting

    def look(self, now: datetime) -> Shown:
        """Every kit, and what went back and is not settled."""
        shop = self.session.shop
        known = supply(shop)
        return Shown(tools(shop, now), door(shop, now).shop, hires_back(shop), bool(known.names))

    def took(self, view: Shown) -> None:
        """The line that one stands on may be gone: then what is to be done first."""
        self.zone = view.zone
        if self._wanted:
            self._to_kit(view, self._wanted)
            self._wanted = ""
        names = [row.name for row in rows_of(view, self._state(), 0)]
        if self.cursor not in names:
            self.cursor = next(iter((*view.wants, *names)), None)

    def _to_kit(self, view: Shown, code: str) -> None:
        kit = view.kit(code)
        if kit is not None:
            self.cursor, self.open = code, self.open or at_rest(kit)

    def picture(self, view: Shown, size: tuple[int, int]) -> Canvas:
        """The answers, every kit, and more of the one at hand."""
        signs = self.session.signs
        if self.session.paint.monochrome:
            signs = signs.without_colour()
        return tools_canvas(view, size, signs, self._state())

    def _state(self) -> ToolsState:
        who = self.session.who
        return ToolsState(
            self.cursor, self.open, self.zoom, f"{who.name}, {who.role}" if who else NOBODY,
            self.saying, self.stale,
        )  # fmt: skip

    def job_at_hand(self) -> str | None:
        """The job that has the kit, or needs it."""
        kit = self.shown.kit(self.cursor) if self.shown else None
        need = next_need(kit) if kit is not None else None
        if need is not None:
            return need.job
        return next((one.job for one in kit.hires if one.job), None) if kit is not None else None

    def way_back(self) -> str:
        """The screen's own undo."""
        return keys.filled("  {tools.undo} undoes it.")

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
            if keys.meant(keys.TOOLS, key) == "tools":
                self.remark("These are the special tools.")
            elif not await do_key(self, key, keys.TOOLS, self._forms()):
                return BACK

    def _forms(self) -> dict[str, Callable[[], Awaitable[None]]]:
        return {
            **{name: partial(self._act, form) for name, form in FORMS.items()},
            "open": self._open, "next": self._next, "find-kit": self._find, "job": self._job,
            "zoom": self._zoom, "undo": self._undo,
            "up": lambda: self._step(-1), "down": lambda: self._step(1),
            "page-up": lambda: self._turn(-1), "page-down": lambda: self._turn(1),
        }  # fmt: skip

    async def _act(self, form: Callable[[AtHand], Awaitable[None]]) -> None:
        view = self._view()
        kit, back = view.kit(self.cursor), view.went_back(self.cursor)
        await form(AtHand(self, kit, back, view.back))

    def _view(self) -> Shown:
        if self.shown is None:
            raise Refused("The kits cannot be read just now.")
        return self.shown

    def _kit(self) -> KitNow:
        kit = self._view().kit(self.cursor)
        if kit is None:
            raise Refused(keys.filled("That line is no kit. {tools.find-kit} finds one."))
        return kit

    async def _open(self) -> None:
        """All about the kit; the line of those at rest opens or closes them."""
        if self.cursor == FOLD:
            self.open = True
            rest = [one.code for one in self._view().tools.kits if at_rest(one)]
            self._stand(rest[0])
        elif self.open and at_rest(self._kit()):
            self.open, self.cursor = False, FOLD
            self.repaint()
        elif self._view().went_back(self.cursor) is None:
            await kit_page(self, self._kit().code)
        else:
            await self._job()

    async def _job(self) -> None:
        back = self._view().went_back(self.cursor)
        job = back.job if back is not None else self.job_at_hand()
        if job is None:
            raise Refused("No job has it or needs it.")
        raise Elsewhere(Where("job", job))

    async def _find(self) -> None:
        from tui.tools.finding import find_kit

        code = await find_kit(self)
        self._to_kit(self._view(), code)
        self.repaint()

    async def _undo(self) -> None:
        await somebody(self)
        await self.act(deeds.undo)

    async def scanned(self, code: Code) -> None:
        """A kit is where one stands then."""
        if code.kind == "kit" and self._view().kit(code.name) is not None:
            self._to_kit(self._view(), code.name)
        await super().scanned(code)

    # -- moving about

    def _clicked(self, name: str) -> None:
        """A click goes to a line; on the one that one stands on it is as Enter."""
        if name == self.cursor:
            self.press(ENTER)
        else:
            self._stand(name)

    def _stand(self, name: str) -> None:
        self.cursor = name
        self.repaint()

    def _names(self) -> list[str]:
        return [row.name for row in rows_of(self._view(), self._state(), 0)]

    async def _step(self, by: int) -> None:
        names = self._names()
        if names:
            at = names.index(self.cursor) if self.cursor in names else 0
            self._stand(names[min(max(0, at + by), len(names) - 1)])

    async def _turn(self, way: int) -> None:
        """To the first line of the page before or after."""
        view, state = self._view(), self._state()
        room = laid_out(view, self.board_size, state).rows
        rows = rows_of(view, state, room)
        shown, (above, _) = visible(rows, room, self.cursor)
        at = above - 1 if way < 0 else above + len(shown)
        if not rows or not 0 <= at < len(rows):
            self.remark("No kit is beyond these.")
            return
        page, (first, _) = visible(rows, room, rows[at].name)
        self._stand(rows[first].name if page else rows[at].name)

    async def _next(self) -> None:
        """To what is next to be done; around when all were seen."""
        wants = self._view().wants
        if not wants:
            self.say("Nothing is to be done about any kit.")
            return
        at = wants.index(self.cursor) if self.cursor in wants else -1
        self._stand(wants[(at + 1) % len(wants)])

    async def _zoom(self) -> None:
        """The next coarser line, around at the end."""
        width, view = self.board_size[0], self._view()
        if not gutter_of(width):
            raise Refused("This window has no room for a line. Make it wider.")
        cells = width - gutter_of(width) - 1
        steps = zooms(view.tools.calendar, view.tools.at, cells)
        now = axis_of(view, cells, self.zoom)
        self.zoom = next((zoom for zoom in steps if zoom > now.zoom), steps[0])
        shown = axis_of(view, cells, self.zoom)
        size = f"{self.zoom} minutes" if self.zoom < 60 else counted(self.zoom // 60, "hour")
        self.say(f"A cell is {size}: {counted(shown.days_ahead, 'day')} from now.")
