"""Each person's list of work as it stands: what is over is on it no more, by itself.

A line ends with its phase or its job, and is there again when that is opened again: the state of
the work says so, and no event has to.
"""

from __future__ import annotations

import sqlite3
from typing import NamedTuple

CURRENT = (
    "assignment.seq, assignment.job, assignment.phase, assignment.person, badge, person.name, "
    "assignment.position, assignment.since, "
    "(select name from person as giver where giver.person = assignment.by) as by "
    "from assignment join person using (person) join job using (job) "
    "left join phase on phase.job = assignment.job and phase.phase = assignment.phase "
    "where assignment.until is null "
    "and job.state not in ('finished', 'closed', 'declined', 'turned-away') "
    "and (assignment.phase is null or phase.state in ('to come', 'under way'))"
)
"""Lines of lists whose work is not over, with who has them and who gave them."""


class Line(NamedTuple):
    """One line of a person's list. `phase` None is the whole job."""

    seq: int
    job: str
    phase: str | None
    person: str
    badge: str
    name: str
    position: float
    since: str
    by: str

    @property
    def where(self) -> str:
        """`2417.4`, or `2417` for the whole job."""
        return self.job if self.phase is None else f"{self.job}.{self.phase}"


def all_lines(db: sqlite3.Connection) -> list[Line]:
    """Return every line, by person and in the order of their lists; one query."""
    rows = db.execute(
        f"select {CURRENT} order by assignment.person, assignment.position, assignment.seq"
    )
    return [Line(*row) for row in rows]


def lines_of(db: sqlite3.Connection, person: str) -> list[Line]:
    """Return a person's list in its order."""
    rows = db.execute(
        f"select {CURRENT} and assignment.person = ? order by assignment.position, assignment.seq",
        [person],
    )
    return [Line(*row) for row in rows]


def who_has(db: sqlite3.Connection, job: str, phase: str | None, day: str) -> list[Line]:
    """Return the lines of just this job, or just this phase, in the order of giving.

    Args:
        day: a local date; whoever had left by then has it no more.
    """
    rows = db.execute(
        f"select {CURRENT} and assignment.job = ? and assignment.phase is ? "
        "and (person.until_day is null or person.until_day >= ?) order by assignment.seq",
        [job, phase, day],
    )
    return [Line(*row) for row in rows]


def ends_of(db: sqlite3.Connection, person: str) -> tuple[float, float]:
    """Return the first and last position of a person's list, lines that are over included."""
    row = db.execute(
        "select coalesce(min(position), 1), coalesce(max(position), 0) from assignment "
        "where person = ? and until is null",
        [person],
    ).fetchone()
    return row[0], row[1]
