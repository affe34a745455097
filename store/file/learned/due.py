"""Which jobs' forecasts are to be made anew, and whether there is something to learn from."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from store.edges.instants import from_text
from store.file.facts import calendar_of
from store.file.learned.kept import Part, Position, is_here, looked_at, newest_position, parts
from store.rules.teaching import ANSWERS, FEW, MOVES, TEACHES, TEACHES_MUCH, TEACHES_TOO, is_due

HALF_DAY_H = 4.0
"""Open hours after which a forecast is made anew, whatever happened: the shop's pace moved."""

LIVE = (
    "select job from job where state not in ('closed', 'declined', 'turned-away') and not small "
    "and exists (select 1 from phase where phase.job = job.job "
    "and phase.state in ('to come', 'under way')) order by number"
)
"""Jobs of which something is left; small ones are not worth a forecast."""


@dataclass(frozen=True, slots=True)
class Due:
    """What is to be done.

    Attributes:
        at: where the ledger stands.
        known: parts of what was learned that hold for this ledger.
        live: all jobs of which something is left.
        whole: all parts are there.
        concerned: those to which something happened since their forecast was made.
        aged: those whose forecast is old, or not there.
        learn: everything is to be learned anew.
    """

    at: Position
    known: Mapping[str, Part]
    whole: bool
    live: tuple[str, ...]
    concerned: tuple[str, ...]
    aged: tuple[str, ...]
    learn: bool

    @property
    def anything(self) -> bool:
        """There is something to do."""
        return self.learn or bool(self.concerned or self.aged)


def due(db: sqlite3.Connection, versions: Mapping[str, str], now: datetime) -> Due:
    """Return what is to be done at this moment of the file, in a fixed number of queries."""
    known = parts(db, versions)
    live = [row[0] for row in db.execute(LIVE)]
    moved = _moved(db, _looked(db))
    old = _old(db, live, now)
    return Due(
        newest_position(db), known, len(known) == len(versions), tuple(live),
        tuple(one for one in live if one in moved), tuple(old), _learn(db, known, versions),
    )  # fmt: skip


def newer_entries(db: sqlite3.Connection, known: Mapping[str, Part], kinds: frozenset[str]) -> int:
    """Return how many entries of some kinds came since everything was learned."""
    since = min((one.at.seq for one in known.values()), default=0)
    marks = ", ".join("?" * len(kinds))
    found = db.execute(
        f"select count(*) from ledger where seq > ? and kind in ({marks})", [since, *sorted(kinds)]
    )
    return int(found.fetchone()[0])


def may_teach(db: sqlite3.Connection, known: Mapping[str, Part]) -> bool:
    """Tell whether anything came since that could teach."""
    return newer_entries(db, known, TEACHES | TEACHES_TOO) > 0


def _learn(db: sqlite3.Connection, known: Mapping[str, Part], versions: Mapping[str, str]) -> bool:
    if len(known) < len(versions):
        return True
    cases = max(one.cases for one in known.values())
    if cases <= FEW:
        return newer_entries(db, known, TEACHES) > 0
    finished = newer_entries(db, known, frozenset({"phase-finished"}))
    return is_due(cases, finished) or newer_entries(db, known, TEACHES_MUCH) > 0


def _looked(db: sqlite3.Connection) -> int:
    at = looked_at(db)
    return at.seq if is_here(db, at) else 0


def _moved(db: sqlite3.Connection, since: int) -> set[str]:
    marks = ", ".join("?" * len(MOVES))
    passed = db.execute(
        "select value from ledger, json_each(payload, '$.passed') where ledger.seq > ? "
        "and kind in ('line-ordered', 'line-order-taken-back')",
        [since],
    )
    return {row[0] for row in passed} | {
        row[0]
        for row in db.execute(
            "select distinct entry.job from entry cross join ledger on ledger.seq "
            "between entry.seq and entry.last where entry.seq > ? and entry.job is not null "
            f"and (+kind in ({marks}) or +kind = ? and (payload ->> '$.answer' is not null "
            "or exists (select 1 from step where step.job = payload ->> '$.job' and "
            "phase = payload ->> '$.phase' and step = payload ->> '$.step' "
            "and step.kind = 'hold point')))",
            [since, *sorted(MOVES), ANSWERS],
        )
    }


def _old(db: sqlite3.Connection, live: list[str], now: datetime) -> list[str]:
    made = made_at(db)
    calendar = calendar_of(db)
    return [
        job
        for job in live
        if job not in made or (made[job] < now and calendar.working_h(made[job], now) >= HALF_DAY_H)
    ]


def made_at(db: sqlite3.Connection) -> dict[str, datetime]:
    """Return when each job's forecast was made."""
    try:
        found = db.execute("select job, made_at from learned_forecast").fetchall()
    except sqlite3.OperationalError:
        return {}
    return {row[0]: from_text(row[1]) for row in found}
