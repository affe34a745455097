"""How a module says which event it applies, and the list of acts that all of them feed."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from typing import TypeVar

from store.edges.events import Event
from store.file.ledger import Row

E = TypeVar("E", bound=Event)

APPLY: dict[str, Callable[[sqlite3.Connection, Row, Event], None]] = {}


def applies(
    model: type[E],
) -> Callable[
    [Callable[[sqlite3.Connection, Row, E], None]], Callable[[sqlite3.Connection, Row, E], None]
]:
    """Register a function as the one that applies a kind of event."""

    def register(
        function: Callable[[sqlite3.Connection, Row, E], None],
    ) -> Callable[[sqlite3.Connection, Row, E], None]:
        def checked(db: sqlite3.Connection, row: Row, event: Event) -> None:
            assert isinstance(event, model)
            function(db, row, event)

        APPLY[model.kind] = checked
        return function

    return register


def note_entry(db: sqlite3.Connection, row: Row, event: Event) -> None:
    """Events of one act share the first part of their key: they are one entry."""
    job = getattr(event, "job", None)
    if "." not in row.key:
        db.execute(
            "insert into entry (seq, last, person, job) values "
            "(?, ?, (select person from person where badge = ?), ?)",
            (row.seq, row.seq, row.badge, job),
        )
    else:
        first = row.seq - int(row.key.rpartition(".")[2])
        db.execute(
            "update entry set last = ?, job = coalesce(job, ?) where seq = ?",
            (row.seq, job, first),
        )
