"""Keys in the order in which they were pressed, for the one conversation that takes them.

Every key of the program goes through here before Textual looks at it. One coroutine takes one key
after another, so that keys typed ahead of a form land in that form and nowhere else.
"""

from __future__ import annotations

import asyncio

from textual import events

from tui.parts.canvas import ON_SCREEN
from tui.parts.pressed import ENTER, ESC, IDLE, Pressed, scan
from tui.parts.scan import Catcher, pasted

__all__ = ["ENTER", "ESC", "IDLE", "NAMES", "KeyLine", "Pressed", "by_mouse", "pressed"]

NAMES = {
    "enter": "Enter", "escape": "Esc", "up": "up", "down": "down", "left": "left",
    "right": "right", "pageup": "page up", "pagedown": "page down", "home": "home", "end": "end",
    "backspace": "backspace", "delete": "delete", "insert": "insert", "tab": "tab",
}  # fmt: skip
ANY = ("any key", "any other key")


def pressed(event: events.Key) -> Pressed:
    """A key of Textual in our words."""
    if event.is_printable and event.character is not None:
        return Pressed(event.character, event.character)
    if event.key in NAMES:
        return Pressed(NAMES[event.key])
    return Pressed(event.key.upper() if event.key.startswith("f") else event.key)


def by_mouse(name: str) -> Pressed | None:
    """The key that a press of its name on the screen stands for; None where it names no one key."""
    if name.startswith(ON_SCREEN):
        return Pressed(name)
    if len(name) == 1:
        return Pressed(name, name)
    if name in ANY:
        return ESC
    if name == "Space":
        return Pressed(" ", " ")
    is_function = name[0] == "F" and name[1:].isdecimal()
    return Pressed(name) if is_function or name in NAMES.values() else None


class KeyLine:
    """The queue between the keyboard and the conversation."""

    def __init__(self) -> None:
        self._waiting: asyncio.Queue[Pressed] = asyncio.Queue()
        self._first: Pressed | None = None
        self._wanted = False
        self._catcher = Catcher()
        self._silence: asyncio.TimerHandle | None = None

    def put(self, key: Pressed) -> None:
        """A key was pressed, or a scanner types one of a code's."""
        self._pass(self._catcher.take(key))

    def silent(self) -> None:
        """Nothing came after the beginning of a code."""
        self._pass(self._catcher.silent())

    def _pass(self, keys: list[Pressed]) -> None:
        for one in keys:
            self._waiting.put_nowait(one)
        if self._silence is not None:
            self._silence.cancel()
            self._silence = None
        patience = self._catcher.patience
        if patience is not None:
            self._silence = asyncio.get_running_loop().call_later(patience, self.silent)

    def paste(self, text: str) -> None:
        """Text came in one piece: a paste, or a scanner that types at once."""
        for line, rest in _lines(text):
            before, code = pasted(line)
            if before:
                self.put(Pressed("text", before))
            if code is not None:
                self.put(scan(code))
            elif rest:
                self.put(ENTER)

    def again(self, key: Pressed) -> None:
        """Lay a key before all others: whoever took it has left what was open."""
        self._first = key

    async def get(self) -> Pressed:
        """Wait for the next key."""
        self._wanted = True
        try:
            if self._first is not None:
                found, self._first = self._first, None
                return found
            return await self._waiting.get()
        finally:
            self._wanted = False

    @property
    def quiet(self) -> bool:
        """Whether every key was taken and what it did is done."""
        return self._wanted and self._first is None and self._waiting.empty()


def _lines(text: str) -> list[tuple[str, bool]]:
    """Lines of a text, and whether a line break follows each."""
    parts = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    return [
        (part, n < len(parts) - 1) for n, part in enumerate(parts) if part or n < len(parts) - 1
    ]
