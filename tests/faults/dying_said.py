"""What a child says to whoever began it, line by line, on a pipe."""

from __future__ import annotations

import os
import select
import time

PATIENCE_S = 120.0
"""After which nobody waits for a word any more."""


class Pipe:
    """What a child says.

    Attributes:
        lines: whole lines so far.
    """

    def __init__(self) -> None:
        self._read, self.write = os.pipe()
        os.set_blocking(self._read, False)
        self.lines: list[str] = []
        self._half, self.ended = b"", False

    def take(self) -> None:
        """Read what is there."""
        while not self.ended:
            try:
                found = os.read(self._read, 65536)
            except BlockingIOError:
                return
            *whole, self._half = (self._half + found).split(b"\n")
            self.lines += [one.decode() for one in whole]
            self.ended = not found

    def wait(self, word: str) -> None:
        """Wait until a line begins with that word, or the child has ended."""
        until = time.monotonic() + PATIENCE_S
        while not self.ended and not any(one.startswith(word) for one in self.lines):
            select.select([self._read], [], [], max(0.0, until - time.monotonic()))
            self.take()
            if time.monotonic() > until:
                return

    @property
    def under_way(self) -> bool:
        """Something was begun and not acknowledged."""
        self.take()
        return bool(self.lines) and self.lines[-1].startswith("begin")

    def close(self) -> None:
        os.close(self._read)
