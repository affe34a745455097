"""Keys in the order in which they were pressed, for the one conversation that takes them.

Every key of the program goes through here before Textual looks at it. One coroutine takes one key
after another, so that keys typed ahead of a form land in that form and nowhere else.
"""

from __future__ import annotations

import asyncio
from typing import NamedTuple

from textual import events

from tui.parts.canvas import ON_SCREEN

NAMES = {
    "enter": "Enter", "escape": "Esc", "up": "up", "down": "down", "left": "left",
    "right": "right", "pageup": "page up", "pagedown": "page down", "home": "home", "end": "end",
    "backspace": "backspace", "delete": "delete", "insert": "insert", "tab": "tab",
}  # fmt: skip


class Pressed(NamedTuple):
    """One key. `key` is its letter or its name; `text` is what it types, "" for nothing."""

    key: str
    text: str = ""


ENTER, ESC = Pressed("Enter"), Pressed("Esc")
IDLE = Pressed("idle")
"""Nobody pressed a key for a long time."""
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
    is_function = name[0] == "F" and name[1:].isdecimal()
    return Pressed(name) if is_function or name in NAMES.values() else None


class KeyLine:
    """The queue between the keyboard and the conversation."""

    def __init__(self) -> None:
        self._waiting: asyncio.Queue[Pressed] = asyncio.Queue()
        self._wanted = False

    def put(self, key: Pressed) -> None:
        """A key was pressed."""
        self._waiting.put_nowait(key)

    def paste(self, text: str) -> None:
        """Text came in one piece: a paste, or a scanner that types at once."""
        for line, rest in _lines(text):
            self.put(Pressed("text", line))
            if rest:
                self.put(ENTER)

    async def get(self) -> Pressed:
        """Wait for the next key."""
        self._wanted = True
        try:
            return await self._waiting.get()
        finally:
            self._wanted = False

    @property
    def quiet(self) -> bool:
        """Whether every key was taken and what it did is done."""
        return self._wanted and self._waiting.empty()


def _lines(text: str) -> list[tuple[str, bool]]:
    """Lines of a text, and whether a line break follows each."""
    parts = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    return [
        (part, n < len(parts) - 1) for n, part in enumerate(parts) if part or n < len(parts) - 1
    ]
