"""Noticing that the shop changed: by another terminal, by a command, by a restored file."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from store.file.noticing import Mark, Noticing

TIMES_A_SECOND = 4


class Watch:
    """Asked four times a second; it answers True once for every change."""

    def __init__(self, path: Path, check: Callable[[], None] | None = None) -> None:
        self._noticing = Noticing(path, check)
        self._last: Mark | None = None

    def changed(self) -> bool:
        """Whether the ledger or the file itself is another than at the last look.

        Raises:
            Trouble: the file is gone or cannot be read.
        """
        mark = self._noticing.look()
        before, self._last = self._last, mark
        return mark != before

    def close(self) -> None:
        """Let go of the file."""
        self._noticing.close()
