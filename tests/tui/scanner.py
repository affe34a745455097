"""A scanner before a terminal under test: it types what is printed on a sheet."""

from __future__ import annotations

from store.rules.codes import MARK, Code, written
from tests.tui.driver import Terminal
from tui.parts.keyline import ENTER, Pressed
from tui.parts.scan import SAID_AFTER_S

TAB = Pressed("tab")


def code(kind: str, name: str) -> str:
    """What a scanner types for a code, its Enter included."""
    kinds = {one: one for one in ("badge", "job", "phase", "step", "kit", "lift")}
    return f"{MARK}{written(Code(kinds[kind], name))}\r"  # type: ignore[arg-type]  # one of them


def send(at: Terminal, text: str) -> None:
    """Let keys arrive without waiting for what they do."""
    for letter in text:
        key = TAB if letter == MARK else ENTER if letter == "\r" else Pressed(letter, letter)
        at.app.line.put(key)


async def scan(at: Terminal, *codes: str) -> str:
    """Scan codes like `step 1001.2.4`, one right after the other; return the screen as words."""
    for one in codes:
        kind, name = one.split()
        send(at, code(kind, name))
    await at.settle()
    return " ".join(at.text.split())


async def stall(at: Terminal) -> str:
    """The line is silent for as long as makes the terminal say something."""
    assert SAID_AFTER_S > 0
    at.app.line.silent()
    await at.settle()
    return " ".join(at.text.split())
