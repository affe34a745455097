"""What the screens share: one conversation that takes one key after another, and acts.

It runs on the event loop and waits for its own reads, so that the key after an act meets what the
act has changed.
"""

from __future__ import annotations

import asyncio
from abc import abstractmethod
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, TypeVar

from textual import work

from store.rules.codes import Code
from store.trouble import Trouble
from store.views.door import Door, door
from tui.deeds import Deed
from tui.parts.in_keys import in_keys
from tui.parts.keyline import KeyLine, Pressed
from tui.parts.pressed import scan as pressed_scan
from tui.parts.prompt import Prompt
from tui.parts.scan import UNREAD
from tui.parts.showing import Showing
from tui.parts.talk import Back, Scanned, SignedOff, Talk
from tui.parts.where import Where
from tui.session import Session

if TYPE_CHECKING:
    from store.actions.acting import Done

View = TypeVar("View")


class Painted(Showing[View]):
    """A painted screen that somebody talks with."""

    def __init__(self, session: Session, keys: KeyLine) -> None:
        super().__init__(session, keys)
        self.talk = Talk(keys, self._ask, self._heard, self._form_help)

    def about(self, here: Where) -> None:
        """What the screen is about, told before each visit."""

    @abstractmethod
    async def visit(self) -> Where | None:
        """Talk until somebody goes elsewhere; None leaves the program."""

    def _ask(self, prompt: Prompt | None) -> None:
        self.prompt = prompt
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
        """Run a form; Esc leaves it, a refusal is said, a scan is for the screen to take.

        What was typed in it stands there when it is asked again, unless it was done.
        """
        self.talk.begin()
        if self.said.startswith("!"):
            self.said = ""  # what was refused before is no answer to what is asked now
        try:
            found = form()
            if asyncio.iscoroutine(found):
                await found
        except Back:
            self.talk.leave()
            self.repaint()
        except Scanned as scan:
            self.talk.leave()
            self._keys.again(pressed_scan(scan.code))
        except SignedOff:
            raise
        except Trouble as trouble:
            self.talk.leave()
            self.say_no(str(trouble))

    async def act(self, deed: Deed, *, badge: str | None = None, name: str = "") -> Done:
        """Do it as who is signed in, or as somebody who stands by; ask for the PIN where it is due.

        What is refused for a kit that lacks is done after all where a foreman gives their word.

        Raises:
            Back: the PIN was not typed.
            Trouble: it was refused; nothing was changed.
        """
        try:
            return await self._deed_done(deed, badge, name)
        except Trouble as refused:
            from store.actions.hires.kit_gate import KitLacks

            if not isinstance(refused, KitLacks):
                raise
            from tui.tools.letting import foremans_word

            await foremans_word(self, refused.job, refused.phase, refused)
            return await self._deed_done(deed, badge, name)

    async def _deed_done(self, deed: Deed, badge: str | None, name: str) -> Done:
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
                except Trouble:
                    if badge is None and session.shop.proven:
                        session.keep_pin(pin)  # it was right; something else was refused
                    raise
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
