"""Noticing that the shop file changed, cheaply enough to look four times a second."""

from __future__ import annotations

import sqlite3
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from store.file.change import newest
from store.file.learned.kept import turn
from store.file.opening import as_trouble, connect, look_at
from store.file.place import Look, look_at_place
from store.file.standing import Standing


@dataclass(frozen=True, slots=True)
class Mark:
    """Where the ledger of a file stands: another mark, another state of the shop.

    Attributes:
        turn: how often forecasts were written; they move a screen too.
    """

    file: tuple[int, int]
    seq: int
    turn: int = 0


class Noticing:
    """One idle connection that is asked whether anybody wrote."""

    def __init__(self, path: Path, standing: Standing | None = None) -> None:
        """Notice what becomes of a file.

        Args:
            standing: is asked when somebody was at the file itself, before it is opened anew.
        """
        self._path = path
        self._standing = standing
        self._db: sqlite3.Connection | None = None
        self._place: Look | None = None
        self._version = -1
        self._mark: Mark | None = None

    def look(self) -> Mark:
        """Return where the ledger stands.

        SQLite's own counter moves for every commit and every checkpoint of others; only then the
        ledger is asked. It does not move when the file was replaced: so its number is compared too.

        Raises:
            Trouble: the file is gone, is no shop, or cannot be read.
        """
        try:
            return self._looked()
        except sqlite3.Error as error:
            self.close()
            raise as_trouble(error, self._path) from error

    def _looked(self) -> Mark:
        place = look_at_place(self._path)
        if self._db is None or place != self._place:
            self.close()
            if self._standing is not None:
                self._standing.check()
            look_at(self._path)
            self._db = connect(self._path)
            self._db.execute("pragma application_id")  # makes what lies beside it
            self._place = place = look_at_place(self._path)
        version: int = self._db.execute("pragma data_version").fetchone()[0]
        if self._mark is None or version != self._version:
            self._version = version
            last = newest(self._db)
            if self._standing is not None:
                self._standing.saw(last)
            self._mark = Mark(place.file, last.seq, turn(self._db))
        return self._mark

    def close(self) -> None:
        """Let go of the file."""
        if self._db is not None:
            with suppress(sqlite3.Error):
                self._db.close()
        self._db, self._mark = None, None
