"""A key in our words, whoever pressed it: hands, a mouse, or a scanner with a whole code."""

from __future__ import annotations

from typing import NamedTuple

from store.rules.codes import Code


class Pressed(NamedTuple):
    """One key. `key` is its letter or its name; `text` is what it types, "" for nothing.

    A code that was scanned is one key too: then `code` is what it names.
    """

    key: str
    text: str = ""
    code: Code | None = None


ENTER, ESC = Pressed("Enter"), Pressed("Esc")
IDLE = Pressed("idle")
"""Nobody pressed a key for a long time."""


def scan(code: Code) -> Pressed:
    """A whole code, as the one key that it is."""
    return Pressed("scan", "", code)
