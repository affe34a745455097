"""The floor: what its keys do."""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable
from datetime import UTC, datetime, timedelta
from functools import partial

from textual.timer import Timer

from store.trouble import Refused
from store.views.door import places
from store.views.floor import floor
from store.views.job import job_card
from store.views.values import Floor, Job, Lane
from tui import deeds, keys
from tui.floor.paint import LIFT, floor_canvas
from tui.floor.plan import page_of, plan
from tui.floor.state import FloorState
from tui.parts.answering import answer
from tui.parts.canvas import Canvas
from tui.parts.everywhere import everywhere, no_key
from tui.parts.holding import hold
from tui.parts.intake import KEYS
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.prompt import Option
from tui.parts.talk import Back
from tui.parts.when import some
from tui.parts.where import SIGN_IN, Where
from tui.words import Chance, settled

ZOOMS = (10, 20, 30, 60, 120)
PAGE_S, LOUD_PAGE_S = 12.0, 24.0
"""How long a page stays on a wall, and one with a loud lane."""
LEARN_EVERY = timedelta(minutes=10)
"""How often at most a floor begins the learner because forecasts are old."""
NOBODY = "nobody signed in"
OUT_REASONS = (
    Option("1", "lock does not engage"),
    Option("2", "inspection due"),
    Option("3", "leaks or noise"),
    Option("4", "being repaired"),
    Option("5", "say it ..."),
)
OUT_WORDS = {"1": "lock does not engage", "2": "inspection due", "3": "leaks or noise",
             "4": "being repaired"}  # fmt: skip


