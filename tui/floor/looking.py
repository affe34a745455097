"""Where one looks on the floor: the lift, the page, the want, the zoom; and the wall's pages."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

from rich.cells import cell_len
from textual.timer import Timer

from store.trouble import Refused
from store.views.floor import floor
from store.views.helps import helps
from store.views.values import Floor, Job, Lane, Want
from tui import keys
from tui.floor import acts
from tui.floor.paint import floor_canvas
from tui.floor.plan import lane_width, page_of, plan, stays_s
from tui.floor.state import FloorState
from tui.lane.axis import axis, zooms
from tui.parts.canvas import Canvas
from tui.parts.painted import Painted
from tui.words import Chance, counted, cut, settled

LEARN_EVERY = timedelta(minutes=10)
"""How often at most a floor begins the learner because forecasts are old."""
NOBODY = "nobody signed in"
ANSWERS = {
    "ANSWER": ("answer", "answers"), "SIGN": ("open", "opens it"), "READING": ("open", "opens it"),
    "OVER": ("open", "opens it"), "HELD": ("release", "releases it"),
    "OUT": ("move", "moves the job"), "DUE": ("open", "opens it"),
    "CLOCK": ("fix", "puts it right"),
}  # fmt: skip
"""By the word of a want: the id of the key that does something about it, and what it does."""
NO_JOB = ("service", "takes the lift out of service")
"""The same where the want is of a lift and of no job."""


class Looking(Painted[Floor]):
    """A floor that one moves about on."""

    wheel = ("page up", "page down")
    cursor: str | None = None
    turned = 0
    zoom: int | None = None
    want: Want | None = None
    _settled: dict[str, Chance]
    _learns_again = datetime.min.replace(tzinfo=UTC)
    _turn: Timer | None = None
    _typed = _warned = ""

    def look(self, now: datetime) -> Floor:
        """The whole shop, with what helps most."""
        shop = self.session.shop
        return replace(floor(shop, now), helps=helps(shop, now, costs=False))

    def took(self, view: Floor) -> None:
        """Words of chances stay until they are clear of a border."""
        self.zone = str(view.calendar.zone)
        before = getattr(self, "_settled", {})
        self._settled = {
            job.number: settled(before.get(job.number), job.promise_chance)
            for job in acts.all_jobs(view)
            if job.promise_chance is not None
        }
        if view.to_learn and self._learns_again <= view.at:
            self._learns_again = view.at + LEARN_EVERY
            self._learn()
        if self.cursor not in [lane.lift for lane in view.lanes]:
            self.cursor = None if self.session.wall else _first_look(view)

    def picture(self, view: Floor, size: tuple[int, int]) -> Canvas:
        """Lanes and lists."""
        signs = self.session.signs
        if self.session.paint.monochrome:
            signs = signs.without_colour()
        return floor_canvas(view, size, signs, self._state())

    def _state(self) -> FloorState:
        who = self.session.who
        return FloorState(
            cursor=None if self.session.wall else self.cursor, page=self.turned, zoom=self.zoom,
            want=self.want,
            who=f"{who.name}, {who.role}" if who else "" if self.session.wall else NOBODY,
            said=self.saying, stale=self.stale, settled=getattr(self, "_settled", {}),
            keys=keys.last_row(keys.FLOOR), wall=self.session.wall,
        )  # fmt: skip

    def job_at_hand(self) -> str | None:
        """The job on the lift that one stands on."""
        here = next((lane.job for lane in self._lanes() if lane.lift == self.cursor), None)
        return here.number if here else None

    def on_mount(self) -> None:
        """A wall turns its pages by itself."""
        if self.session.wall:
            self._turn = self.set_timer(self.stays_s(), self.turn_page)

    def stays_s(self) -> float:
        """How long the page that is shown stays on a wall."""
        if self.shown is None:
            return stays_s(())
        here = plan(self.shown, self.board_size, self._state())
        return stays_s(here.shown, self.shown.wants)

    def turn_page(self) -> None:
        """The next page of lifts."""
        if self.shown is not None:
            here = plan(self.shown, self.board_size, self._state())
            self.turned = (here.page + 1) % here.pages
            self.repaint()
        self._turn = self.set_timer(self.stays_s(), self.turn_page)

    def _view(self) -> Floor:
        """What is shown.

        Raises:
            Refused: nothing could be read yet.
        """
        if self.shown is None:
            raise Refused("The floor cannot be read just now.")
        return self.shown

    def _lanes(self) -> tuple[Lane, ...]:
        return self.shown.lanes if self.shown else ()

    def _lane(self) -> Lane:
        """The lift one stands on.

        Raises:
            Refused: the shop has none.
        """
        for lane in self._lanes():
            if lane.lift == self.cursor:
                return lane
        raise Refused(keys.filled('There is no lift yet. {floor.all}, "lift", adds the first.'))

    def _looked_at(self) -> Job | None:
        """The job of the want one was led to, where that is on no lift; else the one here."""
        want = self.want
        if want is not None and want.lift is None and self.shown is not None:
            found = [job for job in acts.all_jobs(self.shown) if job.number == want.job]
            return found[0] if found else None
        return next((lane.job for lane in self._lanes() if lane.lift == self.cursor), None)

    def _job(self) -> Job:
        """The job one looks at.

        Raises:
            Refused: there is none.
        """
        job = self._looked_at()
        if job is None:
            raise Refused(
                f"No job on lift {self._lane().lift}. " + keys.filled("{floor.call} calls one in.")
            )
        return job

    def _stand(self, lift: str) -> None:
        """Go to a lift; the first thing to be warned of there is said, until one goes on."""
        self.cursor, self.want = lift, None
        warnings = next((lane.warnings for lane in self._lanes() if lane.lift == lift), ())
        if warnings or (self._warned and self.said == self._warned):
            self._warned = warnings[0] if warnings else ""
            self.say(self._warned)
        self._show(lift)

    def _show(self, lift: str) -> None:
        if self.shown is not None:
            self.turned = page_of(self.shown, self.board_size, self._state(), lift)
        self.repaint()

    def _go_to(self, key: str) -> bool:
        """A lift by its code, two digits one after the other too; where all codes are longer, by
        its place in the order."""
        codes = [lane.lift for lane in self._lanes()]
        if key.isdigit() and self._typed + key in codes:
            self._typed += key
            self._stand(self._typed)
            self._say_digits(codes)
            return True
        self._typed = key if key in codes and key.isdigit() else ""
        if key.upper() in codes and (key.isdigit() or keys.meant(keys.FLOOR, key) is None):
            self._stand(key.upper())
            self._say_digits(codes)
            return True
        if key.isdigit() and 1 <= int(key) <= len(codes) and all(len(one) > 1 for one in codes):
            self._stand(codes[int(key) - 1])
            return True
        return False

    def _say_digits(self, codes: list[str]) -> None:
        """How a second digit reaches the lifts from ten on."""
        further = [code for code in codes if len(code) == 2 and code[0] == self._typed]
        if further and all(code.isdigit() for code in further):
            self.say(f"Lift {self._typed}.  A second digit: lift {further[0]} to {further[-1]}.")

    async def _step(self, by: int) -> None:
        codes = [lane.lift for lane in self._lanes()]
        if codes:
            at = codes.index(self.cursor) if self.cursor in codes else 0
            self._stand(codes[min(max(0, at + by), len(codes) - 1)])

    async def _pages(self, by: int) -> None:
        if self.shown is None or not self.shown.lanes:
            return
        here = plan(self.shown, self.board_size, self._state())
        self.turned = min(max(0, here.page + by), here.pages - 1)
        self._stand(plan(self.shown, self.board_size, self._state()).shown[0].lift)

    async def _next(self) -> None:
        """To what next wants somebody, first what cannot wait; around when all were seen."""
        wants = self.shown.wants if self.shown else ()
        if not wants:
            self.say("Nothing wants anybody.")
            return
        at = wants.index(self.want) if self.want in wants else -1
        self._want_at((at + 1) % len(wants))

    def _want_at(self, place: int) -> None:
        wants = self.shown.wants if self.shown else ()
        if place >= len(wants):
            return
        want = wants[place]
        if want.lift is not None:
            self._stand(want.lift)
        self.want = want
        where = f"lift {want.lift}: " if want.lift else ""
        name, does = NO_JOB if want.word == "DUE" and want.job is None else ANSWERS[want.word]
        how = f"{keys.key_of(keys.FLOOR, name)} {does}."
        room = self.board_size[0] - 8 - cell_len(want.word + where + how)
        says = cut(want.says, room, self.session.signs.more)
        self.say(f"{want.word}  {where}{says}  {how}")

    async def _zoom(self) -> None:
        """One step coarser; after the coarsest the finest."""
        view, width = self._view(), lane_width(self.board_size)
        if width < 1:
            raise Refused("No lanes are drawn under 80 columns.")
        now = axis(view.calendar, view.at, width, self.zoom)
        steps = zooms(view.calendar, view.at, width)
        following = [zoom for zoom in steps if zoom > now.zoom] or steps
        self.zoom = following[0]
        shown = axis(view.calendar, view.at, width, self.zoom)
        size = f"{self.zoom} minutes" if self.zoom < 60 else counted(self.zoom // 60, "hour")
        self.say(f"A cell is {size}: {counted(shown.days_ahead, 'day')} from now.")


def _first_look(view: Floor) -> str | None:
    """The lift that wants somebody most, so that one key opens it; else the first one."""
    lifts = [want.lift for want in view.wants] + [lane.lift for lane in view.lanes]
    return next((lift for lift in lifts if lift is not None), None)
