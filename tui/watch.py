"""Noticing that the shop changed: by another terminal, by a command, by a restored file."""

from __future__ import annotations

from store.file.noticing import Mark, Noticing
from store.file.shop import Shop

TIMES_A_SECOND = 4


class Watch:
    """Asked four times a second; it answers True once for every change."""

    def __init__(self, shop: Shop) -> None:
        self._noticing = Noticing(shop.path, shop.standing)
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
