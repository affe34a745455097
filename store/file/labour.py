"""Labour out of the clocks in the file: by phase, by person, counted to an instant."""

from __future__ import annotations

import sqlite3
from datetime import datetime

from store.edges.instants import from_text
from store.sums.clock_labour import counts_to, labour_h
from store.sums.working_time import Calendar


def clock_labour_h(
    calendar: Calendar, since: str, until: str | None, breaks_worked: bool, now: datetime
) -> float:
    """Return the labour hours of one clock; a running one counts to now, or its shift's end."""
    start = from_text(since)
    end = from_text(until) if until is not None else counts_to(calendar, start, now)[0]
    if end <= start:
        return 0.0
    return labour_h(calendar, start, end, breaks_worked)


def phase_labour_h(
    db: sqlite3.Connection, calendar: Calendar, job: str, phase: str, now: datetime
) -> float:
    """Return the labour of lead and helpers on a phase, hours."""
    return sum(
        clock_labour_h(calendar, row[0], row[1], bool(row[2]), now)
        for row in db.execute(
            "select since, until, breaks_worked from clock "
            "where job = ? and phase = ? and part != 'learner'",
            [job, phase],
        )
    )


def job_labour_h(db: sqlite3.Connection, calendar: Calendar, job: str, now: datetime) -> float:
    """Return the labour of lead and helpers on a whole job, hours."""
    return sum(
        clock_labour_h(calendar, row[0], row[1], bool(row[2]), now)
        for row in db.execute(
            "select since, until, breaks_worked from clock where job = ? and part != 'learner'",
            [job],
        )
    )
