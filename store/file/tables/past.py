"""Finished phases from before this file."""

from __future__ import annotations

import json
import sqlite3

from store.edges.events.past import HistoryImported, HistoryTakenBack
from store.file.ledger import Row
from store.file.tables.applying import applies


@applies(HistoryImported)
def imported(db: sqlite3.Connection, row: Row, event: HistoryImported) -> None:
    db.executemany(
        "insert into past_phase values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        [
            (one.job, one.seq, one.template, one.variant, one.phase, one.technician, one.started,
             one.closed, one.book_h, one.actual_h, one.grade, one.phase_class, one.people,
             one.lumped_with, one.cut_off, json.dumps(one.serves), one.surprise_h, row.seq)
            for one in event.rows
        ],
    )  # fmt: skip


@applies(HistoryTakenBack)
def taken_back(db: sqlite3.Connection, row: Row, event: HistoryTakenBack) -> None:
    db.execute("delete from past_phase where imported = ?", [event.imported])
