"""Jobs that go on, as far as a forecast asks: what was done, what is left, who is on it."""

from __future__ import annotations

import json
import sqlite3
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from store.edges.instants import from_text
from store.file.adopted import Adopted
from store.file.facts import CHECKED_UNTIL, calendar_of
from store.file.labour import clock_labour_h
from store.file.learned.cases import is_believable
from store.file.line_now import IN_LINE
from store.file.owed_names import owed_names
from store.file.past_work import own_work
from store.file.route_now import PHASE, STEP, PhaseRow, step_row
from store.learn.records import Record
from store.rules.forks import Question, question
from store.sums.working_time import Calendar

LIVE = ("to come", "under way")


@dataclass(frozen=True, slots=True)
class Stretch:
    """A clock on a phase. Hours; POSIX seconds; `until` None while it runs."""

    badge: str
    since: float
    until: float | None
    hours: float
    learner: bool


@dataclass(frozen=True, slots=True)
class HandPhase:
    """One phase of a job that goes on.

    Attributes:
        seq: its place in the route, every phase counted.
        clocks: on it, in the order in which they began.
        extra_h: extra work in it that was agreed or waits for the customer's word.
        owed_since: since when a hold point in it waits for another person's name (POSIX seconds).
        learned: times the hours that the book said before it took over what was learned.
    """

    seq: int
    row: PhaseRow
    clocks: tuple[Stretch, ...] = ()
    extra_h: float = 0.0
    owed_since: float | None = None
    learned: float = 1.0

    @property
    def labour_h(self) -> float:
        """Labour of lead and helpers so far."""
        return sum(one.hours for one in self.clocks if not one.learner)

    @property
    def technician(self) -> str | None:
        """Whose clock runs on it, else who worked on it last; None where nobody did."""
        ours = [one for one in self.clocks if not one.learner]
        running = [one for one in ours if one.until is None]
        return (running or ours)[-1].badge if ours else None

    @property
    def left(self) -> bool:
        """It is not finished, and not left out."""
        return self.row.state in LIVE


@dataclass(frozen=True, slots=True)
class Hand:
    """One job that goes on, at one moment of the file.

    Attributes:
        own: its own finished phases, whether their clocks were confirmed yet or not.
        asked: decisions that are open and may change its route, in the order of the route.
        conditions: codes of the open conditions that the vehicle carries.
        been_on: it has been on a lift, or its work has begun where it stands.
        line: its place among those that wait for a lift, from 0; None where it does not wait.
        checked_until: when it was agreed (POSIX seconds), where its check had been sold before;
            else 0.
        agreed: the customer agreed; else only its check is laid.
    """

    job: str
    family: str
    operations: tuple[str, ...]
    grade: int
    version: int | None
    options: Mapping[str, str]
    phases: tuple[HandPhase, ...]
    own: tuple[Record, ...] = ()
    asked: tuple[Question, ...] = ()
    conditions: frozenset[str] = frozenset()
    been_on: bool = True
    line: int | None = None
    mass_kg: float | None = None
    checked_until: float = 0.0
    agreed: bool = True

    @property
    def template(self) -> str:
        """Its operations in one word."""
        return "+".join(self.operations)

    @property
    def labour_h(self) -> float:
        """Labour of lead and helpers in the whole job."""
        return sum(one.labour_h for one in self.phases)

    @property
    def is_worked(self) -> bool:
        """Somebody worked on what was agreed; a check before it does not count."""
        return any(
            clock.hours > 0 and not clock.learner and clock.since >= self.checked_until
            for one in self.phases
            for clock in one.clocks
        )

    @property
    def waits(self) -> bool:
        """It waits for its first lift."""
        return self.line is not None and not self.been_on

    def believable(self) -> tuple[Record, ...]:
        """Its own finished phases as far as their hours can be true."""
        return tuple(one for one in self.own if is_believable(one))


