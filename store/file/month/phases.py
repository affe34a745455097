"""Labour phases with their clocks, as an owner's month judges them: read once, counted once."""

from __future__ import annotations

import json
import sqlite3
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime

from store.edges.instants import from_text
from store.file.labour import clock_labour_h
from store.sums.month.jobs import Clocked, PhaseJudged
from store.sums.working_time import Calendar

CLOCKS = (
    "select clock.job, clock.phase, clock.seq, badge, part, since, clock.until, breaks_worked "
    "from clock join person using (person) join phase using (job, phase) join job using (job) "
    "where {} order by since, clock.seq"
)
PHASES = (
    "select job, phase, code, name, class, serves, family, small, phase.state, "
    "phase.finished_at, cut_off, phase.not_teaching, estimate_middle_h, estimate_cautious_h, "
    "book_h from phase join job using (job) where phase.kind = 'labour' and {} "
    "order by job.number, position"
)
ENDED = (
    "((job.state = 'closed' and job.closed_at < ?1 and job.closed_at >= ?2) "
    "or (phase.state = 'finished' and phase.finished_at < ?1 and phase.finished_at >= ?2))"
)
"""Phases of closed jobs, whatever became of them, and finished ones of the others."""

Key = tuple[str, str]


def phases_between(
    db: sqlite3.Connection, calendar: Calendar, span: tuple[str, str], now: datetime
) -> Iterator[PhaseJudged]:
    """Yield the labour phases of jobs closed, and those finished, in a time; job by job in the
    order of their numbers, phases in that of the route. Two queries.

    Args:
        span: end and beginning of the time, in the file's form.
        now: to which running clocks count.
    """
    clocks = _clocks(db.execute(CLOCKS.format(ENDED), span), calendar, now)
    for row in db.execute(PHASES.format(ENDED), span):
        yield _phase(row, clocks.get((row["job"], row["phase"]), ()))


def _clocks(
    rows: Iterable[sqlite3.Row], calendar: Calendar, now: datetime
) -> dict[Key, list[Clocked]]:
    found: dict[Key, list[Clocked]] = defaultdict(list)
    for job, phase, seq, badge, part, since, until, breaks_worked in rows:
        hours = clock_labour_h(calendar, since, until, bool(breaks_worked), now)
        ended = from_text(until) if until is not None else None
        found[job, phase].append(Clocked(seq, badge, part, from_text(since), ended, hours))
    return found


def _phase(row: sqlite3.Row, clocks: Sequence[Clocked]) -> PhaseJudged:
    hours = hours_by_badge(clocks, ("lead", "helper"))
    return PhaseJudged(
        job=row["job"], phase=row["phase"], code=row["code"], name=row["name"],
        phase_class=row["class"], operation="+".join(json.loads(row["serves"])),
        family=row["family"], small=bool(row["small"]), badge=most(hours), state=row["state"],
        finished_at=from_text(row["finished_at"]) if row["finished_at"] else None,
        cut_off=bool(row["cut_off"]), not_teaching=row["not_teaching"],
        labour_h=sum(hours.values()), estimate_h=row["estimate_middle_h"],
        cautious_h=row["estimate_cautious_h"], book_h=row["book_h"], clocks=tuple(clocks),
    )  # fmt: skip


def hours_by_badge(clocks: Iterable[Clocked], parts: Sequence[str]) -> dict[str, float]:
    """Return labour by badge of those who took one of some parts in it."""
    found: dict[str, float] = defaultdict(float)
    for one in clocks:
        if one.part in parts:
            found[one.badge] += one.hours
    return dict(found)


def most(hours: dict[str, float]) -> str | None:
    """Return whoever gave most hours; of equals the first by badge; None where nobody did."""
    return max(sorted(hours), key=lambda badge: hours[badge], default=None)
