"""The line of jobs that wait to come in, as it stands."""

from __future__ import annotations

import sqlite3
from typing import NamedTuple

IN_LINE = "job.in_line, job.number"
"""The order in which jobs are to come in: as they came, or as somebody put them since."""


class InLine(NamedTuple):
    """A job that waits, and its place: jobs wait in the order of their positions."""

    job: str
    position: float


class Moved(NamedTuple):
    """A place that somebody gave a job last. `before` None: after all others."""

    job: str
    before: str | None
    by: str
    at: str


def line_now(db: sqlite3.Connection) -> list[InLine]:
    """Return every job that waits to come in, whoever comes in first at its head."""
    rows = db.execute(f"select job, in_line from job where state = 'waiting' order by {IN_LINE}")
    return [InLine(*row) for row in rows]


def last_move(db: sqlite3.Connection) -> Moved | None:
    """Return the place that was given last, and by whom; None where the line is as it came."""
    row = db.execute(
        "select job, before, name, at from line_move join person on person.person = line_move.by "
        "order by line_move.seq desc limit 1"
    ).fetchone()
    return None if row is None else Moved(*row)
