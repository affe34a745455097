"""No free text of a job names its customer: the ledger keeps for ever what it is told."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterable, Mapping
from functools import cache
from typing import cast, get_args

from store.edges.events.base import Event, Piece
from store.rules.named_text import names
from store.trouble import Refused

FREE = (
    "text", "note", "why", "complaint", "lamps", "photographs", "next_move", "cause", "label",
    "said", "report", "what", "outcome", "old_parts", "run_in", "faults_before", "faults_after",
    "who", "missing", "damage",
)  # fmt: skip
"""Fields that somebody types, of events about a job."""
LISTED = ("fluids",)
"""Fields that somebody types as a list of texts."""
FROM_THE_BOOK = frozenset({"route-changed", "estimate-changed", "quote-given", "estimate-agreed"})
"""Kinds whose words come out of the work book or another event."""


class NamesCustomer(Refused):
    """A free text names the job's customer."""

    def __init__(self, field: str) -> None:
        super().__init__(
            f"The {field.replace('_', ' ')} names the customer, and what is written down stays. "
            "Say 'the customer'; name and number have their own place."
        )


def refuse_naming(db: sqlite3.Connection, event: Event) -> None:
    """Refuse an event of a job whose free texts name the job's customer.

    Raises:
        NamesCustomer: naming the field.
    """
    if event.kind in FROM_THE_BOOK or not _may_hold(type(event)):
        return
    said = vars(event)
    typed = _typed(said)
    job = _job_of(db, said) if typed else None
    if job is None:
        return
    row = db.execute(
        "select name, telephone from job join customer_private using (customer) where job = ?",
        [job],
    ).fetchone()
    if row is not None:
        refuse_named(typed, row["name"], row["telephone"])


def _job_of(db: sqlite3.Connection, said: Mapping[str, object]) -> str | None:
    """The job that an event is about: its own, or that for which a kit is hired."""
    job, hire = said.get("job"), said.get("hire")
    if not isinstance(job, str) and isinstance(hire, str):
        row = db.execute("select job from hire where hire = ?", [hire]).fetchone()
        return None if row is None else row["job"]
    return job if isinstance(job, str) else None


@cache
def _may_hold(model: type[Event]) -> bool:
    """Whether a kind of event has a place for free text: most have none."""
    return any(
        name in FREE or name in LISTED or _holds_pieces(one.annotation)
        for name, one in model.model_fields.items()
    )


def _holds_pieces(annotation: object) -> bool:
    return any(isinstance(one, type) and issubclass(one, Piece) for one in get_args(annotation))


def refuse_named(typed: Iterable[tuple[str, str | None]], name: str, telephone: str) -> None:
    """Refuse texts that name somebody.

    Args:
        typed: fields and their texts.

    Raises:
        NamesCustomer: naming the field.
    """
    for field, text in typed:
        if text is not None and names(text, name, telephone):
            raise NamesCustomer(field)


def told_already(db: sqlite3.Connection, job: str, name: str, telephone: str) -> list[int]:
    """Return the entries about a job that named somebody before it was known whose job it is."""
    return [
        row["seq"]
        for row in db.execute(
            "select ledger.seq, kind, payload from entry cross join ledger on ledger.seq between "
            "entry.seq and entry.last where entry.job = ? order by ledger.seq",
            [job],
        )
        if any(names(text, name, telephone) for text in _free_texts(row["kind"], row["payload"]))
    ]


def _free_texts(kind: str, payload: str) -> list[str]:
    said: dict[str, object] = json.loads(payload)
    if kind in FROM_THE_BOOK:
        return [text for field in FREE if isinstance(text := said.get(field), str)]
    return [text for _, text in _typed(said)]


def _typed(said: Mapping[str, object]) -> list[tuple[str, str]]:
    """Free texts of an event, or of its payload, with their fields; those inside lists too."""
    found = [(name, text) for name in FREE if isinstance(text := said.get(name), str)]
    for name, value in said.items():
        if isinstance(value, list):
            for one in cast("list[object]", value):
                found += _inside(name, one)
    return found


def _inside(name: str, one: object) -> list[tuple[str, str]]:
    """Free texts of one entry of a list: a text itself, or a piece of the event."""
    if isinstance(one, str):
        return [(name, one)] if name in LISTED else []
    if isinstance(one, dict):
        return _typed(cast("dict[str, object]", one))
    return _typed(vars(one)) if isinstance(one, Piece) else []
