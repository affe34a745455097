"""Jobs that go on, as far as a forecast asks: what was done, what is left, who is on it."""

from __future__ import annotations

import json
import sqlite3
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import cast

from store.edges.instants import from_text
from store.file.facts import calendar_of, setting
from store.file.labour import clock_labour_h
from store.file.route_now import PHASE, PhaseRow
from store.learn.records import AtHand, PhaseClass, Planned, Record
from store.rules.lumped import Stint, lumped
from store.sums.working_time import Calendar

LIVE = ("to come", "under way")


@dataclass(frozen=True, slots=True)
class Stretch:
    """A clock on a phase. Hours; instants in POSIX seconds; `until` None while it runs."""

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
    """

    seq: int
    row: PhaseRow
    clocks: tuple[Stretch, ...] = ()
    extra_h: float = 0.0

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
        now: the shop's instant.
        cautious: the shop's chosen quantile.
        employed: badges of who is employed that day.
        in_line: how many wait for a lift before it; None where it has been on one, or needs none.
    """

    job: str
    seq: int
    now: datetime
    cautious: float
    family: str
    operations: tuple[str, ...]
    grade: int
    version: int | None
    options: str
    state: str
    phases: tuple[HandPhase, ...]
    employed: frozenset[str]
    in_line: int | None = None

    @property
    def labour_h(self) -> float:
        """Labour of lead and helpers in the whole job."""
        return sum(one.labour_h for one in self.phases)

    def to_do(self) -> list[HandPhase]:
        """Phases of labour that are left, in the order of the route."""
        return [one for one in self.phases if one.left and one.row.kind == "labour"]

    def at_hand(self) -> AtHand:
        """The job as the learner of labour asks for it."""
        return AtHand(
            self.job, "+".join(self.operations), self.family, self.now.timestamp(), self.grade,
            tuple(self._own()), self.employed,
        )  # fmt: skip

    def planned(self) -> list[Planned]:
        """What is left of labour, as the learner of labour asks for it."""
        return [
            Planned(
                one.row.code, one.seq, one.row.book_h, cast("PhaseClass", one.row.phase_class),
                tuple(json.loads(one.row.serves)), one.technician, one.labour_h, one.extra_h,
            )
            for one in self.to_do()
            if one.row.book_h > 0
        ]  # fmt: skip

    def _own(self) -> Iterator[Record]:
        """Its own finished phases, whether their clocks were confirmed yet or not."""
        done = [
            one
            for one in self.phases
            if one.row.kind == "labour" and one.row.state == "finished" and one.labour_h > 0
            and one.row.book_h > 0
        ]  # fmt: skip
        neighbours = lumped([_stint(one) for one in done])
        for one in done:
            ours = [each for each in one.clocks if not each.learner]
            finished = one.row.finished_at
            started = min(each.since for each in ours)
            closed = from_text(finished).timestamp() if finished else self.now.timestamp()
            yield Record(
                self.job, "+".join(self.operations), self.family, one.row.code, one.seq,
                _most(one), started, max(started, closed), one.row.book_h, one.labour_h,
                self.grade, cast("PhaseClass", one.row.phase_class), len({e.badge for e in ours}),
                neighbours.get(one.seq), serves=tuple(json.loads(one.row.serves)),
            )  # fmt: skip


def _most(phase: HandPhase) -> str:
    hours: dict[str, float] = defaultdict(float)
    for one in phase.clocks:
        if not one.learner:
            hours[one.badge] += one.hours
    return max(sorted(hours), key=lambda badge: hours[badge])


def _stint(phase: HandPhase) -> Stint:
    clocks: dict[str, list[tuple[float, float]]] = defaultdict(list)
    for one in phase.clocks:
        if not one.learner and one.until is not None:
            clocks[one.badge].append((one.since, one.until))
    return Stint(phase.seq, _most(phase), phase.row.book_h, phase.labour_h, clocks)


def hands(db: sqlite3.Connection, jobs: Sequence[str], now: datetime) -> list[Hand]:
    """Return jobs in their order; the number of queries does not grow with them."""
    marks = ", ".join("?" * len(jobs))
    phases = _phases(db, marks, jobs, calendar_of(db), now)
    rows = {
        row["job"]: row
        for row in db.execute(
            "select job, family, operations, grade, version, options, state from job "
            f"where job in ({marks})",
            list(jobs),
        )
    }
    seq = db.execute("select coalesce(max(seq), 0) from ledger").fetchone()[0]
    shared = seq, now, float(setting(db, "cautious"))
    employed, line = _employed(db, now), _line(db)
    return [
        Hand(
            job, *shared, row["family"], tuple(json.loads(row["operations"])), row["grade"],
            row["version"], row["options"], row["state"], tuple(phases.get(job, ())), employed,
            line.get(job),
        )
        for job in jobs
        if (row := rows.get(job)) is not None
    ]  # fmt: skip


def _phases(
    db: sqlite3.Connection, marks: str, jobs: Sequence[str], calendar: Calendar, now: datetime
) -> dict[str, list[HandPhase]]:
    clocks = _clocks(db, marks, jobs, calendar, now)
    extra = _extra(db, marks, jobs)
    found: dict[str, list[HandPhase]] = defaultdict(list)
    for row in db.execute(
        f"select job, {PHASE} from phase where job in ({marks}) order by job, position", list(jobs)
    ):
        one = PhaseRow(*row[1:])
        key = row[0], one.phase
        place = len(found[row[0]]) + 1
        found[row[0]].append(HandPhase(place, one, tuple(clocks[key]), extra.get(key, 0.0)))
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


def _extra(db: sqlite3.Connection, marks: str, jobs: Sequence[str]) -> dict[tuple[str, str], float]:
    return {
        (row[0], row[1]): row[2]
        for row in db.execute(
            f"select job, phase, sum(hours) from supplement where job in ({marks}) "
            "and phase is not null and state in ('asked', 'approved') group by job, phase",
            list(jobs),
        )
    }


def _employed(db: sqlite3.Connection, now: datetime) -> frozenset[str]:
    day = calendar_of(db).day_of(now).isoformat()
    return frozenset(
        row[0]
        for row in db.execute(
            "select badge from person where from_day <= ?1 "
            "and (until_day is null or until_day >= ?1)",
            [day],
        )
    )


def _line(db: sqlite3.Connection) -> dict[str, int]:
    """How many wait before each job that waits for a lift."""
    rows = db.execute(
        "select job from job where state = 'waiting' and not small "
        "order by coalesce(queue_at, opened_at), number"
    )
    return {row[0]: place for place, row in enumerate(rows)}
