"""Versions of the work book as they stand in the shop file."""

from __future__ import annotations

import sqlite3
from datetime import date
from functools import lru_cache
from typing import cast

from store.file.memory import memory_of
from store.rules.book import WorkBook
from store.trouble import Refused


class NoBook(Refused):
    """The shop has no work book on that day."""

    def __init__(self) -> None:
        super().__init__(
            "There is no work book yet. Write one and load it: hoistbook workbook load FILE.toml."
        )


def book_on(db: sqlite3.Connection, day: date) -> tuple[int, WorkBook]:
    """Return version and work book that hold on a day.

    Raises:
        NoBook: none does.
    """
    row = (
        db.execute(
            "select version from book where from_day <= ? order by version desc limit 1",
            [day.isoformat()],
        ).fetchone()
        or db.execute("select version from book order by version limit 1").fetchone()
    )
    if row is None:
        raise NoBook
    return row[0], book_of(db, row[0])


def book_of(db: sqlite3.Connection, version: int) -> WorkBook:
    """Return a version of the work book."""
    memory = memory_of(db)
    if memory is not None and version in memory.books:
        return cast("WorkBook", memory.books[version])
    row = db.execute("select content from book where version = ?", [version]).fetchone()
    found = _read(row[0])
    if memory is not None:
        memory.books[version] = found
    return found


class Books:
    """Versions of the work book in one look, each read once."""

    def __init__(self, db: sqlite3.Connection) -> None:
        self._db, self._known = db, dict[int, WorkBook]()

    def of(self, version: int) -> WorkBook:
        """Return a version."""
        if version not in self._known:
            self._known[version] = book_of(self._db, version)
        return self._known[version]


@lru_cache(maxsize=4)
def _read(content: str) -> WorkBook:
    from store.edges.workbook.json import from_json  # whoever only looks does without the models

    return from_json(content)
