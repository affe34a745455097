"""Entries of the ledger in words."""

from __future__ import annotations

import sqlite3
from zoneinfo import ZoneInfo

from store.edges.instants import from_text
from store.file.ledger import COLUMNS, Row
from store.file.words_of import in_words
from store.views.values import LedgerLine

QUIET = ("estimate-changed", "state-changed", "phase-begun", "vehicle-known")
"""Kinds that follow from others and would only repeat them."""


def newest_said(db: sqlite3.Connection, zone: ZoneInfo, *, badge: str | None = None) -> str | None:
    """Return the newest entry in words with its time: of the whole shop, or of one person."""
    row = db.execute(
        "select max(seq) from entry where ? is null or person = "
        "(select person from person where badge = ?)",
        [badge, badge],
    ).fetchone()
    if row[0] is None:
        return None
    line = _line(
        db, Row(*db.execute(f"select {COLUMNS} from ledger where seq = ?", row).fetchone())
    )
    who = "" if badge else f" ({line.who})"
    return f"{line.at.astimezone(zone):%H:%M}  {line.says}{who}"


def _line(db: sqlite3.Connection, row: Row) -> LedgerLine:
    person = db.execute("select name from person where badge = ?", [row.badge]).fetchone()
    return LedgerLine(
        row.seq, from_text(row.happened_at), person["name"] if person else row.badge,
        in_words(db, row),
    )  # fmt: skip


def job_ledger(db: sqlite3.Connection, job: str, *, most: int = 200) -> tuple[LedgerLine, ...]:
    """Return what happened to a job, newest first."""
    columns = ", ".join(f"ledger.{one}" for one in COLUMNS.replace(" ", "").split(","))
    rows = db.execute(
        f"select {columns} from entry join ledger on ledger.seq between entry.seq and entry.last "
        "where entry.job = ? order by ledger.seq desc limit ?",
        [job, most],
    ).fetchall()
    return tuple(_line(db, Row(*row)) for row in rows if row["kind"] not in QUIET)
