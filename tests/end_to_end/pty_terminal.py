"""The real program on a real terminal line: keys go in, the glass is what one would see."""

from __future__ import annotations

import os
import select
import sys
from collections.abc import Callable, Generator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path
from time import monotonic

import pexpect  # type: ignore[import-untyped]  # it has no types of its own
import pyte

ROOT = Path(__file__).parents[2]
PATIENCE_S = 60.0
"""How long a busy machine may take; nothing waits that long unless something is wrong."""
KEYS = {
    "Enter": "\r", "Esc": "\x1b", "up": "\x1b[A", "down": "\x1b[B", "right": "\x1b[C",
    "left": "\x1b[D", "backspace": "\x7f", "F1": "\x1bOP", "F2": "\x1bOQ", "F3": "\x1bOR",
    "F4": "\x1bOS", "F5": "\x1b[15~", "F9": "\x1b[20~", "F12": "\x1b[24~",
}  # fmt: skip
ESC_S = 0.15
"""A lone Esc is told from the start of a key by a pause; nothing may follow at once."""


class PtyTerminal:
    """A process, its line, and what is on the glass."""

    def __init__(self, child: pexpect.spawn[bytes], size: tuple[int, int]) -> None:
        self.child = child
        self.everything = b""
        self._screen = pyte.Screen(*size)
        self._stream = pyte.ByteStream(self._screen)

    def read(self, patience_s: float = 0.02) -> bool:
        """Take what the program sent; False once it has closed the line."""
        try:
            found = self.child.read_nonblocking(65536, timeout=patience_s)
        except pexpect.TIMEOUT:
            return True
        except pexpect.EOF:
            return False
        self.everything += found
        self._stream.feed(found)
        return True

    @property
    def sent(self) -> int:
        """Bytes that the program sent so far."""
        return len(self.everything)

    def idle(self, seconds: float) -> None:
        """Press nothing for a while, and go on reading."""
        end = monotonic() + seconds
        while monotonic() < end:
            self.read()

    def resize(self, columns: int, rows: int) -> None:
        """Give the glass another size."""
        self._screen.resize(rows, columns)
        # pexpect has no types of its own
        self.child.setwinsize(rows, columns)  # pyright: ignore[reportUnknownMemberType]

    @property
    def text(self) -> str:
        """The glass, line by line."""
        return "\n".join(line.rstrip() for line in self._screen.display)

    @property
    def flat(self) -> str:
        """The same as one line of words."""
        return " ".join(self.text.split())

    def wait(self, *words: str) -> str:
        """Wait until all the words are on the glass."""
        self.until(lambda: all(word in self.flat for word in words), f"{words} on the glass")
        return self.text

    def until(self, done: Callable[[], bool], what: str) -> None:
        """Wait until something is so, reading all the time."""
        end = monotonic() + PATIENCE_S
        while not done():
            alive = self.read()
            if not alive or monotonic() > end:
                raise AssertionError(f"waited in vain for {what}:\n{self.text}")

    def keys(self, *keys: str) -> None:
        """Press keys by their names, or type longer texts."""
        for key in keys:
            self.child.send(KEYS.get(key, key))
            if key == "Esc":
                self.idle(ESC_S)
            self.read(0.0)

    def signal(self, number: int) -> None:
        """Send a signal to the process."""
        assert self.child.pid is not None
        os.kill(self.child.pid, number)

    def hang_up(self) -> None:
        """Take the line away and wait until nobody is at its other end."""
        os.close(self.child.fileno())
        end = monotonic() + PATIENCE_S
        while self.child.isalive() and monotonic() < end:
            select.select([], [], [], 0.02)

    def ended(self) -> int:
        """Wait for the end; the exit status, negative for a signal."""
        end = monotonic() + PATIENCE_S
        while self.read() and monotonic() < end:
            pass
        self.child.close()
        if self.child.signalstatus is not None:
            return -int(self.child.signalstatus)
        return int(self.child.exitstatus or 0)


def environment(**more: str) -> Mapping[str, str]:
    """An environment in which nothing of the machine's own setting gets in."""
    kept = {
        name: value
        for name, value in os.environ.items()
        if name in ("PATH", "HOME", "LANG", "VIRTUAL_ENV", "SYSTEMROOT", "TMPDIR")
    }
    return {
        **kept, "TERM": "xterm-256color", "COLORTERM": "truecolor", "LC_ALL": "C.UTF-8",
        "PYTHONPATH": str(ROOT), "XDG_CONFIG_HOME": str(ROOT / "no settings here"), **more,
    }  # fmt: skip


@contextmanager
def program(
    shop: Path, *arguments: str, size: tuple[int, int] = (80, 24), module: str = "tui", **env: str
) -> Generator[PtyTerminal]:
    """Start `hoistbook` on a line of its own; whatever is left of it at the end is killed.

    Args:
        module: starts it otherwise.
    """
    child: pexpect.spawn[bytes] = pexpect.spawn(
        sys.executable, ["-m", module, "--shop", str(shop), *arguments],
        env=dict(environment(**env)), dimensions=(size[1], size[0]), timeout=PATIENCE_S,
        cwd=str(ROOT),
    )  # fmt: skip
    child.delaybeforesend = None
    try:
        yield PtyTerminal(child, size)
    finally:
        with suppress(OSError):  # the line was taken away already
            child.close(force=True)
