"""One look's rows for many jobs at once: the number of queries does not grow with them."""

from __future__ import annotations

import json
import sqlite3
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime

from store.edges.instants import from_text
from store.file.facts import calendar_of, setting
from store.file.kits.lacking import Lacking, lacking_kits
from store.file.learned.kept import Forecast, forecasts
from store.file.line_now import IN_LINE
from store.file.route_now import PHASE, STEP, PhaseRow, StepRow, step_row
from store.file.work_lists import Line, all_lines
from store.rules.estimating import BOOK
from store.rules.kit_at_hand import KitNeed
from store.sums.working_time import Calendar
from store.views import outside
from store.views.outside_values import CallLine, OutworkLine
from store.views.parts_values import HireOut
from store.views.tools.hired import hires_out
from store.views.values import AskedWork, Hold, PersonNow


@dataclass(frozen=True, slots=True)
class ClockRow:
    """A clock on a phase."""

    seq: int
    person: str
    job: str
    phase: str
    part: str
    since: str
    until: str | None
    breaks_worked: bool


@dataclass(frozen=True, slots=True)
class HoldRow:
    """A hold, over or not."""

    seq: int
    job: str
    phase: str | None
    reason: str
    since: str
    until: str | None
    expected: str | None
    next_move: str | None
    text: str | None

    def value(self) -> Hold:
        """As screens get it."""
        return Hold(
            self.phase, self.reason, from_text(self.since),
            from_text(self.expected) if self.expected else None, self.next_move, self.text,
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class JobHead:
    """A job's own row."""

    job: str
    vehicle: str
    family: str
    operations: tuple[str, ...]
    work: str
    state: str
    small: bool
    grade: int
    basis: str | None
    version: int | None
    options: str
    promise: str | None
    promise_chance: float | None
    in_at: str | None
    place: str | None
    place_kind: str | None
    agreed: tuple[float, float] | None
    """Middle and cautious hours as they stand, where they were learned and not the book's."""
    mass_kg: float | None


@dataclass(slots=True)
class Loaded:
    """Rows of the asked jobs, by job."""

    calendar: Calendar
    now: datetime
    cautious: float
    heads: list[JobHead]
    people: dict[str, PersonNow]
    phases: dict[str, list[PhaseRow]] = field(default_factory=lambda: defaultdict(list))
    gates: dict[str, list[StepRow]] = field(default_factory=lambda: defaultdict(list))
    clocks: dict[str, list[ClockRow]] = field(default_factory=lambda: defaultdict(list))
    holds: dict[str, list[HoldRow]] = field(default_factory=lambda: defaultdict(list))
    asked: dict[str, list[AskedWork]] = field(default_factory=lambda: defaultdict(list))
    conditions: dict[str, list[str]] = field(default_factory=lambda: defaultdict(list))
    lines: dict[str, list[Line]] = field(default_factory=lambda: defaultdict(list))
    """Whose list a job, or a phase of it, is on: of people who work here."""
    forecasts: dict[str, Forecast] = field(default_factory=dict[str, Forecast])
    away: dict[str, list[OutworkLine]] = field(default_factory=lambda: defaultdict(list))
    """Work that is at other firms now."""
    called: dict[str, CallLine] = field(default_factory=dict[str, CallLine])
    """The newest attempt to reach the customer."""
    hires: tuple[HireOut, ...] = ()
    """All hired kits that were not sent back."""
    lacking: Lacking = field(default_factory=dict[str, dict[str, tuple[KitNeed, ...]]])
    """Of jobs that came in: phases to come that may not be begun, with the kits that lack."""


NEWEST = (
    "select {} from estimate_change where estimate_change.job = job.job order by seq desc limit 1"
)
HEAD = (
    "job.job, label, job.family, operations, work, state, small, grade, basis, version, options, "
    "promise, promise_chance, in_at, place.code, place.kind, vehicle.mass_kg, "
    "(select source from estimate where estimate.seq = agreed_seq) as source, "
    f"({NEWEST.format('middle_h')}) as middle_h, ({NEWEST.format('cautious_h')}) as cautious_h"
)
FROM = (
    "job join vehicle using (vehicle) "
    "left join job_place on job_place.job = job.job and part = 'body' "
    "left join place using (place)"
)
IN = ("on-lift", "off-lift")
"""States of a job that came in and goes on."""
LIVE = "state not in ('closed', 'declined', 'turned-away')"


def live_jobs(db: sqlite3.Connection) -> list[str]:
    """Return the numbers of all jobs that still go on, in the order of the line."""
    return [row[0] for row in db.execute(f"select job from job where {LIVE} order by {IN_LINE}")]


def load(
    db: sqlite3.Connection, jobs: Sequence[str], now: datetime, people: dict[str, PersonNow]
) -> Loaded:
    """Return what is needed to describe jobs, in their order."""
    marks = ", ".join("?" * len(jobs))
    rows = db.execute(f"select {HEAD} from {FROM} where job.job in ({marks})", list(jobs))
    heads = {row[0]: _head(row) for row in rows}
    loaded = Loaded(
        calendar_of(db), now, setting(db, "cautious"), [heads[job] for job in jobs if job in heads],
        people, hires=hires_out(db),
    )  # fmt: skip
    _load_phases(db, loaded, marks, jobs)
    came_in = {one.job: loaded.phases[one.job] for one in loaded.heads if one.state in IN}
    loaded.lacking = lacking_kits(db, came_in, loaded.calendar.day_of(now))
    _load_rest(db, loaded, marks, jobs)
    for line in all_lines(db):
        if line.person in people:
            loaded.lines[line.job].append(line)
    loaded.forecasts.update(forecasts(db, jobs))
    return loaded


def _head(row: sqlite3.Row) -> JobHead:
    return JobHead(
        row[0], row[1], row[2], tuple(json.loads(row[3])), row[4], row[5], bool(row[6]), row[7],
        row[8], row[9], row[10], row[11], row[12], row[13], row[14], row[15], _agreed(row),
        row["mass_kg"],
    )  # fmt: skip


def _agreed(row: sqlite3.Row) -> tuple[float, float] | None:
    if row["source"] in (None, BOOK) or row["middle_h"] is None:
        return None
    return row["middle_h"], row["cautious_h"]


def _load_phases(db: sqlite3.Connection, loaded: Loaded, marks: str, jobs: Sequence[str]) -> None:
    for row in db.execute(
        f"select job, {PHASE} from phase where job in ({marks}) order by job, position", list(jobs)
    ):
        loaded.phases[row[0]].append(PhaseRow(*row[1:]))
    for row in db.execute(
        f"select {STEP} where step.job in ({marks}) and step.kind != 'step' "
        "order by step.job, phase.position, step.position",
        list(jobs),
    ):
        loaded.gates[row["job"]].append(step_row(row))


def _load_rest(db: sqlite3.Connection, loaded: Loaded, marks: str, jobs: Sequence[str]) -> None:
    for row in db.execute(
        "select seq, person, job, phase, part, since, until, breaks_worked from clock "
        f"where job in ({marks}) order by since, seq",
        list(jobs),
    ):
        clock = ClockRow(row[0], row[1], row[2], row[3], row[4], row[5], row[6], bool(row[7]))
        loaded.clocks[clock.job].append(clock)
    for row in db.execute(
        "select seq, job, phase, reason, since, until, expected_now, next_move, text from hold "
        f"where job in ({marks}) order by since, seq",
        list(jobs),
    ):
        held = HoldRow(*row)
        loaded.holds[held.job].append(held)
    for row in db.execute(
        f"select job, text, hours, asked_at, money from supplement where job in ({marks}) "
        "and state = 'asked' order by job, line",
        list(jobs),
    ):
        loaded.asked[row[0]].append(AskedWork(row[1], row[2], from_text(row[3]), row[4]))
    for one in outside.away_of(db, jobs):
        loaded.away[one.job].append(one)
    loaded.called.update(outside.last_calls(db, jobs))
    for row in db.execute(
        "select condition.job, text from condition join job using (job) "
        f"join book_condition using (version, code) where condition.job in ({marks}) "
        "order by condition.seq",
        list(jobs),
    ):
        loaded.conditions[row[0]].append(row[1])
