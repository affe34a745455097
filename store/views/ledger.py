"""The ledger as it happened."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from store.edges.instants import from_text
from store.file.ledger import rows
from store.file.shop import Shop
from store.file.words_of import in_words


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
        wanted = _of_job(shop, job) if job is not None else None
        for row in rows(db, since_seq=since_seq):
            if wanted is None or row.seq in wanted:
                yield Entry(
                    row.seq, from_text(row.happened_at), from_text(row.recorded_at), row.badge,
                    row.terminal, row.kind, json.loads(row.payload), row.hash, row.stepped_back,
                    in_words(db, row),
                )  # fmt: skip


def _of_job(shop: Shop, job: str) -> set[int]:
    with shop.reading() as db:
        found: set[int] = set()
        for first, last in db.execute("select seq, last from entry where job = ?", [job]):
            found.update(range(first, last + 1))
        return found
