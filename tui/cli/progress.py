"""How far a long command has come, for somebody who watches: one line on standard error."""

from __future__ import annotations

import sys
from collections.abc import Callable, Generator
from contextlib import contextmanager, suppress
from time import monotonic

Progress = Callable[[int, int], None]
WIDTH = 30
EVERY_S = 0.1
"""A line over a slow wire is not repainted more often."""
STEADY_S = 2.0
"""Before that nobody can tell how long it will take."""
LONGEST_S = 100 * 3600
"""Whoever would wait longer waits for something else."""


def someone_watches() -> bool:
    """Whether standard error is a terminal."""
    try:
        return sys.stderr.isatty()
    except ValueError:
        return False


@contextmanager
def progress(what: str) -> Generator[Progress | None]:
    """Give what is to be called with how much is done, of how much; None where nobody watches."""
    if not someone_watches():
        yield None
        return
    bar = _Bar(what)
    try:
        yield bar.show
    finally:
        bar.clear()


class _Bar:
    def __init__(self, what: str) -> None:
        self._what = what
        self._since = self._shown = monotonic()

    def show(self, done: int, whole: int) -> None:
        now = monotonic()
        if now - self._shown >= EVERY_S:
            self._shown = now
            _write(f"\r{line(self._what, done, whole, now - self._since)}\x1b[K")

    def clear(self) -> None:
        _write("\r\x1b[K")


def line(what: str, done: int, whole: int, passed_s: float) -> str:
    """`hours [#####     ]  50 %, 1:05 left`; ASCII, at most 79 columns."""
    share = min(1.0, done / whole) if whole > 0 else 1.0
    filled = int(WIDTH * share)
    bar = "#" * filled + " " * (WIDTH - filled)
    left = ""
    seconds = round(passed_s * (1 - share) / share) if share > 0 else 0
    if share > 0 and passed_s >= STEADY_S and seconds < LONGEST_S:
        left = f", {seconds // 60}:{seconds % 60:02} left"
    return f"{what[:20]} [{bar}] {int(100 * share):>3} %{left}"


def _write(text: str) -> None:
    with suppress(OSError, ValueError):
        sys.stderr.write(text)
        sys.stderr.flush()