class FloorScreen(Painted[Floor]):
    """Every lift at a glance."""

    CSS_PATH = "screen.tcss"

    wheel = ("page up", "page down")
    cursor: str | None = None
    turned = 0
    zoom: int | None = None
    _settled: dict[str, Chance]
    _learns_again = datetime.min.replace(tzinfo=UTC)
    _turn: Timer | None = None

    def look(self, now: datetime) -> Floor:
        """The whole shop."""
        return floor(self.session.shop, now)

    def took(self, view: Floor) -> None:
        """Words of chances stay until they are clear of a border."""
        self.zone = str(view.calendar.zone)
        before = getattr(self, "_settled", {})
        self._settled = {
            job.number: settled(before.get(job.number), job.promise_chance)
            for job in _jobs(view)
            if job.promise_chance is not None
        }
        if view.to_learn and self._learns_again <= view.at:
            self._learns_again = view.at + LEARN_EVERY
            self._learn()
        codes = [lane.lift for lane in view.lanes]
        if self.cursor not in codes:
            self.cursor = codes[0] if codes and not self.session.wall else None

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
            who=f"{who.name}, {who.role}" if who else "" if self.session.wall else NOBODY,
            said=self.saying, stale=self.stale, settled=getattr(self, "_settled", {}),
            keys=keys.last_row(keys.FLOOR), wall=self.session.wall,
        )  # fmt: skip

    def job_at_hand(self) -> str | None:
        """The job on the lift that one stands on."""
        here = next((lane.job for lane in self._lanes() if lane.lift == self.cursor), None)
        return here.number if here else None

    def way_back(self) -> str:
        """The floor's own undo."""
        return "  u undoes it."

    # -- the wall

    def on_mount(self) -> None:
        """A wall turns its pages by itself."""
        if self.session.wall:
            self._turn = self.set_timer(PAGE_S, self.turn_page)

    def turn_page(self) -> None:
        """The next page of lifts; a loud one stays longer."""
        stays = PAGE_S
        if self.shown is not None:
            here = plan(self.shown, self.board_size, self._state())
            self.turned = (here.page + 1) % here.pages
            after = plan(self.shown, self.board_size, self._state())
            loud = {want.lift for want in self.shown.wants}
            if any(lane.lift in loud for lane in after.shown):
                stays = LOUD_PAGE_S
            self.repaint()
        self._turn = self.set_timer(stays, self.turn_page)

    # -- talking

    async def visit(self) -> Where | None:
        """Take keys until somebody goes elsewhere."""
        self.said, self.session.said = self.session.said, ""
        await self.renew()
        while True:
            key = (await self.talk.key()).key
            found = await self._key(key)
            if found is not None:
                return found

    async def _key(self, key: str) -> Where | None:
        if key.startswith(LIFT):
            return self._clicked(key.removeprefix(LIFT))
        if len(key) == 1 and key.isalnum() and self._go_to(key):
            return None
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
            "next": self._next, "answer": self._word, "move": self._move, "call": self._call,
            "hold": self._hold, "release": self._release,
            "service": self._service, "zoom": self._zoom, "undo": self._undo,
            "up": lambda: self._step(-1), "down": lambda: self._step(1),
            "page-up": lambda: self._pages(-1), "page-down": lambda: self._pages(1),
        }  # fmt: skip

    # -- where one stands

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
        raise Refused("There is no lift yet. Add one: hoistbook lift add CODE.")

    def _job(self) -> Job:
        """The job on it.

        Raises:
            Refused: it is free.
        """
        lane = self._lane()
        if lane.job is None:
            raise Refused(f"No job on lift {lane.lift}. c calls one in.")
        return lane.job

    def _stand(self, lift: str) -> None:
        self.cursor = lift
        if self.shown is not None:
            self.turned = page_of(self.shown, self.board_size, self._state(), lift)
        self.repaint()

    def _go_to(self, key: str) -> bool:
        """A digit is the lift with that code; where codes are longer, its place in the order."""
        codes = [lane.lift for lane in self._lanes()]
        if key.upper() in codes and (key.isdigit() or keys.meant(keys.FLOOR, key) is None):
            self._stand(key.upper())
            return True
        if key.isdigit() and 1 <= int(key) <= len(codes) and all(len(one) > 1 for one in codes):
            self._stand(codes[int(key) - 1])
            return True
        return False

    async def _step(self, by: int) -> None:
        codes = [lane.lift for lane in self._lanes()]
        if codes:
            at = codes.index(self.cursor) if self.cursor in codes else 0
            self._stand(codes[min(max(0, at + by), len(codes) - 1)])

    async def _pages(self, by: int) -> None:
        if self.shown is None:
            return
        here = plan(self.shown, self.board_size, self._state())
        page = min(max(0, here.page + by), here.pages - 1)
        self.turned = page
        self._stand(plan(self.shown, self.board_size, self._state()).shown[0].lift)

    async def _next(self) -> None:
        wants = [want for want in self.shown.wants if want.lift] if self.shown else []
        lifts = list(dict.fromkeys(want.lift for want in wants if want.lift))
        if not lifts:
            self.say("No lift wants anybody.")
            return
        at = lifts.index(self.cursor) if self.cursor in lifts else -1
        self._stand(lifts[(at + 1) % len(lifts)])
        want = next(want for want in wants if want.lift == self.cursor)
        self.say(f"{want.word}  lift {want.lift}: {want.says}")

    async def _zoom(self) -> None:
        at = ZOOMS.index(self.zoom) if self.zoom in ZOOMS else -1
        self.zoom = ZOOMS[at + 1] if at + 1 < len(ZOOMS) else None
        self.say(f"A cell is {self.zoom} minutes." if self.zoom else "As many hours as fit well.")

    def _clicked(self, lift: str) -> Where | None:
        """A click goes to a lift; on the one that one stands on it opens the job."""
        lane = next((one for one in self._lanes() if one.lift == lift), None)
        if lane is None:
            return None
        if lane.lift == self.cursor and lane.job is not None:
            return Where("job", lane.job.number)
        self._stand(lane.lift)
        return None

    # -- elsewhere

    async def _open(self) -> Where | None:
        try:
            return Where("job", self._job().number)
        except Refused as refused:
            self.say_no(str(refused))
            return None

    async def _from_list(self) -> Where | None:
        jobs = list(_jobs(self.shown)) if self.shown else []
        if not jobs:
            self.say_no("No job is in the house. F5 takes one in.")
            return None
        options = [
            Option(KEYS[n], f"{job.number}  {job.vehicle}   {job.work}   "
                   f"{job.place or job.state.replace('-', ' ')}")
            for n, job in enumerate(jobs[: len(KEYS)])
        ]  # fmt: skip
        try:
            chosen = await self.talk.pick("open which job?", options)
        except Back:
            return None
        return Where("job", jobs[KEYS.index(chosen)].number)

    # -- acts

    async def _word(self) -> None:
        asked = (
            [job for job in _jobs(self.shown) if "supplement-asked" in job.flags]
            if self.shown
            else []
        )
        here = next((lane.job for lane in self._lanes() if lane.lift == self.cursor), None)
        if here is None or here.number not in [job.number for job in asked]:
            if not asked:
                raise Refused("No extra work waits for a customer's word.")
            here = asked[0] if len(asked) == 1 else await self._which(asked, "whose customer?")
        await somebody(self)
        session, number = self.session, here.number
        await answer(
            self, await asyncio.to_thread(lambda: job_card(session.shop, number, session.now()))
        )

    async def _which(self, jobs: list[Job], title: str) -> Job:
        options = [
            Option(KEYS[n], f"{job.number}  {job.vehicle}   {job.work}"
                   + (f"   lacks {', '.join(job.lacks)}" if job.lacks else ""))
            for n, job in enumerate(jobs[: len(KEYS)])
        ]  # fmt: skip
        chosen = await self.talk.pick(title, options)
        return jobs[KEYS.index(chosen)]

    async def _move(self) -> None:
        job = self._job()
        await somebody(self)
        there = [
            one
            for one in await asyncio.to_thread(places, self.session.shop)
            if one.job != job.number
            and (one.kind in ("yard", "bench") or (one.job is None and one.in_service))
        ]
        if not there:
            raise Refused("No lift and no other place is free. Move another job first.")
        options = [Option(KEYS[n], f"{one.kind} {one.code}" if one.kind == "lift" else one.code)
                   for n, one in enumerate(there[: len(KEYS)])]  # fmt: skip
        chosen = there[KEYS.index(await self.talk.pick(f"{job.number} {job.vehicle}: move to",
                                                       options))]  # fmt: skip
        await self.act(deeds.move(job.number, chosen.code, lift=chosen.kind == "lift"))

    async def _call(self) -> None:
        shown = self.shown
        outside = [*shown.waiting, *shown.elsewhere] if shown else []
        outside = [one for one in outside if one.state in ("waiting", "off-lift")]
        if not outside:
            raise Refused("Nobody waits to come in. F5 takes a new job.")
        lane = self._lane()
        if lane.job is not None or not lane.in_service:
            free = [one for one in self._lanes() if one.job is None and one.in_service]
            if not free:
                raise Refused("No lift is free. m moves a job away.")
            lane = free[0]
        await somebody(self)
        job = await self._which(outside, f"to lift {lane.lift}: which job?")
        await self.act(deeds.move(job.number, lane.lift, lift=True))
        self._stand(lane.lift)

    async def _hold(self) -> None:
        job = self._job()
        await somebody(self)
        await hold(self, job.number, None, what=job.vehicle)

    async def _release(self) -> None:
        job = self._job()
        await somebody(self)
        await self.act(deeds.release(job.number, job.hold.phase if job.hold else None))

    async def _service(self) -> None:
        lane = self._lane()
        await somebody(self)
        if not lane.in_service:
            await self.act(deeds.return_lift(lane.lift))
            return
        chosen = await self.talk.pick(f"lift {lane.lift} out of service: why?", OUT_REASONS)
        reason = OUT_WORDS.get(chosen)
        if reason is None:
            reason = await self.talk.type(f"lift {lane.lift} out of service", "because", some)
        await self.act(deeds.withdraw_lift(lane.lift, reason))

    async def _undo(self) -> None:
        await somebody(self)
        await self.act(deeds.undo)


def _jobs(view: Floor) -> list[Job]:
    """Every job in the house: on lifts, elsewhere, waiting."""
    on_lifts = [lane.job for lane in view.lanes if lane.job is not None]
    return [*on_lifts, *view.elsewhere, *view.waiting]
