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
    fields = type(event).model_fields  # asking a model for what it lacks is slow
    job = getattr(event, "job", None) if "job" in fields else None
    job = job or _job_behind(db, event)
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


BEHIND = (("clock", "clock"), ("hold", "hold"), ("finding", "finding"))
"""Fields by which an event names a row, and thereby a job, and the tables of those rows."""


def _job_behind(db: sqlite3.Connection, event: Event) -> str | None:
    """The job of the clock, hold or finding that an event is about."""
    fields = type(event).model_fields
    for field, table in BEHIND:
        seq = getattr(event, field) if field in fields else None
        if isinstance(seq, int):
            row = db.execute(f"select job from {table} where seq = ?", (seq,)).fetchone()
            return row[0] if row else None
    return None
