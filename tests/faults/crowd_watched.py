"""A shop file watched: when its write lock was wanted and had, and with protections taken out."""

from __future__ import annotations

import sqlite3
import time
from pathlib import Path
from typing import ClassVar

from store.file import shop as shop_module
from store.file.memory import Connection
from store.file.opening import connect

WITHOUT: dict[str, dict[str, str]] = {
    "": {},
    "lock first": {"begin immediate": "begin"},
    "one look": {"begin": "select 1", "rollback": "select 1"},
    "one key": {},
}
"""What can be taken out: statements, and what runs instead of them. `one key` is the terminal's
doing: it makes a key for each try."""


class Watched(Connection):
    """A connection that notes when the write lock was wanted, had and let go."""

    without: ClassVar[str] = ""
    lock: ClassVar[list[float]] = []
    """Instants of the machine's steady clock: wanted, had, let go, of the act under way."""

    def execute(self, sql: str, /, *values: object) -> sqlite3.Cursor:
        """As a connection's, or something else instead."""
        if sql == "begin immediate" and not self.lock:
            self.lock.append(time.monotonic())
        found = super().execute(self._instead(sql), *values)  # type: ignore[arg-type]
        over = sql == "rollback" and len(self.lock) == 2
        if sql in ("begin immediate", "commit") or over:
            self.lock.append(time.monotonic())
        return found

    def _instead(self, sql: str) -> str:
        if sql == "rollback" and self.in_transaction:
            return sql
        return WITHOUT[self.without].get(sql, sql)


def watch(without: str) -> None:
    """Let every shop of this process open its file so."""
    Watched.without = without
    shop_module.connect = _watched


def _watched(path: Path, mode: str = "rw") -> sqlite3.Connection:
    db = connect(path, mode)
    db.__class__ = Watched  # with all settings of the product
    return db
