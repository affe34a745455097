"""What the screens show: read in a thread, painted into one board, and what is said on it.

A thread never touches the screen. It posts what it read with a number; an answer older than what
is shown already is dropped.
"""

from __future__ import annotations

import asyncio
from abc import abstractmethod
from collections.abc import Callable
from datetime import datetime
from typing import Generic, TypeVar, cast

from textual import events, on, work
from textual.app import ComposeResult
from textual.message import Message
from textual.screen import Screen

from store.trouble import Trouble
from tui.colours import Ink
from tui.parts.board import Board
from tui.parts.canvas import Canvas
from tui.parts.in_keys import in_keys
from tui.parts.keyline import KeyLine, Pressed, by_mouse
from tui.parts.lines import LEAST, too_small
from tui.parts.prompt import Prompt, paint_prompt
from tui.parts.said import paint_long_said, said_rows
from tui.parts.wanted import still_wanted
from tui.session import Session
from tui.words import cut, time, zone_of

View = TypeVar("View")


class Showing(Screen[None], Generic[View]):
    """A screen that is one painted board, a line of words, and a mouse over it."""

    wheel = ("up", "down")
    """Keys that the mouse's wheel presses."""

    class Fresh(Message):
        """The shop was read."""

        def __init__(self, ticket: int, view: object, at: datetime) -> None:
            super().__init__()
            self.ticket, self.view, self.at = ticket, view, at

    class Unread(Message):
        """The shop could not be read."""

        def __init__(self, ticket: int, says: str) -> None:
            super().__init__()
            self.ticket, self.says = ticket, says

    class Stands(Message):
        """The first picture is on its way to the glass."""

    def __init__(self, session: Session, keys: KeyLine) -> None:
        super().__init__()
        self.session = session
        self._keys = keys
        self.board = Board()
        self.shown: View | None = None
        self.at: datetime | None = None
        self.prompt: Prompt | None = None
        self.said = ""
        self._remark = self._remarked_on = ""
        self._last_key = ""
        self.stale: str | None = None
        self._lost = ""
        self._begun = self._taken = 0
        self._stands = False
        self._page: Callable[[tuple[int, int]], Canvas] | None = None
        self._key_at: Callable[[int, int], str | None] = lambda x, y: None
        self.zone = "UTC"

    @abstractmethod
    def look(self, now: datetime) -> View:
        """Read what this screen shows; called in a thread."""

    @abstractmethod
    def picture(self, view: View, size: tuple[int, int]) -> Canvas:
        """Paint it."""

    def compose(self) -> ComposeResult:
        """One board."""
        yield self.board

    # -- reading

    @work(thread=True, exclusive=True, group="look")
    def read(self) -> None:
        """Read again in a thread, because something changed or a minute passed."""
        answer = self._looked()
        if still_wanted():
            self.post_message(answer)

    def _looked(self) -> Fresh | Unread:
        self._begun += 1
        ticket = self._begun
        try:
            now = self.session.now()
            return self.Fresh(ticket, self.look(now), now)
        except Trouble as trouble:
            return self.Unread(ticket, str(trouble))

    async def renew(self) -> None:
        """Read again, and go on only when it is shown."""
        answer = await asyncio.to_thread(self._looked)
        if isinstance(answer, self.Fresh):
            self.take(answer)
        else:
            self.unread(answer)

    @on(Fresh)
    def take(self, message: Fresh) -> None:
        """Show what was read, unless something newer is shown."""
        if message.ticket <= self._taken:
            return
        self._taken = message.ticket
        if self.stale is not None and self.said == self._lost:
            self.said = "The shop file can be read again."
        self.stale = None
        self.shown, self.at = cast("View", message.view), message.at
        self.took(self.shown)
        self.repaint()
        if not self._stands:
            self._stands = True
            self.call_after_refresh(self.post_message, self.Stands())

    def took(self, view: View) -> None:
        """Something newer is shown."""

    @on(Unread)
    def unread(self, message: Unread) -> None:
        """Say so; what was shown stays, with the time at which it was true."""
        if message.ticket <= self._taken:
            return
        self.lost(message.says)

    def lost(self, says: str) -> None:
        """The file is gone: what is shown stays, with the time at which it was true."""
        if self.stale is None:
            self.stale = self._time(self.at) if self.at else "never"
            self.say_no(says)
            self._lost = self.said

    def _time(self, at: datetime) -> str:
        return time(at, zone_of(self.zone))

    # -- painting

    @on(Board.Resized)
    def repaint(self) -> None:
        """Paint anew; cells that stay the same are not sent."""
        width, height = self.board.size
        if width < 1 or height < 1 or not self.board.is_attached:
            return
        canvas = self._canvas((width, height))
        self._key_at = canvas.key_at
        self.board.show(canvas.lines(self.session.paint))

    @property
    def board_size(self) -> tuple[int, int]:
        """Columns and rows to reckon with: never fewer than a screen is painted in."""
        width, height = self.board.size
        return max(width, LEAST[0]), max(height, LEAST[1])

    @property
    def page(self) -> Callable[[tuple[int, int]], Canvas] | None:
        """What is laid over everything now."""
        return self._page

    def job_at_hand(self) -> str | None:
        """The job that one is at, for what is done on its card."""
        return None

    def cover(self, paint: Callable[[tuple[int, int]], Canvas] | None) -> None:
        """Lay a page over everything, as long as somebody looks at it."""
        self._page = paint
        self.repaint()

    def _canvas(self, size: tuple[int, int]) -> Canvas:
        if size[0] < LEAST[0] or size[1] < LEAST[1]:
            canvas = Canvas(*size)
            too_small(canvas)
            return canvas
        if self._page is not None:
            canvas = self._page(size)
            self._overlay(canvas)
            return canvas
        if self.shown is None:
            canvas = Canvas(*size)
            if self.said and size[1] > 2:
                canvas.put(1, size[1] - 2, cut(self.said, size[0] - 2), Ink("text"))
                paint_long_said(canvas, self.said, self.session.signs)
            return canvas
        canvas = self.picture(self.shown, size)
        self._overlay(canvas)
        return canvas

    def _overlay(self, canvas: Canvas) -> None:
        prompt = self.prompt
        said = self.saying or ""
        if prompt is not None:
            foot = max(3, 1 + said_rows(said, canvas.width))
            paint_prompt(canvas, prompt, self.session.signs, foot=foot)
        if said and not self.session.wall:
            paint_long_said(canvas, said, self.session.signs)

    @property
    def saying(self) -> str | None:
        """What stands at the fixed place, None for nothing of our own."""
        wrong = self.prompt.wrong if self.prompt is not None else ""
        return wrong or self._remark or self.said or None

    def remark(self, text: str) -> None:
        """Say something of the key just pressed; what was said before is back at the next key."""
        self._remark, self._remarked_on = text, self._last_key
        self.repaint()

    def say(self, text: str) -> None:
        """Say what was done; it stays until the next entry."""
        self.said, self._remark = text, ""
        self.repaint()

    def say_no(self, text: str) -> None:
        """Say what was refused."""
        self.say(f"! {in_keys(text)}")

    def say_briefly(self, text: str) -> None:
        """Say what was done just now in one row, however long its words are."""
        way_back = self.way_back()
        room = self.board_size[0] - 2 - 7 - len(way_back)
        more = self.session.signs.more
        self.say(f"{self._time(self.at or self.session.now())}  {cut(text, room, more)}{way_back}")

    def way_back(self) -> str:
        """What stands after something that was done: how to take it back."""
        return ""

    # -- the mouse

    def on_click(self, event: events.Click) -> None:
        """A click on a key of the last row, on an answer or on a thing presses it."""
        name = self._key_at(event.x, event.y)
        key = by_mouse(name) if name and not self.session.wall else None
        if key is not None:
            self.press(key)

    def on_mouse_scroll_down(self) -> None:
        """The wheel moves where the arrows or the page keys would."""
        self._wheel(1)

    def on_mouse_scroll_up(self) -> None:
        """The same the other way."""
        self._wheel(0)

    def _wheel(self, way: int) -> None:
        if self.prompt is None and not self.session.wall:
            self.press(Pressed(self.wheel[way]))

    def press(self, key: Pressed) -> None:
        """A key that the mouse pressed."""
        self._keys.put(key)
