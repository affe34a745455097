"""Who does what next: a list of work for each person; and the order of the line that waits."""

from __future__ import annotations

import sqlite3

from store.edges.events.next import Assigned, AssignedTakenBack, LineOrdered, LineOrderTakenBack
from store.file.ledger import Row
from store.file.tables.applying import applies


@applies(Assigned)
def assigned(db: sqlite3.Connection, row: Row, event: Assigned) -> None:
    db.execute(
        "update assignment set until = ?, ended_seq = ? where job = ? and phase is ? "
        "and until is null and (person = ?5 or ?5 is null)",
        (row.happened_at, row.seq, event.job, event.phase, event.person),
    )
    if event.person is not None and event.position is not None:
        db.execute(
            "insert into assignment (seq, job, phase, person, position, by, since) "
            "values (?, ?, ?, ?, ?, (select person from person where badge = ?), ?)",
            (row.seq, event.job, event.phase, event.person, event.position, row.badge,
             row.happened_at),
        )  # fmt: skip


@applies(AssignedTakenBack)
def taken_back(db: sqlite3.Connection, row: Row, event: AssignedTakenBack) -> None:
    db.execute("delete from assignment where seq = ?", (event.entry,))
    db.execute(
        "update assignment set until = null, ended_seq = null where ended_seq = ?", (event.entry,)
    )


@applies(LineOrdered)
def ordered(db: sqlite3.Connection, row: Row, event: LineOrdered) -> None:
    db.execute(
        "insert into line_move (seq, job, before, was, by, at) select ?, job, ?, in_line, "
        "(select person from person where badge = ?), ? from job where job = ?",
        (row.seq, event.before, row.badge, row.happened_at, event.job),
    )
    db.execute("update job set in_line = ? where job = ?", (event.position, event.job))


@applies(LineOrderTakenBack)
def order_back(db: sqlite3.Connection, row: Row, event: LineOrderTakenBack) -> None:
    db.execute(
        "update job set in_line = (select was from line_move where seq = ?) where job = ?",
        (event.entry, event.job),
    )
    db.execute("delete from line_move where seq = ?", (event.entry,))
