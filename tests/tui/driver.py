"""A terminal under test: keys go in, the text of the screen comes out, time stands still."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncGenerator, Iterable
from contextlib import asynccontextmanager
from datetime import datetime, timedelta

from textual.dom import DOMNode
from textual.pilot import Pilot
from textual.worker import WorkerState

from store.file.shop import Shop
from store.views.door import door
from tui.app import Hoistbook
from tui.colours import Paint
from tui.parts.board import Board
from tui.parts.canvas import as_text
from tui.parts.keyline import NAMES, Pressed
from tui.parts.painted import Painted
from tui.parts.where import SIGN_IN, Where
from tui.session import Session
from tui.signs import UNICODE, Signs

MOST_TURNS = 20_000
KNOWN = {*NAMES.values(), *(f"F{n}" for n in range(1, 13))}


class Quick(Pilot[int]):
    """Waits for what was begun, not for the clock: Textual's own wait looks every 20 ms whether
    the process is idle, and a busy machine keeps it from being so."""

    async def pause(self, delay: float | None = None) -> None:
        """Until every message was taken, and those that it led to."""
        await super().pause(delay or 0)
        while any(one.message_queue_size for one in (self.app, *self._shown())):
            await super().pause(0)

    async def resize_terminal(self, width: int, height: int) -> None:
        """Until the board has the size: Textual collects what comes within 8 ms."""
        await super().resize_terminal(width, height)
        while self.app.is_running and self.app.screen.query_one(Board).size != (width, height):
            await self.pause(0.002)

    def _shown(self) -> Iterable[DOMNode]:
        return self.app.screen.walk_children(with_self=True) if self.app.is_running else ()


class Hands:
    """A clock that is set by hand."""

    sleeps = False

    def __init__(self, now: datetime) -> None:
        self.now = now

    def look(self) -> datetime:
        """The instant it shows."""
        return self.now

    def use(self) -> datetime:
        """The same."""
        return self.now

    def turn(self, **more: float) -> None:
        """Let time pass."""
        self.now += timedelta(**more)


class Terminal:
    """The program and somebody before it."""

    def __init__(self, app: Hoistbook, pilot: Pilot[int], hands: Hands) -> None:
        self.app, self.pilot, self.hands = app, pilot, hands

    async def settle(self) -> None:
        """Wait until every key was taken and all that it began is shown."""
        for turn in range(MOST_TURNS):
            await asyncio.sleep(0)
            if self._at_rest:
                await self.pilot.pause()
                if self._at_rest:
                    return
            elif not self.app.is_running:
                return
            else:
                await self.pilot.pause(min(0.0005 * 2 ** min(turn, 9), 0.02))
        raise AssertionError(f"it never came to rest:\n{self.text}")

    @property
    def _at_rest(self) -> bool:
        """Whether the next key is waited for and nothing is being read."""
        return self.app.line.quiet and not any(
            one.state in (WorkerState.PENDING, WorkerState.RUNNING)
            for one in self.app.workers
            if one.group in ("look", "warm", "reckon", "learn")
        )

    async def keys(self, *keys: str) -> str:
        """Press keys by their names, or type longer texts; return the screen."""
        for key in keys:
            if key in KNOWN:
                self.app.line.put(Pressed(key))
            else:
                for letter in key:
                    self.app.line.put(Pressed(letter, letter))
        await self.settle()
        return self.text

    async def sign_in(self, badge: str) -> str:
        """Type a badge."""
        return await self.keys(badge, "Enter")

    @property
    def screen(self) -> Painted[object]:
        """What is shown."""
        screen = self.app.screen
        assert isinstance(screen, Painted)
        return screen

    @property
    def lines(self) -> list[str]:
        """The screen, line by line."""
        return [as_text(line) for line in self.screen.board.lines]

    @property
    def text(self) -> str:
        """The screen as one text."""
        return "\n".join(line.rstrip() for line in self.lines)

    @property
    def said(self) -> str:
        """What was done or refused last."""
        return self.screen.saying or ""

    async def look_again(self) -> str:
        """The look at the file that comes by itself four times a second."""
        self.app.notice()
        await self.settle()
        return self.text


@asynccontextmanager
async def terminal(
    shop: Shop,
    now: datetime,
    *,
    size: tuple[int, int] = (80, 24),
    first: Where = SIGN_IN,
    badge: str | None = None,
    lift: str | None = None,
    signs: Signs = UNICODE,
    paint: Paint | None = None,
    wall: bool = False,
    sign_off_s: float = 3600.0,
    key_badge: str | None = None,
) -> AsyncGenerator[Terminal]:
    """Open the program on a shop, with time standing still at `now`."""
    hands = Hands(now)
    session = Session(
        shop, hands, "bay-1", paint or Paint(), signs, lift=lift, sign_off_s=sign_off_s, wall=wall,
        key_badge=key_badge,
    )  # fmt: skip
    if badge is not None:
        session.sign_in(door(shop, now).who(badge))
    app = Hoistbook(session, first, alone=True)
    async with app.run_test(size=size):
        made = Terminal(app, Quick(app), hands)
        await made.settle()
        yield made
