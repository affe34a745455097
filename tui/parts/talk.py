"""Questions and answers, one key after another.

A form is plain code here: it asks, waits for the answer, asks the next. While it waits no key can
reach anything else. Esc leaves it by raising `Back`; a long silence leaves everything.
"""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Sequence
from dataclasses import replace
from typing import TypeVar

from store.rules.codes import Code
from store.trouble import Trouble
from tui.parts.keyline import ENTER, IDLE, KeyLine, Pressed
from tui.parts.lines import Key
from tui.parts.pressed import scan as scan_key
from tui.parts.prompt import Field, Option, Prompt
from tui.parts.scan import UNREAD, split_off

T = TypeVar("T")
LONGEST = 200
"""Letters that a field takes; what a scanner gone mad types beyond is dropped."""
PICK_KEYS = (Key("Esc", "back"),)
PICK_HOT_KEYS = (Key("Enter", "the filled one"), Key("Esc", "back"))
FIELD_KEYS = (Key("Enter", "goes on"), Key("Esc", "back"))
MENDED = {"left": -1, "right": 1}
EDITING = ("backspace", "delete", "left", "right", "home", "end")
TYPING = "! Type the answer here, then Enter. Esc goes back and keeps what was typed."


class Back(Exception):
    """Esc: the form is left, nothing was done."""


class SignedOff(Exception):
    """Nobody pressed a key for as long as the shop allows."""


class Scanned(Exception):
    """A code was scanned: what is open is left, and what was typed is there on the next visit."""

    def __init__(self, code: Code) -> None:
        self.code = code
        super().__init__(f"{code.kind} {code.name}")


