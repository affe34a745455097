"""Entries of the ledger in words."""

from __future__ import annotations

import sqlite3
from zoneinfo import ZoneInfo

from store.edges.instants import from_text
from store.file.ledger import COLUMNS, Row
from store.file.words_of import in_words
from store.views.values import LedgerLine

QUIET = ("estimate-changed", "state-changed", "phase-begun", "vehicle-known", "customer-known")
"""Kinds that follow from others and would only repeat them."""
BEFORE = ("customer-known", "customer-of-job")
"""Kinds that may come before what an entry says."""


def newest_said(db: sqlite3.Connection, zone: ZoneInfo, *, badge: str | None = None) -> str | None:
    """Return the newest entry in words with its time: of the whole shop, or of one person."""
    row = db.execute(
        "select max(seq) from entry where ? is null or person = "
        "(select person from person where badge = ?)",
        [badge, badge],
    ).fetchone()
    if row[0] is None:
        return None
    marks = ", ".join("?" * len(BEFORE))
    first = db.execute(
        f"select {COLUMNS} from ledger where seq between ? and (select last from entry where "
        f"seq = ?) order by kind in ({marks}), seq limit 1",
        [row[0], row[0], *BEFORE],
    ).fetchone()
    line = _line(db, Row(*first))
    who = "" if badge else f" ({line.who})"
    return f"{line.at.astimezone(zone):%H:%M}  {line.says}{who}"


def _line(db: sqlite3.Connection, row: Row) -> LedgerLine:
    person = db.execute("select name from person where badge = ?", [row.badge]).fetchone()
    return _said(db, row, person["name"] if person else row.badge)


def _said(db: sqlite3.Connection, row: Row, who: str) -> LedgerLine:
    return LedgerLine(row.seq, from_text(row.happened_at), who, in_words(db, row))


def job_ledger(db: sqlite3.Connection, job: str) -> tuple[LedgerLine, ...]:
    """Return what happened to a job, newest first."""
    columns = ", ".join(f"ledger.{one}" for one in COLUMNS.replace(" ", "").split(","))
    quiet = ", ".join("?" * len(QUIET))
    rows = db.execute(
        f"select {columns}, coalesce(name, ledger.badge) from entry "
        "cross join ledger on ledger.seq between entry.seq and entry.last "
        "left join person on person.badge = ledger.badge "
        f"where ledger.kind not in ({quiet}) and entry.job = ? order by ledger.seq desc",
        [*QUIET, job],
    ).fetchall()
    return tuple(_said(db, Row(*row[:-1]), row[-1]) for row in rows)
