"""What the screens share: read in a thread, paint into one board, talk one key after another.

A thread never touches the screen. It posts what it read with a number; an answer older than what
is shown already is dropped. The conversation runs on the event loop and waits for its own reads,
so that the key after an act meets what the act has changed.
"""

from __future__ import annotations

import asyncio
from abc import abstractmethod
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from functools import partial
from typing import TYPE_CHECKING, Generic, TypeVar, cast

from textual import events, on, work
from textual.app import ComposeResult
from textual.message import Message
from textual.screen import Screen

from store.rules.codes import Code
from store.trouble import Trouble
from store.views.door import Door, door
from tui.colours import Ink
from tui.deeds import Deed
from tui.parts.board import Board
from tui.parts.canvas import Canvas
from tui.parts.in_keys import in_keys
from tui.parts.keyline import KeyLine, Pressed, by_mouse
from tui.parts.lines import LEAST, too_small
from tui.parts.pressed import scan as pressed_scan
from tui.parts.prompt import Prompt, paint_prompt
from tui.parts.said import paint_long_said, said_rows
from tui.parts.scan import UNREAD
from tui.parts.talk import Back, Scanned, SignedOff, Talk
from tui.parts.wanted import still_wanted
from tui.parts.where import Where
from tui.session import Session
from tui.words import cut, time, zone_of

if TYPE_CHECKING:
    from store.actions.acting import Done

View = TypeVar("View")
T = TypeVar("T")


class Painted(Screen[None], Generic[View]):
    """A screen that is one painted board."""

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
        self.talk = Talk(keys, self._ask, self._heard, self._form_help)
        self.shown: View | None = None
        self.at: datetime | None = None
        self.prompt: Prompt | None = None
        self.said = ""
        self._remark = self._remarked_on = ""
        self._last_key = ""
        self.stale: str | None = None
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

    def about(self, here: Where) -> None:
        """What the screen is about, told before each visit."""

    @abstractmethod
    async def visit(self) -> Where | None:
        """Talk until somebody goes elsewhere; None leaves the program."""

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

    def _ask(self, prompt: Prompt | None) -> None:
        self.prompt = prompt
        self.repaint()

    def remark(self, text: str) -> None:
        """Say something of the key just pressed; what was said before is back at the next key."""
        self._remark, self._remarked_on = text, self._last_key
        self.repaint()

    def _heard(self, key: Pressed) -> None:
        """A key came: what was remarked of another one goes."""
        self._last_key = key.key
        if self._remark and key.key != self._remarked_on:
            self._remark = ""
            self.repaint()
        if key.key in UNREAD:
            self.remark(UNREAD[key.key])

    async def _form_help(self) -> None:
        from tui import keys
        from tui.parts.help import show_help

        await show_help(self, keys.FORM, "questions")

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

    # -- talking

    def press(self, key: Pressed) -> None:
        """A key that the mouse pressed."""
        self._keys.put(key)

    async def next_key(self) -> Pressed:
        """The next key of the screen itself; what is scanned meanwhile is taken.

        Raises:
            Elsewhere: what was scanned belongs on another screen.
        """
        while True:
            try:
                return await self.talk.key()
            except Scanned as scan:
                code = scan.code
            await self.doing(partial(self.scanned, code))

    async def scanned(self, code: Code) -> None:
        """Do what a code means here, wherever it was scanned.

        Raises:
            Elsewhere: it belongs on another screen.
            Back: a form was left.
            Trouble: refused.
        """
        from tui.parts.scanning import take

        await take(self, code)

    async def doing(self, form: Callable[[], object]) -> None:
        """Run a form; Esc leaves it, a refusal is said, a scan is for the screen to take."""
        self.talk.begin()
        if self.said.startswith("!"):
            self.said = ""  # what was refused before is no answer to what is asked now
        try:
            found = form()
            if asyncio.iscoroutine(found):
                await found
        except Back:
            self.repaint()
        except Scanned as scan:
            self.talk.leave()
            self._keys.again(pressed_scan(scan.code))
        except SignedOff:
            raise
        except Trouble as trouble:
            self.say_no(str(trouble))

    async def act(self, deed: Deed, *, badge: str | None = None, name: str = "") -> Done:
        """Do it as who is signed in, or as somebody who stands by; ask for the PIN where it is due.

        Raises:
            Back: the PIN was not typed.
            Trouble: it was refused; nothing was changed.
        """
        from store.actions.trouble import PinNeeded, WrongPin

        session = self.session
        by = await asyncio.to_thread(session.by, badge)
        whose = name or (session.who.name if session.who else "")
        try:
            done = await asyncio.to_thread(deed, session.shop, by)
        except PinNeeded:
            wrong = ""
            while True:
                try:
                    pin = await self.talk.type(
                        f"This takes {whose}'s PIN.", "PIN", digits, secret=True,
                        facts=(wrong,) if wrong else (),
                    )  # fmt: skip
                except Scanned as scan:
                    if scan.code == Code("badge", by.badge):
                        continue  # whose PIN it is held the badge there twice
                    raise
                try:
                    with_pin = replace(by, pin=pin)
                    done = await asyncio.to_thread(deed, session.shop, with_pin)
                except WrongPin as refused:
                    wrong = str(refused)
                    continue
                if badge is None:
                    session.keep_pin(pin)
                break
        if badge is not None:
            session.shop.proven.clear()
        if done.to_learn:
            self._learn()
        await self.renew()
        way_back = self.way_back() if done.can_undo else ""
        self.say(f"{self._time(by.now)}  {in_keys(done.says)}{way_back}")
        return done

    @work(thread=True, group="learn")
    def _learn(self) -> None:
        """Leave what moves a forecast to a learner of its own; what it writes is noticed."""
        from tui.learner import begin

        begin(self.session.shop.path)

    async def guests(self, title: str, facts: tuple[str, ...] = ()) -> tuple[str, str]:
        """Ask for the badge of somebody who stands by; badge and name.

        Raises:
            Back: Esc.
        """
        known = await self.at_door()
        who = await self.talk.type(
            title, "badge", known.who, facts=facts or ("Scan or type the badge.",), scanned=True
        )
        return who.badge, who.name

    async def at_door(self) -> Door:
        """Who may come in today."""
        return await asyncio.to_thread(lambda: door(self.session.shop, self.session.now()))


def digits(text: str) -> str:
    """A PIN as it was typed.

    Raises:
        Refused: it is more than digits.
    """
    from store.trouble import Refused

    if not text.isdecimal():
        raise Refused("A PIN is digits only. Type it again, or Esc goes back.")
    return text
