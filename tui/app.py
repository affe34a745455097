"""The program at a terminal: opens screens one after another, notices changes, leaves cleanly."""

from __future__ import annotations

import asyncio
import contextlib
import gc
import signal
from functools import partial
from importlib import import_module

from textual import events, on, work
from textual.app import App
from textual.screen import Screen
from textual.timer import Timer

from store.rules.codes import Code
from store.trouble import Trouble
from tui.colours import textual_theme
from tui.parts.keyline import IDLE, KeyLine, pressed
from tui.parts.painted import Painted
from tui.parts.talk import Scanned, SignedOff
from tui.parts.where import BAY, FLOOR, SIGN_IN, Elsewhere, Where, home
from tui.session import Session
from tui.signs import ASCII
from tui.watch import TIMES_A_SECOND, Watch

LEAVE_KEYS = ("ctrl+c", "ctrl+q")
MEASURE = "\x1b[2;1H\u2503\x1b[6n\x1b[2;1H\x1b[2K\x1b[1;1H"
"""In the second row, since the answer from the first one reads as a key: a heavy bar, where is
the cursor (DSR, ECMA-48 8.3.35), and the row wiped."""
WIDE = 2
"""Where the cursor stands after a sign that took two cells."""
LONGEST_TRAIL = 20
SIDE_TRIPS = ("job", "intake", "desk", "follow-ups", "tools", "month")
"""Screens from which Esc goes back to wherever one came from."""
MINUTE_LOOKS = 4
"""Every so many looks at the file the minute is looked at too."""


