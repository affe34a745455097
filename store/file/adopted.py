"""By how much the work book was changed by what was learned, so that the past stays comparable.

The learner knows hours by those of the book. Where the book takes over what was learned the work is
the same as before: it goes on in the hours that the book said before that.
"""

from __future__ import annotations

import sqlite3

from store.file.books import Books
from store.rules.family_hours import learned_for

CHANGED = "select version from book where instr(content, '\"learned\":')"


class Adopted:
    """One look's answers; a shop whose book never took anything over reads no book for them."""

    def __init__(self, db: sqlite3.Connection) -> None:
        self._books = Books(db)
        self._changed = {row[0] for row in db.execute(CHANGED)}

    def times(self, version: int | None, phase: str, family: str) -> float:
        """Return book hours of a phase in a version by those from before; 1 where it is as it was.

        Args:
            phase: its code.
        """
        if version is None or version not in self._changed:
            return 1.0
        known = self._books.of(version).phases.get(phase)
        return 1.0 if known is None else learned_for(known, family)
