"""How a module says which event it applies, and the list of acts that all of them feed."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Callable
from functools import cache, lru_cache
from typing import TypeVar

from store.edges.events.base import Event
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


BEHIND = (
    ("clock", "clock", "seq"), ("hold", "hold", "seq"), ("finding", "finding", "seq"),
    ("hire", "hire", "hire"),
)  # fmt: skip
"""Fields by which an event names a row, and thereby a job; tables of those rows and their keys."""


@cache
def _names(model: type[Event]) -> tuple[bool, str | None, str]:
    """How a model names its job: in a field, or by one that names a row; and SQL for the latter.

    To ask a model for what it lacks is slow.
    """
    fields = model.model_fields
    for field, table, key in BEHIND:
        if field in fields:
            return "job" in fields, field, f"(select job from {table} where {key} = ?)"
    return "job" in fields, None, "?"


def note_entry(db: sqlite3.Connection, row: Row, event: Event) -> None:
    """Events of one act share the first part of their key: they are one entry."""
    has_job, field, behind = _names(type(event))
    job = getattr(event, "job", None) if has_job else None
    if job or field is None:
        behind = "?"
    else:
        job = getattr(event, field)
    if "." not in row.key:
        db.execute(
            "insert into entry (seq, last, person, job) values "
            f"(?, ?, (select person from person where badge = ?), {behind})",
            (row.seq, row.seq, row.badge, job),
        )
    else:
        first = row.seq - int(row.key.rpartition(".")[2])
        db.execute(
            f"update entry set last = ?, job = coalesce(job, {behind}) where seq = ?",
            (row.seq, job, first),
        )


@lru_cache(maxsize=1024)
def json_list(texts: tuple[str, ...]) -> str:
    """Return a JSON list of codes: the same few come again and again."""
    return json.dumps(texts)
