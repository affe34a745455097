"""All that goes on, as far as open acts ask: plain values out of one look."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from store.file.open_acts.people import Somebody
from store.file.owed_names import wants_another
from store.file.route_now import PhaseRow, StepRow
from store.rules.blocking import Gate, PhaseAt, blocking_phase
from store.rules.gate_times import Name
from store.sums.working_time import Calendar

GOING = ("to come", "under way")
IN_WORK = ("on-lift", "off-lift")


@dataclass(frozen=True, slots=True)
class HoldNow:
    """A hold that goes on."""

    seq: int
    phase: str | None
    reason: str
    since: datetime
    expected: datetime | None
    next_move: str | None
    text: str | None


@dataclass(frozen=True, slots=True)
class AskedNow:
    """Extra work that waits for the customer's word."""

    line: int
    phase: str | None
    text: str
    hours: float
    since: datetime


@dataclass(frozen=True, slots=True)
class Going:
    """One job that goes on.

    Attributes:
        lift: code of the lift it stands on.
        gates: its hold points and decisions.
        clocked: persons with a clock on a phase of it, by phase.
        worked: persons who worked on it, who did last first.
        rested: since when nobody is on it; None where somebody is, or nobody ever was.
    """

    job: str
    state: str
    small: bool
    mass_kg: float | None
    place: str | None
    lift: str | None
    queued: datetime | None
    phases: Sequence[PhaseRow]
    gates: Sequence[StepRow]
    holds: Sequence[HoldNow]
    asked: Sequence[AskedNow]
    clocked: Mapping[str, Sequence[str]]
    worked: Sequence[str]
    rested: datetime | None

    @property
    def at(self) -> list[PhaseAt]:
        """Phases as far as blocking asks."""
        return [one.at() for one in self.phases]

    @property
    def left(self) -> list[PhaseRow]:
        """Phases that are not over."""
        return [one for one in self.phases if one.state in GOING]

    def held(self, phase: str) -> bool:
        """The job is held, or that phase."""
        return any(one.phase in (None, phase) for one in self.holds)

    def gate_before(self, phase: str) -> Gate | None:
        """The open gate because of which a phase cannot go on."""
        return blocking_phase([one.gate() for one in self.gates], self.at, phase)

    def able(self, phase: PhaseRow) -> bool:
        """Somebody may clock on it now."""
        return (
            phase.kind == "labour"
            and phase.state in GOING
            and not self.held(phase.phase)
            and self.gate_before(phase.phase) is None
            and not self.name_owed(phase.phase)
        )

    def name_owed(self, phase: str) -> bool:
        """A hold point of it waits for a name that whoever does the work cannot give."""
        return any(one.phase == phase and wants_another(one, self.gates) for one in self.gates)

    @property
    def next_able(self) -> PhaseRow | None:
        """The phase that somebody could go on with: one under way, else the next of the route."""
        left = self.left
        under_way = [one for one in left if one.state == "under way" and self.able(one)]
        if under_way:
            return under_way[0]
        return left[0] if left and self.able(left[0]) else None

    @property
    def stuck(self) -> bool:
        """Nothing of it can go on, and nobody is on it."""
        return not self.clocked and bool(self.left) and self.next_able is None


@dataclass(frozen=True, slots=True)
class LiftNow:
    """A lift. `job`: what stands on it; `free_since`: since when nothing does, where that is known.

    Attributes:
        inspected: date of the last inspection; `looked_over`: of the last daily look-over.
    """

    place: str
    code: str
    rated_kg: float
    in_service: bool
    inspected: str | None
    months: int | None
    looked_over: str | None
    job: str | None
    free_since: datetime | None


@dataclass(frozen=True, slots=True)
class Gathered:
    """Everything at one look.

    Attributes:
        yards: codes of places with room for a vehicle that rolls.
        names: under hold points that have the first of two, by job, phase and step.
        needs: qualifications that a phase takes, by version of the work book and code.
        forbidden: deeds that open conditions of a vehicle forbid, by job.
        listed: persons on whose list a job or a phase of it is.
    """

    db: sqlite3.Connection
    calendar: Calendar
    now: datetime
    jobs: Mapping[str, Going]
    people: Sequence[Somebody]
    lifts: Sequence[LiftNow]
    yards: Sequence[str]
    names: Mapping[tuple[str, str, str], Sequence[Name]]
    needs: Mapping[tuple[int | None, str], frozenset[str]]
    forbidden: Mapping[str, frozenset[str]]
    listed: Mapping[str, frozenset[str]]
