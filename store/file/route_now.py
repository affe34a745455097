"""A job's route as it stands in the tables, for actions and views alike."""

from __future__ import annotations

import json
import sqlite3
from dataclasses import dataclass
from typing import Any, NamedTuple, cast

from store.file.memory import Memory, Steps, memory_of
from store.file.specs import step_from
from store.rules.blocking import Gate, PhaseAt
from store.rules.book import Step
from store.rules.gate_times import Name

PHASE = (
    "phase, position, code, version, name, kind, class, after, state, low_h, book_h, high_h, "
    "estimate_middle_h, estimate_cautious_h, estimate_mean_h, serves, kits, begun_at, "
    "finished_at, note"
)


STEP = (
    "step.job, step.phase, step.step, step.position, step.code, step.kind, step.signs, "
    "step.void_on_lift, step.state, book_step.spec, step.blocks from step "
    "join phase on phase.job = step.job and phase.phase = step.phase "
    "join book_step on book_step.version = phase.version and book_step.phase = phase.code "
    "and book_step.code = step.code and step.state != 'gone'"
)
"""Columns and tables of a step that applies, with what the work book says of it."""


class PhaseRow(NamedTuple):
    """One phase of a job. Hours of labour, or of the clock for standing, the shop for outwork."""

    phase: str
    position: float
    code: str
    version: int | None
    name: str
    kind: str
    phase_class: str
    after: str
    state: str
    low_h: float
    book_h: float
    high_h: float
    middle_h: float
    cautious_h: float
    mean_h: float
    serves: str
    kits: str
    begun_at: str | None
    finished_at: str | None
    note: str | None

    def at(self) -> PhaseAt:
        """As far as blocking asks."""
        return PhaseAt(self.phase, self.position, self.code, self.state)

    def book(self) -> tuple[float, float, float]:
        """Low, book and high."""
        return (self.low_h, self.book_h, self.high_h)


class StepRow(NamedTuple):
    """One step of a job with what the work book says of it."""

    phase: str
    step: str
    position: float
    code: str
    kind: str
    signs: int
    void_on_lift: bool
    state: str
    spec: Step

    def gate(self) -> Gate:
        """As far as blocking asks."""
        return Gate(self.phase, self.step, self.position, self.state, self.spec)


@dataclass(frozen=True, slots=True)
class BookPhase:
    """What the work book says of a phase beyond its hours."""

    place: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    needs: tuple[str, ...] = ()
    opens: tuple[str, ...] = ()
    closes: tuple[str, ...] = ()


def phases_of(db: sqlite3.Connection, job: str) -> list[PhaseRow]:
    """Return a job's phases in the order of the route, skipped ones included."""
    memory = memory_of(db)
    if memory is None:
        return _phases(db, job)
    if job not in memory.phases:
        memory.phases[job] = _phases(db, job)
        memory.stale.pop(job, None)
    rows = cast("list[PhaseRow]", memory.phases[job])
    for phase in memory.stale.pop(job, ()):
        _read_again(db, job, phase, rows)
    return list(rows)


def _phases(db: sqlite3.Connection, job: str) -> list[PhaseRow]:
    found = db.execute(f"select {PHASE} from phase where job = ? order by position", [job])
    return [PhaseRow._make(row) for row in found]


def _read_again(db: sqlite3.Connection, job: str, phase: str, rows: list[PhaseRow]) -> None:
    """Take over what an event has changed of one phase; its place in the route stays."""
    found = db.execute(f"select {PHASE} from phase where job = ? and phase = ?", [job, phase])
    at = next(n for n, one in enumerate(rows) if one.phase == phase)
    rows[at] = PhaseRow._make(found.fetchone())


def steps_of(db: sqlite3.Connection, job: str, *, gates_only: bool = False) -> list[StepRow]:
    """Return a job's steps by phase and position."""
    memory = memory_of(db)
    steps = Steps(_steps(db, job)) if memory is None else _remembered(db, memory, job)
    return list(steps.gates if gates_only else steps.all)


def step_of(db: sqlite3.Connection, job: str, phase: str, step: str) -> StepRow | None:
    """Return one step of a job that applies."""
    memory = memory_of(db)
    steps = Steps(_steps(db, job)) if memory is None else _remembered(db, memory, job)
    return cast("StepRow | None", steps.find(phase, step))


def _steps(db: sqlite3.Connection, job: str) -> list[StepRow]:
    found = db.execute(
        f"select {STEP} where step.job = ? order by phase.position, step.position", [job]
    )
    return [step_row(row) for row in found]


def _remembered(db: sqlite3.Connection, memory: Memory, job: str) -> Steps:
    found = memory.steps.get(job)
    if found is None:
        found = memory.steps[job] = Steps(_steps(db, job))
    return found


def gone_steps(db: sqlite3.Connection, job: str) -> dict[tuple[str, str], str]:
    """Return the numbers of steps that apply no more, by phase and code."""
    found = db.execute("select phase, code, step from step where job = ? and state = 'gone'", [job])
    return {(phase, code): step for phase, code, step in found}


def step_row(row: sqlite3.Row) -> StepRow:
    """Return a step out of a row of `STEP`."""
    _, phase, step, position, code, kind, signs, void_on_lift, state, spec, blocks = row
    said = step_from(spec, blocks)
    return StepRow._make(
        (phase, step, position, code, kind, signs, bool(void_on_lift), state, said)
    )


def gates_of(db: sqlite3.Connection, job: str, *, open_only: bool = False) -> list[Gate]:
    """Return a job's hold points and decisions; signed ones too unless only open ones are asked."""
    rows = steps_of(db, job, gates_only=True)
    return [row.gate() for row in rows if not open_only or row.state != "done"]


def book_phase(db: sqlite3.Connection, version: int | None, code: str) -> BookPhase:
    """Return what the work book says of a phase; nothing for a small job."""
    memory = memory_of(db)
    if memory is None:
        return _book_phase(db, version, code)
    if (version, code) not in memory.book_phases:
        memory.book_phases[version, code] = _book_phase(db, version, code)
    return cast("BookPhase", memory.book_phases[version, code])


def _book_phase(db: sqlite3.Connection, version: int | None, code: str) -> BookPhase:
    row = db.execute(
        "select place, cautions, needs, opens, closes from book_phase "
        "where version = ? and code = ?",
        [version, code],
    ).fetchone()
    return BookPhase(*(tuple(_list(one)) for one in row)) if row else BookPhase()


def _list(text: str) -> list[Any]:
    found: list[Any] = json.loads(text)
    return found


def stands(phases: list[PhaseRow]) -> str:
    """Tell how the vehicle stands: `drives`, `rolls` or `fixed`, by what was done to it so far.

    A phase under way counts when it makes things worse, not yet when it makes them better.
    """
    worse = {"drives": 0, "rolls": 1, "fixed": 2}
    now = "drives"
    for one in phases:
        if one.after == "as before" or one.state in ("to come", "skipped"):
            continue
        if one.state == "finished" or worse[one.after] > worse[now]:
            now = one.after
    return now


def names_on(db: sqlite3.Connection, job: str) -> dict[tuple[str, str], list[Name]]:
    """Return the signatures of a job by phase and step, void ones included, in order."""
    found: dict[tuple[str, str], list[Name]] = {}
    for row in db.execute(
        "select phase, step, person, at, in_limits, as_is_at, void_at from signature "
        "where job = ? order by seq",
        [job],
    ):
        counts_from = row["at"] if row["in_limits"] else row["as_is_at"]
        name = Name(row["person"], row["at"], counts_from, row["void_at"])
        found.setdefault((row["phase"], row["step"]), []).append(name)
    return found
