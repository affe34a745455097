"""What the shop's own past teaches: one record for each finished phase, from the shop file.

Whatever the number of jobs, the number of queries is the same. Small jobs, and what was marked as
not teaching, are left out; only confirmed labour counts.
"""

from __future__ import annotations

import json
import sqlite3
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import groupby
from typing import NamedTuple, cast

from store.edges.instants import from_text
from store.file.adopted import Adopted
from store.file.facts import calendar_of
from store.file.past_rows import imported_work
from store.file.past_spans import open_spans, people, spans
from store.learn.records import PhaseClass, Record
from store.rules.lumped import Stint, lumped
from store.sums.clock_labour import labour_h
from store.sums.working_time import Calendar

__all__ = ["open_spans", "own_work", "past_work", "people", "spans"]

CLOSED = ("closed",)
RUNNING = ("booked", "arrived", "quoted", "waiting", "on-lift", "off-lift", "finished", "closed")
"""States of jobs whose finished phases may teach before the job is closed."""

PHASE = (
    "select * from (select job, phase, code, phase.version, "
    "phase.kind, class, phase.state, book_h, serves, "
    "begun_at, phase.finished_at, cut_off, phase.not_teaching as kept_out, operations, family, "
    "grade, row_number() over (partition by job order by position) as seq, number from phase "
    "join job using (job) where not small and {}) "
    "where kind = 'labour' and (state = 'finished' or cut_off) and {} order by number, seq"
)
"""`seq` counts every phase of the route, also those without labour and those left out."""
CLOCK = (
    "select job, phase, badge, part, since, until, breaks_worked, confirmed from clock "
    "join person using (person) where {} order by clock.since, clock.seq"
)
SIGNED = (
    "select job, phase, badge, at from signature join step using (job, phase, step) "
    "join person using (person) where step.kind = 'hold point' and not void and {} order by seq"
)
SURPRISE = (
    "select finding.job, finding.phase, finding.hours from finding "
    "left join supplement on supplement.finding = finding.seq "
    "where finding.kind = 'surprise' and not withdrawn "
    "and coalesce(supplement.state, '') not in ('refused', 'withdrawn') and {}"
)
"""Refused extra work was not done."""

Key = tuple[str, str]


@dataclass(slots=True)
class _Labour:
    """What the clocks of one phase say. Hours; instants in POSIX seconds."""

    hours: dict[str, float] = field(default_factory=lambda: defaultdict(float))
    clocks: dict[str, list[tuple[float, float]]] = field(default_factory=lambda: defaultdict(list))
    people: set[str] = field(default_factory=set[str])
    first: float = 0.0
    last: float = 0.0
    whole: bool = True
    """Every clock has stopped and was confirmed."""

    @property
    def total_h(self) -> float:
        """Labour of lead and helpers."""
        return sum(self.hours.values())

    def technician(self) -> str:
        """Whoever gave most hours; of equals the first by badge."""
        return max(sorted(self.hours), key=lambda badge: self.hours[badge])


def past_work(
    db: sqlite3.Connection, *, running: bool = False, before_adopting: bool = False
) -> list[Record]:
    """Return what teaches, job by job in the order of their numbers, phases in that of the route;
    then what was imported.

    Args:
        running: also the finished phases of jobs that still go on, where all their clocks were
            confirmed already.
        before_adopting: in book hours as the book said them before it took over what was learned.
    """
    states = RUNNING if running else CLOSED
    marks = ", ".join("?" * len(states))
    which = f"job.not_teaching is null and job.state in ({marks})"
    phases = db.execute(PHASE.format(which, "kept_out is null"), states)
    learned = Adopted(db) if before_adopting else None
    only = _Only("job is not null", ())
    return _records(db, phases, only, learned, confirmed=True) + imported_work(db)


def own_work(db: sqlite3.Connection, jobs: Sequence[str]) -> list[Record]:
    """Return the finished phases of some jobs, whether they teach and are confirmed or not, in book
    hours from before the book took over what was learned."""
    only = _Only(f"job in ({', '.join('?' * len(jobs))})", tuple(jobs))
    phases = db.execute(PHASE.format(only.where, "not cut_off"), only.values)
    return _records(db, phases, only, Adopted(db), confirmed=False)


class _Only(NamedTuple):
    """Which jobs a query is about."""

    where: str
    values: tuple[str, ...]


