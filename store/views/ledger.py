"""The ledger as it happened."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from store.edges.instants import from_text
from store.file.ledger import Row, rows
from store.file.shop import Shop
from store.file.words_of import in_words

OF_JOB = (
    "select ledger.* from entry cross join ledger on ledger.seq between entry.seq and entry.last "
    "where entry.job = ? and ledger.seq >= ? order by entry.seq, ledger.seq"
)


@dataclass(frozen=True, slots=True)
class Entry:
    """One event. `payload` is its JSON as plain values."""

    seq: int
    happened_at: datetime
    recorded_at: datetime
    badge: str
    terminal: str
    kind: str
    payload: dict[str, Any]
    hash: str
    stepped_back: int
    says: str


def ledger(shop: Shop, *, since_seq: int = 1, job: str | None = None) -> Iterator[Entry]:
    """Yield the events by sequence number, of the whole shop or of one job.

    Raises:
        Trouble: the file cannot be read.
    """
    with shop.reading() as db:
        for row in rows(db, since_seq=since_seq) if job is None else _of_job(db, job, since_seq):
            yield Entry(
                row.seq, from_text(row.happened_at), from_text(row.recorded_at), row.badge,
                row.terminal, row.kind, json.loads(row.payload), row.hash, row.stepped_back,
                in_words(db, row),
            )  # fmt: skip


def _of_job(db: sqlite3.Connection, job: str, since_seq: int) -> Iterator[Row]:
    """Only what one job's acts wrote is read, however long the ledger is."""
    for one in db.execute(OF_JOB, [job, since_seq]):
        yield Row(*one)
