"""Signing in: the badge is typed or scanned, and Enter ends it."""

from __future__ import annotations

from datetime import datetime
from functools import partial

from store.rules.codes import Code
from store.trouble import Refused
from store.views.door import Door, door
from tui import keys
from tui.parts.canvas import Canvas
from tui.parts.everywhere import everywhere, no_key
from tui.parts.painted import Painted
from tui.parts.prompt import Field
from tui.parts.scan import split_off
from tui.parts.talk import edited
from tui.parts.where import Elsewhere, Where, home
from tui.signin.paint import SignInState, signin_canvas


class SignInScreen(Painted[Door]):
    """Nobody is signed in."""

    CSS_PATH = "screen.tcss"

    typed = ""

    def look(self, now: datetime) -> Door:
        """Who may come in."""
        return door(self.session.shop, now)

    def took(self, view: Door) -> None:
        """The shop's zone, and how long it waits for a key."""
        self.zone = view.zone
        self.session.sign_off_s = view.sign_off_s

    def picture(self, view: Door, size: tuple[int, int]) -> Canvas:
        """Clock and field."""
        row = keys.last_row(keys.SIGN_IN)
        state = SignInState(
            self.typed, self.saying or "", self.session.lift, row, self.stale,
            self.session.key_badge,
        )  # fmt: skip
        return signin_canvas(view, size, self.session.signs, state)

    async def visit(self) -> Where | None:
        """Take a badge."""
        self.typed, self.said = "", self.session.said
        self.session.said = ""
        await self.renew()
        while True:
            key = await self.next_key()
            if key.text:
                field = edited(Field("badge", self.typed, len(self.typed)), key)
                self.typed, self.said = field.text[:40], ""
            elif key.key == "backspace":
                self.typed = self.typed[:-1]
            match keys.meant(keys.SIGN_IN, key.key) if not key.text else None:
                case "sign-in":
                    await self.doing(self._sign_in)
                case "leave":
                    if not self.typed:
                        return None
                    self.typed = ""
                case None:
                    if not key.text and key.key != "backspace":
                        no_key(self, key.key, keys.SIGN_IN)
                case common:
                    await self.doing(partial(everywhere, self, common, keys.SIGN_IN))
            self.repaint()

    async def scanned(self, code: Code) -> None:
        """A badge signs in, whatever was typed before it.

        Raises:
            Elsewhere: to the home of who signed in.
            Refused: it is no badge, nobody's, or not the one of the line.
        """
        self.typed = ""
        if code.kind != "badge":
            raise Refused(f"Scan your badge first, then the {code.kind} {code.name} again.")
        await self.renew()
        if self.shown is not None:
            who = self.shown.who(code.name)
            self.session.sign_in(who)
            raise Elsewhere(home(who.role))

    async def _sign_in(self) -> None:
        typed, self.typed = self.typed.strip() or self.session.key_badge, ""
        if typed:
            code = split_off(typed)[1]
            await self.scanned(code or Code("badge", typed))
