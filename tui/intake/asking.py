"""The fields of the intake: typed one after another where they say nothing yet."""

from __future__ import annotations

import asyncio
from dataclasses import replace

from store.trouble import Refused
from tui import keys
from tui.intake.fields import AND, begun, pressed, taken
from tui.intake.state import MATCH, FieldName, Form, Typing
from tui.intake.working import Working
from tui.parts.everywhere import everywhere
from tui.parts.keyline import ENTER, Pressed
from tui.parts.talk import Back

IN_ORDER: tuple[FieldName, ...] = ("vehicle", "family", "work")


class Asking(Working):
    """A form whose fields are typed."""

    drafts: dict[FieldName, str]
    kept: dict[str, tuple[Form, dict[FieldName, str]]]
    """What was typed for other jobs, by their numbers; "" is a new one."""
    leaves = False
    """Esc was pressed where there is nothing else to go back to."""
    _whose: str | None = None

    def new_hands(self) -> None:
        """What somebody else left here is not for who is here now."""
        badge = self.session.who.badge if self.session.who else None
        if badge != self._whose and self._whose is not None:
            self.form, self.drafts, self.kept = Form(), {}, {}
        self._whose = badge or self._whose
        self.drafts = getattr(self, "drafts", {})
        self.leaves = False

    async def in_order(self) -> None:
        """The fields that say nothing yet, one after another; Esc leaves the screen.

        Raises:
            Back: Esc.
        """
        for name in IN_ORDER:
            if self._says_nothing(name):
                try:
                    await self.type_in(name)
                except Back:
                    self.leaves = True
                    raise

    def _says_nothing(self, name: FieldName) -> bool:
        form = self.form
        match name:
            case "vehicle":
                return not form.vehicle
            case "family":
                return not form.family and not form.small
            case _:
                return not form.work and not form.small

    async def type_in(self, name: FieldName) -> None:
        """Have a field typed.

        Raises:
            Back: Esc; what was typed is kept.
        """
        assert self.shown is not None
        said = {"vehicle": self.form.vehicle, "told": self.form.told}.get(name, "")
        self._write(begun(self.shown, self.form, name, self.drafts.pop(name, said)))
        try:
            while self.typing is not None:
                await self._typed(self.typing, await self.talk.key())
                await asyncio.sleep(0)  # letters typed at once keep nobody else waiting
        except BaseException:
            if self.typing is not None and self.typing.field.text:
                self.drafts[name] = self.typing.field.text
            raise
        finally:
            self.typing = None
            self.repaint()

    def _write(self, typing: Typing | None) -> None:
        self.typing = typing
        self.repaint()

    async def _typed(self, typing: Typing, key: Pressed) -> None:
        assert self.shown is not None
        here = self.shown
        meant = keys.meant(keys.INTAKE, key.key)
        if key.key == "Esc":
            raise Back
        if key.key.startswith(MATCH):
            typing = replace(typing, at=int(key.key.removeprefix(MATCH)))
            key = ENTER
        if meant in keys.COMMON and not key.text:
            await everywhere(self, meant, keys.INTAKE)
        elif key.key == "Enter":
            if self._take(typing):
                self._write(None)
        elif typing.name == "work" and key.text == AND:
            if typing.field.text.strip() and self._take(typing):
                self._write(begun(here, self.form, "work"))
        elif typing.name == "work" and key.key == "backspace" and not typing.field.text:
            last = self.form.work[-1:]
            self.change(self.form.without(last[0]) if last else replace(self.form, small=""))
            self._write(begun(here, self.form, "work"))
        else:
            self.said = ""
            self._write(pressed(here, self.form, typing, key))

    def _take(self, typing: Typing) -> bool:
        """Whether what the field says can be taken; it is said why not."""
        assert self.shown is not None
        try:
            self.change(taken(self.shown, self.form, typing))
        except Refused as refused:
            self.say_no(str(refused))
            return False
        return True
