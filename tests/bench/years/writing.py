"""A shop file written from copies: numbers, keys and hashes made anew, then replayed."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing
from itertools import count
from pathlib import Path

from store.file.layout import replay
from store.file.ledger import FIRST, Row, digest
from store.file.making import make_file
from store.file.opening import connect
from tests.bench.years.copying import Act, Entry

FIRST_JOB = 1001
INSERT = f"insert into ledger values ({', '.join('?' * len(Row._fields))})"


class Writer:
    """Appends entries to an empty ledger as one author would have."""

    def __init__(self, db: sqlite3.Connection) -> None:
        self._db = db
        self._seq, self._hash, self._recorded_at = 0, FIRST, ""
        self._numbers = count(FIRST_JOB)

    @property
    def entries(self) -> int:
        """How many there are so far."""
        return self._seq

    def acts(self, acts: Iterator[Act]) -> None:
        """Append acts in the order in which they come."""
        for act in acts:
            self._db.executemany(INSERT, self._rows(act))

    def _rows(self, act: Act) -> Iterator[Row]:
        for nth, line in enumerate(act.entries):
            if line.row.kind == "job-opened":
                act.copy.opened(line.payload, str(next(self._numbers)))
            key = f"{act.key}.{nth}" if nth else act.key
            yield self._row(key, act.recorded_at, act.copy.entry(line))
            act.copy.seqs[line.row.seq] = self._seq

    def said(self, key: str, recorded_at: str, badge: str, kind: str, payload: str) -> None:
        """Append one entry of the office."""
        row = self._row(key, recorded_at, Entry(recorded_at, badge, "office", kind, payload))
        self._db.execute(INSERT, row)

    def _row(self, key: str, recorded_at: str, entry: Entry) -> Row:
        happened_at, badge, terminal, kind, payload = entry
        if recorded_at < self._recorded_at:
            raise AssertionError(f"{kind} at {recorded_at} after {self._recorded_at}")
        seq = self._seq + 1
        own = digest(
            seq=seq, key=key, happened_at=happened_at, recorded_at=recorded_at, badge=badge,
            terminal=terminal, kind=kind, payload=payload, stepped_back=0, previous=self._hash,
        )  # fmt: skip
        row = Row(seq, key, happened_at, recorded_at, badge, terminal, kind, payload, 0,
                  self._hash, own)  # fmt: skip
        self._seq, self._hash, self._recorded_at = seq, own, recorded_at
        return row


def write_file(path: Path, fill: Callable[[Writer, sqlite3.Connection], None]) -> int:
    """Make a shop file: its ledger and private rows by `fill`, its tables by replaying.

    Returns:
        How many entries it has.
    """
    half = path.with_suffix(".half")
    half.unlink(missing_ok=True)
    make_file(half).close()
    with closing(connect(half)) as db:
        db.execute("pragma cache_size = -400000")
        db.execute("begin immediate")
        writer = Writer(db)
        fill(writer, db)
        replay(db, half)
        db.execute("commit")
    half.rename(path)
    return writer.entries
