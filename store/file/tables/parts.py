"""What gets a job ready: parts, outwork."""

from __future__ import annotations

import sqlite3

from store.edges.events.parts import (
    OutworkBack,
    OutworkChased,
    OutworkSent,
    PartsListed,
    PartsMoved,
    PartsTakenBack,
)
from store.file.ledger import Row, canonical
from store.file.tables.applying import applies


@applies(PartsListed)
def listed(db: sqlite3.Connection, row: Row, event: PartsListed) -> None:
    db.executemany(
        "insert into part (job, line, text, phase, renewed, state) values (?, ?, ?, ?, ?, "
        "'wanted')",
        [(event.job, one.line, one.text, one.phase, one.renewed) for one in event.lines],
    )


@applies(PartsMoved)
def moved(db: sqlite3.Connection, row: Row, event: PartsMoved) -> None:
    """What was not said anew stays; but nobody knows when what is ordered again will come."""
    db.executemany(
        "update part set state = ?1, moved_at = ?2, expected = case when ?1 in ('ordered', "
        "'wanted') then ?3 else coalesce(?3, expected) end, supplier = coalesce(?4, supplier), "
        "batch = coalesce(?5, batch), note = coalesce(?6, note), price = coalesce(?7, price) "
        "where job = ?8 and line = ?9",
        [
            (event.state, row.happened_at, event.expected, event.supplier, event.batch, event.note,
             event.price, event.job, line)
            for line in event.lines
        ],
    )  # fmt: skip


@applies(PartsTakenBack)
def parts_taken_back(db: sqlite3.Connection, row: Row, event: PartsTakenBack) -> None:
    db.executemany(
        "delete from part where job = ? and line = ?", [(event.job, line) for line in event.gone]
    )
    db.executemany(
        "update part set state = ?, moved_at = ?, expected = ?, supplier = ?, batch = ?, note = ?, "
        "price = ? where job = ? and line = ?",
        [
            (one.state, one.moved_at, one.expected, one.supplier, one.batch, one.note, one.price,
             event.job, one.line)
            for one in event.back
        ],
    )  # fmt: skip


@applies(OutworkSent)
def outwork_sent(db: sqlite3.Connection, row: Row, event: OutworkSent) -> None:
    db.execute(
        "insert into outwork (seq, job, phase, what, firm, sent_at, promised, promised_now, chase, "
        "price, readings) values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, '{}')",
        (row.seq, event.job, event.phase, event.what, event.firm, row.happened_at, event.promised,
         event.promised, event.chase, event.price),
    )  # fmt: skip


NEWEST = "seq = (select max(seq) from outwork where job = ? and phase = ?)"


@applies(OutworkChased)
def chased(db: sqlite3.Connection, row: Row, event: OutworkChased) -> None:
    db.execute(
        "update outwork set said = ?, promised_now = ?, chase = ? where " + NEWEST,
        (event.said, event.promised, event.chase, event.job, event.phase),
    )


@applies(OutworkBack)
def back(db: sqlite3.Connection, row: Row, event: OutworkBack) -> None:
    db.execute(
        "update outwork set back_seq = ?, back_at = ?, report = ?, readings = ?, charged = ? "
        "where " + NEWEST,
        (row.seq, row.happened_at, event.report, canonical(dict(event.readings)), event.price,
         event.job, event.phase),
    )  # fmt: skip
