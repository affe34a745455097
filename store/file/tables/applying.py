"""How a module says which event it applies, and the list of acts that all of them feed."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Callable
from functools import cache, lru_cache
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


BEHIND = (("clock", "clock"), ("hold", "hold"), ("finding", "finding"))
"""Fields by which an event names a row, and thereby a job, and the tables of those rows."""


@cache
def _names(model: type[Event]) -> tuple[bool, tuple[tuple[str, str], ...]]:
    """Whether a model has a job, and which rows it names: to ask for what it lacks is slow."""
    fields = model.model_fields
    behind = tuple(
        (field, f"select job from {table} where seq = ?")
        for field, table in BEHIND
        if field in fields
    )
    return "job" in fields, behind


def _job_of(db: sqlite3.Connection, event: Event) -> str | None:
    """Return the job that an event names, or that of the clock, hold or finding it is about."""
    has_job, behind = _names(type(event))
    if has_job:
        job: str | None = getattr(event, "job", None)
        if job:
            return job
    for field, job_of_row in behind:
        seq = getattr(event, field)
        if isinstance(seq, int):
            row = db.execute(job_of_row, (seq,)).fetchone()
            return row[0] if row else None
    return None


def note_entry(db: sqlite3.Connection, row: Row, event: Event) -> None:
    """Events of one act share the first part of their key: they are one entry."""
    job = _job_of(db, event)
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


@lru_cache(maxsize=1024)
def json_list(texts: tuple[str, ...]) -> str:
    """Return a JSON list of codes: the same few come again and again."""
    return json.dumps(texts)
