"""Whether what helps most is to be found anew."""

from __future__ import annotations

import sqlite3
from datetime import datetime

from store.edges.instants import from_text
from store.file.facts import calendar_of
from store.file.learned.due import Due
from store.file.learned.kept import is_here
from store.file.learned.kept_help import help_position
from store.rules.teaching import HELPS

OLD_H = 1.0
"""Open hours after which it is found anew, whatever happened: promises come nearer."""


def is_help_due(db: sqlite3.Connection, found: Due, now: datetime) -> bool:
    """Tell whether something happened that may change it, it was learned anew, or it is old."""
    known = help_position(db)
    if known is None or not is_here(db, known[0]) or known[1] != fit_seq(found):
        return True
    made = from_text(known[2])
    aged = made < now and calendar_of(db).working_h(made, now) >= OLD_H
    return aged or _moved(db, known[0].seq)


def _moved(db: sqlite3.Connection, since: int) -> bool:
    """A small job changes nothing but who stands on a lift."""
    marks = ", ".join("?" * len(HELPS))
    row = db.execute(
        "select 1 from entry cross join ledger on ledger.seq between entry.seq and entry.last "
        "left join job using (job) where entry.seq > ? "
        f"and kind in ({marks}) and (kind = 'placed' or not coalesce(small, 0)) limit 1",
        [since, *sorted(HELPS)],
    ).fetchone()
    return row is not None


def fit_seq(found: Due) -> int:
    """Return the newest entry that what was learned knows."""
    return max((one.at.seq for one in found.known.values()), default=0)


def promised(db: sqlite3.Connection) -> dict[str, datetime]:
    """Return what customers were told, by job, of jobs that go on."""
    rows = db.execute(
        "select job, promise from job where promise is not null "
        "and state not in ('closed', 'declined', 'turned-away', 'finished')"
    )
    return {row[0]: from_text(row[1]) for row in rows}