def _records(
    db: sqlite3.Connection,
    phases: Iterable[sqlite3.Row],
    only: _Only,
    learned: Adopted | None,
    *,
    confirmed: bool,
) -> list[Record]:
    labour = _labour(db, calendar_of(db), only, confirmed=confirmed)
    signed = _signed(db, only)
    found_h = _found_h(db, only)
    records: list[Record] = []
    for _, rows in groupby(phases, key=lambda row: row["job"]):
        job = [row for row in rows if _teaches(row, labour)]
        pairs = lumped([_stint(row, labour, signed) for row in job])
        records += [
            _record(
                row,
                _book_h(row, learned),
                labour[row["job"], row["phase"]],
                pairs.get(row["seq"]),
                found_h,
            )
            for row in job
        ]
    return records


def _teaches(row: sqlite3.Row, labour: Mapping[Key, _Labour]) -> bool:
    at = labour.get((row["job"], row["phase"]))
    return at is not None and at.whole and at.total_h > 0 and row["book_h"] > 0


def _book_h(row: sqlite3.Row, learned: Adopted | None) -> float:
    times = 1.0 if learned is None else learned.times(row["version"], row["code"], row["family"])
    return float(row["book_h"]) / times


def _record(
    row: sqlite3.Row,
    book_h: float,
    labour: _Labour,
    neighbour: int | None,
    found_h: _Findings | None,
) -> Record:
    begun, finished = row["begun_at"], row["finished_at"]
    started = min(labour.first, _seconds(begun)) if begun else labour.first
    closed = _seconds(finished) if finished else labour.last
    return Record(
        job=row["job"], template="+".join(json.loads(row["operations"])), variant=row["family"],
        phase=row["code"], seq=row["seq"], technician=labour.technician(), started=started,
        closed=max(started, closed), book_h=book_h, actual_h=labour.total_h,
        grade=row["grade"], phase_class=cast("PhaseClass", row["class"]),
        people=len(labour.people), lumped_with=neighbour, cut_off=bool(row["cut_off"]),
        serves=tuple(json.loads(row["serves"])),
        surprise_h=None if found_h is None else found_h.of(row["job"], row["phase"]),
    )  # fmt: skip


def _labour(
    db: sqlite3.Connection, calendar: Calendar, only: _Only, *, confirmed: bool
) -> dict[Key, _Labour]:
    """Clocks by job and phase; a learner's hours are kept apart from the phase's own."""
    found: dict[Key, _Labour] = defaultdict(_Labour)
    for job, phase, badge, part, since, until, breaks_worked, is_confirmed in db.execute(
        CLOCK.format(only.where), only.values
    ):
        at = found[job, phase]
        if until is None or (confirmed and not is_confirmed):
            at.whole = False
            continue
        start, end = from_text(since), from_text(until)
        at.people.add(badge)
        if part == "learner":
            continue
        at.hours[badge] += labour_h(calendar, start, end, bool(breaks_worked))
        at.clocks[badge].append((start.timestamp(), end.timestamp()))
        at.first = at.first or start.timestamp()
        at.last = max(at.last, end.timestamp())
    return found


def _stint(
    row: sqlite3.Row, labour: Mapping[Key, _Labour], signed: Mapping[Key, list[tuple[str, float]]]
) -> Stint:
    key = row["job"], row["phase"]
    at = labour[key]
    return Stint(
        row["seq"], at.technician(), row["book_h"], at.total_h, at.clocks, signed.get(key, ())
    )


def _signed(db: sqlite3.Connection, only: _Only) -> dict[Key, list[tuple[str, float]]]:
    found: dict[Key, list[tuple[str, float]]] = defaultdict(list)
    for job, phase, badge, at in db.execute(SIGNED.format(only.where), only.values):
        found[job, phase].append((badge, _seconds(at)))
    return found


@dataclass(slots=True)
class _Findings:
    """Hours of surprises by job and phase; None where one of them has no hours of its own."""

    hours: dict[Key, float | None] = field(default_factory=dict[Key, "float | None"])

    def of(self, job: str, phase: str) -> float | None:
        """0 where nothing was found: the shop would have written it down."""
        return self.hours.get((job, phase), 0.0)


def _found_h(db: sqlite3.Connection, only: _Only) -> _Findings | None:
    """None where the shop writes no surprises down."""
    if (
        db.execute(
            "select 1 from finding where kind = 'surprise' and not withdrawn limit 1"
        ).fetchone()
        is None
    ):
        return None
    found = _Findings()
    where = only.where.replace("job", "finding.job")
    for job, phase, hours in db.execute(SURPRISE.format(where), only.values):
        before = found.hours.get((job, phase), 0.0)
        found.hours[job, phase] = None if hours is None or before is None else before + hours
    return found


def _seconds(text: str) -> float:
    return from_text(text).timestamp()
