"""The bay: what the pad's keys do."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from datetime import datetime
from functools import partial

from store.rules.codes import Code
from store.views.bay import bay
from store.views.values import Bay, PhaseLine, StepLine
from tui import deeds, keys
from tui.bay.choosing import (
    CHOICE_MARGIN,
    INDIRECT,
    INDIRECT_REASONS,
    choice_words,
    over_title,
)
from tui.bay.day import day_sheet
from tui.bay.left_running import stopped_when
from tui.bay.pad import pad_of
from tui.bay.paint import bay_canvas
from tui.bay.scans import take as take_scan
from tui.bay.state import BayState
from tui.bay.steps import shown_phase
from tui.parts.canvas import Canvas
from tui.parts.everywhere import everywhere, no_key
from tui.parts.finding import report_finding
from tui.parts.finishing import finish_phase
from tui.parts.holding import hold
from tui.parts.keyline import Pressed
from tui.parts.painted import Painted
from tui.parts.prompt import Option
from tui.parts.signing import sign_step
from tui.parts.step_list import step_list
from tui.parts.talk import Back
from tui.parts.where import SIGN_IN, Elsewhere, Where, home

HELD = (Option("1", "it can go on", hot=True), Option("2", "say more, or why else"))
BACK = "    "
"""Before the way back of what was said last."""
NO_NUMLOCK = ("left", "right", "home", "end", "insert", "delete", "page up", "page down")
NUMLOCK = "! Press NumLock: the digits of the pad arrive as arrows."


class BayScreen(Painted[Bay]):
    """A technician's home."""

    CSS_PATH = "screen.tcss"

    step = 0

    def look(self, now: datetime) -> Bay:
        """The bay of who is signed in."""
        who = self.session.who
        return bay(self.session.shop, who.badge if who else "", now, self.session.lift)

    def took(self, view: Bay) -> None:
        """Stay on the same step while it is there."""
        self.zone = view.zone
        self.step = min(self.step, max(0, len(self._todo(view)) - 1))

    def picture(self, view: Bay, size: tuple[int, int]) -> Canvas:
        """Clock, step, pad."""
        step = self._step()
        state = BayState(
            pad_of(view, step[1] if step else None), self.step, self.saying, _foot(view),
            self.stale,
        )  # fmt: skip
        return bay_canvas(view, size, self.session.signs, state)

    def job_at_hand(self) -> str | None:
        """The job shown."""
        return self.shown.card.job.number if self.shown and self.shown.card else None

    @property
    def saying(self) -> str | None:
        """While a question is open its digits are answers: the way back is not said then."""
        said = super().saying
        if self.prompt is None:
            return said
        said = said or (self.shown.said if self.shown else None)
        return said.partition(BACK)[0] if said else None

    def way_back(self) -> str:
        """The pad's own undo."""
        return (
            BACK + keys.filled("{bay.undo} takes it back")
            if self.shown and self.shown.can_undo
            else ""
        )

    # -- what is shown

    def _phase(self) -> PhaseLine | None:
        return shown_phase(self.shown) if self.shown else None

    def _todo(self, view: Bay) -> list[StepLine]:
        phase = shown_phase(view)
        return [one for one in phase.steps if one.state != "done"] if phase else []

    def _step(self) -> tuple[PhaseLine, StepLine] | None:
        phase = self._phase()
        todo = self._todo(self.shown) if self.shown else []
        return (phase, todo[min(self.step, len(todo) - 1)]) if phase and todo else None

    def _job(self) -> str:
        """The job shown.

        Raises:
            Back: none is; it is said.
        """
        if self.shown is None or self.shown.card is None:
            self.say_no(keys.filled("No phase is chosen. {bay.over} chooses one."))
            raise Back
        return self.shown.card.job.number

    def _here(self) -> tuple[str, str]:
        """Job and phase shown.

        Raises:
            Back: none is; it is said.
        """
        job, phase = self._job(), self._phase()
        if phase is None:
            self.say_no(keys.filled("No phase is chosen. {bay.over} chooses one."))
            raise Back
        return job, phase.number

    # -- talking

    async def visit(self) -> Where | None:
        """Take keys until somebody goes elsewhere."""
        if self.session.who is None:
            return SIGN_IN
        self.step, self.said, self.session.said = 0, self.session.said, ""
        await self.renew()
        await self.doing(self._ask_left_running)
        while True:
            key = await self.next_key()
            meant = keys.meant(keys.BAY, key.key)
            if key.text and key.text[0].isalpha():
                await self.doing(partial(self._next_person, key))
            elif key.key in NO_NUMLOCK:
                self.say(NUMLOCK)
            elif meant == "sign-off":
                self.session.sign_off()
                return SIGN_IN
            elif meant is None:
                no_key(self, key.key, keys.BAY)
            elif meant in keys.COMMON:
                await self.doing(partial(everywhere, self, meant, keys.BAY))
            else:
                await self.doing(self._forms()[meant])

    def _forms(self) -> dict[str, Callable[[], Awaitable[None]]]:
        return {
            "clock": self._clock, "over": self._over, "sign": self._sign, "hold": self._hold,
            "finding": self._finding, "indirect": self._indirect, "steps": self._steps,
            "up": self._up, "down": self._down, "undo": self._undo,
            "away": self._away, "day": self._day, "finish": self._finish,
        }  # fmt: skip

    async def _next_person(self, key: Pressed) -> None:
        """A letter begins a badge that is typed: no letter is a key here.

        Raises:
            Elsewhere: to the home of who came.
            Back: nobody did.
        """
        known = await self.at_door()
        who = await self.talk.type(
            "Somebody else?", "badge", lambda text: self.session.admits(known.who(text)),
            text=key.text, scanned=True,
            facts=("Enter signs in with that badge; Esc stays here.",),
        )  # fmt: skip
        self.session.sign_in(who)
        raise Elsewhere(home(who.role))

    async def scanned(self, code: Code) -> None:
        """Codes clock and sign here."""
        self.step = 0
        await take_scan(self, code)

    async def _up(self) -> None:
        many = len(self._todo(self.shown)) if self.shown else 0
        self.step = (self.step - 1) % many if many else 0
        self.repaint()

    async def _down(self) -> None:
        many = len(self._todo(self.shown)) if self.shown else 0
        self.step = (self.step + 1) % many if many else 0
        self.repaint()

    # -- clocks

    async def _ask_left_running(self) -> None:
        clock = self.shown.clock if self.shown else None
        if clock is None or not clock.left_running:
            return
        await stopped_when(self, clock)

    async def _clock(self) -> None:
        view = self.shown
        if view is not None and view.clock is not None:
            if view.clock.left_running:
                await stopped_when(self, view.clock)
            else:
                await self.act(deeds.clock_off)
            return
        job, phase = self._here()
        await self.act(deeds.clock_on(job, phase))

    async def _over(self) -> None:
        view = self.shown
        running = (view.clock.job, view.clock.phase) if view and view.clock else (None, None)
        choices = [one for one in view.choices if (one.job, one.phase) != running] if view else []
        width, more = self.board_size[0] - CHOICE_MARGIN, self.session.signs.more
        options = [
            Option(str(n), choice_words(one, width, more)) for n, one in enumerate(choices[:9], 1)
        ]
        if not options:
            self.say_no(
                keys.filled("No other phase can be worked on. {bay.floor} shows what waits.")
            )
            return
        chosen = choices[int(await self.talk.pick(over_title(choices), options)) - 1]
        self.step = 0
        await self.act(deeds.clock_over(chosen.job, chosen.phase))

    async def _away(self) -> None:
        view = self.shown
        away = view is not None and view.clock is not None and view.clock.reason == "away"
        await self.act(deeds.clock_back if away else deeds.clock_away)

    async def _indirect(self) -> None:
        chosen = await self.talk.pick("work on no job", INDIRECT)
        await self.act(deeds.clock_indirect(INDIRECT_REASONS[chosen]))

    # -- work

    async def _sign(self) -> None:
        job, number = self._here()
        found = self._step()
        card = self.shown.card if self.shown else None
        if found is None or card is None:
            self.say_no(
                f"Every step of {job}.{number} is done. "
                + keys.filled("{bay.finish} finishes the phase.")
            )
            return
        await sign_step(self, card, *found)

    async def _hold(self) -> None:
        job, number = self._here()
        phase = self._phase()
        if phase is not None and phase.hold is not None:
            chosen = await self.talk.pick(
                f"{job}.{number} is held: {phase.hold.text or phase.hold.reason}", HELD
            )
            if chosen == "1":
                await self.act(deeds.release(job, phase.hold.phase))
                return
        await hold(self, job, number, what=phase.name if phase else "")

    async def _finding(self) -> None:
        await report_finding(self, *self._here())

    async def _steps(self) -> None:
        job, number = self._here()
        await step_list(self, job, number)
        await self.renew()

    async def _undo(self) -> None:
        await self.act(deeds.undo)

    async def _finish(self) -> None:
        await finish_phase(self, *self._here())
        self.step = 0

    async def _day(self) -> None:
        await day_sheet(self)
        await self.renew()


def _foot(view: Bay) -> str:
    phase = shown_phase(view)
    finish = (
        keys.filled("{bay.finish} finishes ") + f"{phase.number}   "
        if phase and phase.state == "under way"
        else ""
    )
    return f"{finish}scan a code, or type a badge"