def hands(db: sqlite3.Connection, jobs: Sequence[str], now: datetime) -> dict[str, Hand]:
    """Return jobs by number, in their order; the number of queries does not grow with them."""
    marks = ", ".join("?" * len(jobs))
    rows = {
        row["job"]: row
        for row in db.execute(
            "select job, job.family, operations, grade, version, options, state, in_at, mass_kg, "
            f"agreed_seq, {CHECKED_UNTIL} as checked_until "
            f"from job join vehicle using (vehicle) where job in ({marks})",
            list(jobs),
        )
    }
    phases = _phases(db, marks, jobs, now)
    own: dict[str, list[Record]] = defaultdict(list)
    for record in own_work(db, jobs):
        own[record.job].append(record)  # finished all the same: see `Hand.believable`
    asked, conditions = _asked(db, marks, jobs, phases), _conditions(db, marks, jobs)
    line = _line(db)
    return {
        job: Hand(
            job, row["family"], tuple(json.loads(row["operations"])), row["grade"],
            row["version"], json.loads(row["options"]), tuple(phases[job]), tuple(own[job]),
            tuple(asked[job]), frozenset(conditions[job]),
            row["state"] not in ("waiting", "booked", "arrived", "quoted", "enquiry")
            or row["in_at"] is not None, line.get(job), row["mass_kg"],
            from_text(row["checked_until"]).timestamp() if row["checked_until"] else 0.0,
            row["agreed_seq"] is not None,
        )
        for job in jobs
        if (row := rows.get(job)) is not None
    }  # fmt: skip


def _phases(
    db: sqlite3.Connection, marks: str, jobs: Sequence[str], now: datetime
) -> dict[str, list[HandPhase]]:
    clocks = _clocks(db, marks, jobs, calendar_of(db), now)
    extra = {
        (row[0], row[1]): float(row[2])
        for row in db.execute(
            f"select job, phase, sum(hours) from supplement where job in ({marks}) "
            "and phase is not null and state in ('asked', 'approved') group by job, phase",
            list(jobs),
        )
    }
    owed, learned = owed_names(db, marks, jobs), Adopted(db)
    found: dict[str, list[HandPhase]] = defaultdict(list)
    for row in db.execute(
        f"select job, (select family from job where job.job = phase.job), {PHASE} from phase "
        f"where job in ({marks}) order by job, position",
        list(jobs),
    ):
        one, place = PhaseRow(*row[2:]), len(found[row[0]]) + 1
        key = row[0], one.phase
        found[row[0]].append(
            HandPhase(
                place,
                one,
                tuple(clocks[key]),
                extra.get(key, 0.0),
                owed.get(key),
                learned.times(one.version, one.code, row[1]),
            )
        )
    return found


def _clocks(
    db: sqlite3.Connection, marks: str, jobs: Sequence[str], calendar: Calendar, now: datetime
) -> Mapping[tuple[str, str], list[Stretch]]:
    found: dict[tuple[str, str], list[Stretch]] = defaultdict(list)
    for job, phase, badge, part, since, until, worked in db.execute(
        "select job, phase, badge, part, since, until, breaks_worked from clock "
        f"join person using (person) where job in ({marks}) order by since, clock.seq",
        list(jobs),
    ):
        hours = clock_labour_h(calendar, since, until, bool(worked), now)
        end = None if until is None else from_text(until).timestamp()
        found[job, phase].append(
            Stretch(badge, from_text(since).timestamp(), end, hours, part == "learner")
        )
    return found


def _asked(
    db: sqlite3.Connection,
    marks: str,
    jobs: Sequence[str],
    phases: Mapping[str, Sequence[HandPhase]],
) -> dict[str, list[Question]]:
    """Decisions not answered yet, in phases that are left."""
    codes = {(job, one.row.phase): one.row.code for job, each in phases.items() for one in each}
    found: dict[str, list[Question]] = defaultdict(list)
    for row in db.execute(
        f"select {STEP} where step.job in ({marks}) and step.kind = 'decision' "
        "and step.state != 'done' and phase.state in ('to come', 'under way') "
        "order by step.job, phase.position, step.position",
        list(jobs),
    ):
        one = question(codes[row["job"], row["phase"]], step_row(row).spec)
        if one is not None:
            found[row["job"]].append(one)
    return found


def _conditions(db: sqlite3.Connection, marks: str, jobs: Sequence[str]) -> dict[str, set[str]]:
    found: dict[str, set[str]] = defaultdict(set)
    for row in db.execute(f"select job, code from condition where job in ({marks})", list(jobs)):
        found[row[0]].add(row[1])
    return found


def _line(db: sqlite3.Connection) -> dict[str, int]:
    """The place of each job that waits for a lift, in the order of the line."""
    rows = db.execute(
        "select job from job where state = 'waiting' and in_at is null and not small "
        f"order by {IN_LINE}"
    )
    return {row[0]: place for place, row in enumerate(rows)}
