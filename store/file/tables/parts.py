"""What gets a job ready: parts, hired kits, outwork."""

from __future__ import annotations

import sqlite3

from store.edges.events_parts import (
    HireAsked,
    HireExtended,
    HireReceived,
    HireSentBack,
    OutworkBack,
    OutworkChased,
    OutworkSent,
    PartsListed,
    PartsMoved,
)
from store.file.ledger import Row, canonical
from store.file.tables.applying import applies
from store.file.tables.route import begin


@applies(PartsListed)
def listed(db: sqlite3.Connection, row: Row, event: PartsListed) -> None:
    db.executemany(
        "insert into part (job, line, text, phase, renewed, state) values (?, ?, ?, ?, ?, "
        "'wanted')",
        [(event.job, one.line, one.text, one.phase, one.renewed) for one in event.lines],
    )


@applies(PartsMoved)
def moved(db: sqlite3.Connection, row: Row, event: PartsMoved) -> None:
    db.executemany(
        "update part set state = ?, moved_at = ?, expected = coalesce(?, expected), "
        "supplier = coalesce(?, supplier), batch = coalesce(?, batch), note = coalesce(?, note), "
        "price = coalesce(?, price) where job = ? and line = ?",
        [
            (event.state, row.happened_at, event.expected, event.supplier, event.batch, event.note,
             event.price, event.job, line)
            for line in event.lines
        ],
    )  # fmt: skip


@applies(HireAsked)
def asked(db: sqlite3.Connection, row: Row, event: HireAsked) -> None:
    db.execute(
        "insert into hire (hire, kit, supplier, job, asked_at, expected, due) values "
        "(?, ?, ?, ?, ?, ?, ?)",
        (event.hire, event.kit, event.supplier, event.job, row.happened_at, event.expected,
         event.due),
    )  # fmt: skip


@applies(HireReceived)
def received(db: sqlite3.Connection, row: Row, event: HireReceived) -> None:
    db.execute(
        "update hire set received_at = ?, complete = ?, note = coalesce(?, note) where hire = ?",
        (row.happened_at, event.complete, event.note, event.hire),
    )


@applies(HireExtended)
def extended(db: sqlite3.Connection, row: Row, event: HireExtended) -> None:
    db.execute("update hire set due = ? where hire = ?", (event.due, event.hire))


@applies(HireSentBack)
def sent_back(db: sqlite3.Connection, row: Row, event: HireSentBack) -> None:
    db.execute(
        "update hire set sent_at = ?, sent_complete = ?, pieces = ?, note = coalesce(?, note) "
        "where hire = ?",
        (row.happened_at, event.complete, event.pieces, event.note, event.hire),
    )


@applies(OutworkSent)
def outwork_sent(db: sqlite3.Connection, row: Row, event: OutworkSent) -> None:
    if event.begins:
        begin(db, row, event.job, event.phase, [])
    db.execute(
        "insert into outwork (seq, job, phase, what, firm, sent_at, promised, chase, price, "
        "readings) values (?, ?, ?, ?, ?, ?, ?, ?, ?, '{}')",
        (row.seq, event.job, event.phase, event.what, event.firm, row.happened_at, event.promised,
         event.chase, event.price),
    )  # fmt: skip


NEWEST = "seq = (select max(seq) from outwork where job = ? and phase = ?)"


@applies(OutworkChased)
def chased(db: sqlite3.Connection, row: Row, event: OutworkChased) -> None:
    db.execute(
        "update outwork set said = ?, promised = coalesce(?, promised), chase = ? where " + NEWEST,
        (event.said, event.promised, event.chase, event.job, event.phase),
    )


@applies(OutworkBack)
def back(db: sqlite3.Connection, row: Row, event: OutworkBack) -> None:
    db.execute(
        "update outwork set back_at = ?, report = ?, readings = ?, price = coalesce(?, price) "
        "where " + NEWEST,
        (row.happened_at, event.report, canonical(dict(event.readings)), event.price, event.job,
         event.phase),
    )  # fmt: skip