class Talk:
    """The conversation at one terminal.

    Args:
        keys: where keys come from.
        show: shows a prompt, or none.
        heard: is told every key before it is answered.
        help: shows what a question takes.
    """

    def __init__(
        self,
        keys: KeyLine,
        show: Callable[[Prompt | None], None],
        heard: Callable[[Pressed], None] | None = None,
        help: Callable[[], Awaitable[None]] | None = None,
    ) -> None:
        self._keys = keys
        self._show = show
        self._heard = heard
        self._help = help
        self._drafts: dict[tuple[str, str], str] = {}
        self._answers: dict[tuple[str, str], str] = {}

    async def key(self) -> Pressed:
        """The next key.

        Raises:
            SignedOff: nobody is there.
            Scanned: it was a code.
        """
        while True:
            found = await self._keys.get()
            if found == IDLE:
                self._drafts.clear()
                raise SignedOff
            if self._heard is not None:
                self._heard(found)
            if found.code is not None:
                raise Scanned(found.code)
            if found.key not in UNREAD:
                return found

    def begin(self) -> None:
        """A form begins."""
        self._answers.clear()

    def leave(self) -> None:
        """A scan left the form: what was answered in it stands there when it is asked again."""
        self._drafts.update(self._answers)
        self._answers.clear()

    def forget(self) -> None:
        """Somebody else is here: what was typed and left is not theirs."""
        self._drafts.clear()

    def keep(self, name: str, text: str) -> None:
        """Keep what was typed on a page that is left; "" forgets it."""
        self._drafts[name, ""] = text

    def kept(self, name: str) -> str:
        """What was kept under a name, once."""
        return self._drafts.pop((name, ""), "")

    async def _helped(self, key: Pressed) -> bool:
        """Show the help where it was asked for; the question is asked again after it."""
        if key.key != "F1" or self._help is None:
            return False
        self._show(None)
        try:
            await self._help()
        except Scanned as scan:
            self._keys.again(scan_key(scan.code))
        return True

    async def pick(
        self, title: str, options: Sequence[Option], *, facts: Sequence[str] = ()
    ) -> str:
        """Have one of the options chosen by its key; Enter takes the hot one.

        Raises:
            Back: Esc, or `0` where that is no option.
        """
        hot = next((option.key for option in options if option.hot), None)
        prompt = Prompt(
            title, tuple(facts), tuple(options), keys=PICK_HOT_KEYS if hot else PICK_KEYS
        )
        wrong = ""
        try:
            while True:
                self._show(replace(prompt, wrong=wrong))
                pressed = await self.key()
                found = pressed.key.lower() if len(pressed.key) == 1 else pressed.key
                if found == "Enter" and hot is not None:
                    return hot
                if any(option.key == found for option in options):
                    return found
                if found in ("Esc", "0"):
                    raise Back
                wrong = "" if await self._helped(pressed) else none_of(options, hot)
        finally:
            self._show(None)

    async def type(
        self,
        title: str,
        label: str,
        read: Callable[[str], T],
        *,
        facts: Sequence[str] = (),
        text: str = "",
        secret: bool = False,
        scanned: bool = False,
    ) -> T:
        """Have a line typed; what cannot be read is explained and asked again.

        Args:
            read: makes the answer of the text, or raises Trouble with what is wrong.
            text: stands there at first.
            secret: it is not shown.
            scanned: it is a badge's name; a badge that is scanned answers, and what was refused
                goes away, so that the next scan stands alone.

        Raises:
            Back: Esc.
            Scanned: another code, or one in letters at the end of the line.
        """
        kept = not (secret or scanned)
        text = self._drafts.pop((title, label), text) if kept else text
        field, wrong = Field(label, text, len(text), secret), ""
        try:
            while True:
                self._show(Prompt(title, tuple(facts), field=field, keys=FIELD_KEYS, wrong=wrong))
                try:
                    found = await self._next(field)
                except Scanned as scan:
                    if not scanned or scan.code.kind != "badge":
                        self._keep(kept, title, label, _without(field)[0])
                        raise
                    found, field = ENTER, Field(label, scan.code.name)
                if found.key == "Esc":
                    self._keep(kept, title, label, field)
                    raise Back
                if found.key != "Enter":
                    before, field = field, edited(field, found)
                    known = field != before or found.text or found.key in EDITING
                    wrong = "" if known or await self._helped(found) else TYPING
                    continue
                try:
                    answer = read(field.text.strip())
                    if kept:
                        self._answers[title, label] = field.text
                    return answer
                except Trouble as trouble:
                    wrong = f"! {trouble}"
                    if secret or scanned:
                        field = Field(label, secret=secret)
        finally:
            self._show(None)

    async def _next(self, field: Field) -> Pressed:
        """The next key; Enter after a code in letters is that code."""
        found = await self.key()
        code = _without(field)[1] if found.key == "Enter" and not field.secret else None
        if code is not None:
            raise Scanned(code)
        return found

    def _keep(self, kept: bool, title: str, label: str, field: Field) -> None:
        if kept and field.text:
            self._drafts[title, label] = field.text

    async def sure(self, title: str, verb: str, keep: str, *, facts: Sequence[str] = ()) -> None:
        """Ask once, for what an undo cannot mend: Enter does it.

        Raises:
            Back: Esc.
        """
        prompt = Prompt(title, tuple(facts), keys=(Key("Enter", verb), Key("Esc", keep)))
        wrong = ""
        try:
            while True:
                self._show(replace(prompt, wrong=wrong))
                found = await self.key()
                if found.key == "Enter":
                    return
                if found.key == "Esc":
                    raise Back
                wrong = "" if await self._helped(found) else f"! Enter: {verb}.  Esc: {keep}."
        finally:
            self._show(None)


def _without(field: Field) -> tuple[Field, Code | None]:
    """The field without a code that its text ends with, and that code."""
    before, code = split_off(field.text)
    return replace(field, text=before, at=len(before)), code


def none_of(options: Sequence[Option], hot: str | None) -> str:
    """What a list of answers takes, for a key that is none of them."""
    keys = [option.key for option in options if option.key != "Enter"]
    listed = f"{keys[0]} to {keys[-1]}" if len(keys) > 2 else " or ".join(keys)
    taken = ", ".join([*([listed] if keys else []), *(["Enter"] if hot else []), "Esc"])
    return f"! Here the keys are {taken}."


def edited(field: Field, key: Pressed) -> Field:
    """The field after a key: letters land where one stands, arrows and Home and End move there."""
    text, at = field.text, field.at
    if key.text:
        typed = "".join(letter for letter in key.text if letter.isprintable())
        typed = typed[: max(0, LONGEST - len(text))]
        return Field(field.label, text[:at] + typed + text[at:], at + len(typed), field.secret)
    if key.key == "backspace" and at:
        return Field(field.label, text[: at - 1] + text[at:], at - 1, field.secret)
    if key.key == "delete":
        return Field(field.label, text[:at] + text[at + 1 :], at, field.secret)
    if key.key in ("left", "right"):
        at = min(max(0, at + MENDED[key.key]), len(text))
    elif key.key in ("home", "end"):
        at = 0 if key.key == "home" else len(text)
    return Field(field.label, text, at, field.secret)