class Hoistbook(App[int]):
    """Opens screens and nothing else."""

    CSS_PATH = "app.tcss"
    ENABLE_COMMAND_PALETTE = False
    ALLOW_SELECT = False

    def __init__(self, session: Session, first: Where, *, alone: bool = False) -> None:
        """Open at a screen; `alone` looks at the file only when `notice` is called."""
        # without colours the terminal's own stay: nothing is turned into shades of grey
        super().__init__(ansi_color=True if session.paint.monochrome else None)
        self.session = session
        self._first = first
        self._trail: list[Where] = []
        self._met: dict[Painted[object], str | None] = {}
        self.line = KeyLine()
        self._watch = Watch(session.shop)
        self._alone = alone
        self._warmed = False
        self.asked_width = False
        self._looks = 0
        self._minute = ""
        self._silence: Timer | None = None
        theme = textual_theme(session.paint.look)
        self.register_theme(theme)
        self.theme = theme.name

    def on_mount(self) -> None:
        """Take the terminal."""
        loop = asyncio.get_running_loop()
        for name in (signal.SIGHUP, signal.SIGTERM):
            # tests run the app outside the main thread's loop
            with contextlib.suppress(NotImplementedError, ValueError, RuntimeError):
                loop.add_signal_handler(name, self.exit, 0)
        self._ask_width()
        if not self._alone:
            self.set_interval(1 / TIMES_A_SECOND, self.notice)
        self._silence_begins()
        self._life()

    def _ask_width(self) -> None:
        """Have the terminal measure a sign of ambiguous width; the answer comes as an event.

        The sign is wiped before anything is painted, so a terminal that does not answer costs
        nothing, and one that answers late is believed late.
        """
        asks = self.session.asks_width and not self.session.signs.ascii
        if asks and self._driver is not None and not self.is_headless:
            self.asked_width = True
            self._driver.write(MEASURE)

    def _measured(self, event: events.CursorPosition) -> None:
        """A sign that took two cells would push every line: plain letters from here on."""
        if self.asked_width and event.x == WIDE:
            self.session.signs = ASCII
            if isinstance(self.screen, Painted):
                self.screen.repaint()
        self.asked_width = False

    def _keep(self, name: str) -> str:
        """Make a screen the first time it is wanted: a bay loads nothing of the floor."""
        if not self.is_screen_installed(name):  # pyright: ignore[reportUnknownMemberType]
            made = _made(name, self.session, self.line)
            # Textual says Screen here without saying of what
            self.install_screen(made, name)  # pyright: ignore[reportUnknownMemberType]
        return name

    def on_unmount(self) -> None:
        """Let go of the file."""
        self._watch.close()

    @work(exclusive=True, group="life")
    async def _life(self) -> None:
        """One screen after another, until somebody leaves."""
        here = self._first
        await self.push_screen(self._keep(here.screen))
        while True:
            found = await self._visit(here)
            if found is None:
                break
            found = self._way(here, found)
            if found.screen != here.screen:
                # the same as above
                name = self._keep(found.screen)
                await self.switch_screen(name)  # pyright: ignore[reportUnknownMemberType]
            here = found
        self.exit(0)

    async def _visit(self, here: Where) -> Where | None:
        screen = self.screen
        assert isinstance(screen, Painted)
        self._meet(screen)
        screen.about(here)
        try:
            return await screen.visit()
        except Elsewhere as other:
            return other.where
        except Scanned as scan:
            return await self._scanned(screen, scan.code) or here
        except SignedOff:
            return self._signed_off(here)

    async def _scanned(self, screen: Painted[object], code: Code) -> Where | None:
        """A scan that left a screen altogether; None stays there."""
        try:
            await screen.doing(partial(screen.scanned, code))
        except Elsewhere as other:
            return other.where
        self.session.said = screen.said
        return None

    def _meet(self, screen: Painted[object]) -> None:
        """What somebody else typed and left on a screen is not for who is here now."""
        badge = self.session.who.badge if self.session.who else None
        if self._met.get(screen, badge) != badge:
            screen.talk.forget()
        self._met[screen] = badge

    def _way(self, here: Where, found: Where) -> Where:
        """Where to, with `back` made out; side trips lead back, all else is a new start."""
        if found.screen == "back":
            at_home = home(self.session.who.role) if self.session.who else FLOOR
            return self._trail.pop() if self._trail else at_home
        if found.screen not in SIDE_TRIPS:
            self._trail.clear()
        elif found != here:
            self._trail = [*self._trail, here][-LONGEST_TRAIL:]
        return found

    def _signed_off(self, here: Where) -> Where:
        """Nobody pressed a key for long: whoever was here is not any more; clocks go on."""
        was = self.session.who
        self.session.sign_off()
        if was is not None:
            self.session.said = f"{was.name} was signed off; the clock goes on."
        return SIGN_IN if here == BAY else here

    @on(Painted.Stands)
    def _warm_once(self) -> None:
        if not self._warmed:
            self._warmed = True
            self._warm()
            if not gc.isenabled():  # see `tui.cli.start`
                gc.freeze()
                gc.enable()

    @work(thread=True, group="warm")
    def _warm(self) -> None:
        """Load what the first key will need, now that the first screen stands."""
        for name in ("clock", "steps", "holding", "phases", "undo.taking_back", "jobs"):
            import_module(f"store.actions.{name}")
        import_module("tui.intake.screen")  # takes longer than a key may wait

    # -- keys

    async def on_event(self, event: events.Event) -> None:
        """Every key goes into the line; nothing of Textual's own sees it."""
        if isinstance(event, events.CursorPosition):
            self._measured(event)
            return
        if isinstance(event, events.Key) and not event.is_forwarded:
            if event.key in LEAVE_KEYS:
                self.exit(0)
            elif not self.session.wall:
                self._listen()
                self.line.put(pressed(event))
            return
        if isinstance(event, events.Paste) and not event.is_forwarded:
            if not self.session.wall:
                self._listen()
                self.line.paste(event.text)
            return
        await super().on_event(event)

    def _listen(self) -> None:
        """Somebody is here: the silence begins anew, and a clock that sleeps wakes."""
        if self.session.clock.sleeps:
            self._wake()
        self._silence_begins()

    def _silence_begins(self) -> None:
        if self._silence is not None:
            self._silence.stop()
        self._silence = self.set_timer(self.session.sign_off_s, self.fall_silent)

    @work(thread=True, exclusive=True, group="wake")
    def _wake(self) -> None:
        self.session.clock.use()

    def fall_silent(self) -> None:
        """Nobody pressed a key for as long as the shop allows."""
        if self.session.who is not None:
            self.line.put(IDLE)

    # -- changes

    def _fatal_error(self) -> None:
        from tui.parts.crash import last_words

        self._exit_renderables.append(last_words(self.console))
        self._close_messages_no_wait()

    def notice(self) -> None:
        """Look whether the file changed or a minute passed; then the screen reads again."""
        screen = self.screen
        if not isinstance(screen, Painted):
            return
        self._looks += 1
        try:
            changed = self._watch.changed()
            if self._looks % MINUTE_LOOKS == 0:
                changed = self._minute_passed() or changed
        except Trouble as trouble:
            screen.lost(str(trouble))
            return
        if changed or screen.stale:
            screen.read()
        if news := self.session.news():
            screen.say_no(news)

    def _minute_passed(self) -> bool:
        minute = f"{self.session.now():%H:%M}"
        before, self._minute = self._minute, minute
        return minute != before


def _made(name: str, session: Session, line: KeyLine) -> Screen[None]:
    match name:
        case "sign in":
            from tui.signin.screen import SignInScreen

            return SignInScreen(session, line)
        case "bay":
            from tui.bay.screen import BayScreen

            return BayScreen(session, line)
        case "floor":
            from tui.floor.screen import FloorScreen

            return FloorScreen(session, line)
        case "intake":
            from tui.intake.screen import IntakeScreen

            return IntakeScreen(session, line)
        case "desk":
            from tui.desk.screen import DeskScreen

            return DeskScreen(session, line)
        case "follow-ups":
            from tui.follow.screen import FollowScreen

            return FollowScreen(session, line)
        case "tools":
            from tui.tools.screen import ToolsScreen

            return ToolsScreen(session, line)
        case "month":
            from tui.month.screen import MonthScreen

            return MonthScreen(session, line)
        case _:
            from tui.job.screen import JobScreen

            return JobScreen(session, line)
