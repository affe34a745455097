"""What one transaction has read of routes already, so that one act does not read it many times.

Only the writer's connection carries it, and only while its transaction lasts: nobody else can
change the file meanwhile. Every event says here what it made old; a kind that is not listed makes
everything old. A rolled back act forgets all.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from store.sums.working_time import Calendar

PHASES_ONLY = frozenset({
    "clocked-on", "phase-begun", "phase-finished", "phase-noted", "phase-skipped",
    "supplement-answered", "not-teaching",
})  # fmt: skip
"""They change rows of phases and no steps; with `begins` false not even those."""
STATES_ONLY = frozenset({"step-signed", "reading-let-stand"})
"""They say the new state of one step, and perhaps begin its phase."""
ONE_ROUTE = frozenset({
    "route-changed", "phase-reopened", "phase-taken-back", "placed", "signature-taken-back",
})  # fmt: skip
"""They change phases and steps of their own job."""
NEITHER = frozenset({
    "clocked-off", "clocked-indirect", "day-confirmed", "attendance-corrected", "absence-set",
    "held", "hold-changed", "released", "found", "limits-typed", "promised", "estimate-agreed",
    "estimate-changed", "state-changed", "vehicle-known", "odometer-read", "job-opened",
    "job-closed", "job-noted", "job-note-taken-back", "lift-looked-over", "lift-inspected",
    "lift-withdrawn", "lift-returned",
    "place-added", "person-added", "person-changed", "pin-set", "qualified",
    "history-imported", "history-taken-back", "assigned", "assigned-taken-back",
    "line-ordered", "line-order-taken-back",
    "parts-listed", "parts-moved", "parts-taken-back",
    "hire-asked", "hire-received", "hire-extended", "hire-sent-back", "hire-taken-back",
    "hire-mended", "hire-given", "hire-arrived-back", "deposit-returned", "hire-invoiced",
    "supplier-known", "offer-known", "kit-priced", "kit-inspected", "terms-taken-back",
    "kit-let", "kit-let-taken-back", "month-costs", "month-costs-taken-back",
    "customer-known", "customer-of-job", "work-chosen", "grade-set", "arrival-booked", "arrived",
    "check-judged", "quote-given", "quote-answered", "comeback-linked", "call-tried",
    "ceiling-set", "desk-taken-back", "outwork-sent", "outwork-chased", "outwork-back",
    "advice-answered", "handed-over", "follow-ups-set", "follow-up-moved", "follow-up-done",
    "follow-up-taken-back",
})  # fmt: skip
"""They touch no route."""
TOUCHES = {
    "placed": ("voids",),
    "route-changed": (
        "added", "dropped", "restored", "removed", "rated", "steps", "steps_removed",
        "steps_gone", "steps_restored",
    ),
}  # fmt: skip
"""Fields by which those two say what they change of phases and steps."""
KEEPS_JOB = frozenset({
    "clocked-on", "step-signed", "phase-finished", "phase-noted", "held", "found", "limits-typed",
    "estimate-changed", "supplement-answered", "job-noted", "job-note-taken-back",
    "assigned", "assigned-taken-back",
})  # fmt: skip
"""They leave their job's own row as it is, where no phase begins with them."""
PEOPLE = frozenset({"person-added", "person-changed", "pin-set"})
KNOWN = PHASES_ONLY | STATES_ONLY | ONE_ROUTE


class Steps:
    """A job's steps as they were read, in the order of the route: all, and the gates of them."""

    __slots__ = ("_at", "all", "gates")

    def __init__(self, rows: list[Any]) -> None:
        self.all = rows
        self.gates = [one for one in rows if one.kind != "step"]
        self._at = {(one.phase, one.step): n for n, one in enumerate(rows)}

    def find(self, phase: str, step: str) -> Any:
        """Return a step; None where there is none."""
        at = self._at.get((phase, step))
        return None if at is None else self.all[at]

    def set_state(self, phase: str, step: str, state: str) -> None:
        """Take over the state of one step."""
        at = self._at.get((phase, step))
        if at is None:
            return
        before = self.all[at]
        self.all[at] = now = before._replace(state=state)
        if before.kind != "step":
            self.gates[self.gates.index(before)] = now


@dataclass(slots=True)
class Memory:
    """Jobs and their routes, the calendar, people, and the work book."""

    jobs: dict[str, Any] = field(default_factory=dict[str, Any])
    phases: dict[str, Any] = field(default_factory=dict[str, Any])
    steps: dict[str, Steps] = field(default_factory=dict[str, Steps])
    stale: dict[str, set[str]] = field(default_factory=dict[str, set[str]])
    """Phases of a job that are to be read again; the others of it still hold."""
    calendar: Calendar | None = None
    people: dict[str, Any] = field(default_factory=dict[str, Any])
    """By badge; and their PINs' secrets, by id."""
    books: dict[int, Any] = field(default_factory=dict[int, Any])
    """Versions of the work book."""
    book_phases: dict[tuple[int | None, str], Any] = field(
        default_factory=dict[tuple[int | None, str], Any]
    )
    """What a version says of a phase, by its code."""

    def clear(self) -> None:
        """Forget everything."""
        self.jobs.clear()
        self.phases.clear()
        self.steps.clear()
        self.stale.clear()
        self.calendar = None
        self.people.clear()
        self.books.clear()
        self.book_phases.clear()

    def after(self, event: object, kind: str) -> None:
        """Forget what an event made old, or take over what it says."""
        if kind in PEOPLE:
            self.people.clear()
        said = vars(event)  # a model takes long to say that it lacks a field
        job = said.get("job")
        if isinstance(job, str) and (kind not in KEEPS_JOB or said.get("begins")):
            self.jobs.pop(job, None)
        if kind in NEITHER or not _touches(said, kind):
            return
        if not isinstance(job, str) or kind not in KNOWN:
            self.clear()
            return
        if kind in ONE_ROUTE:
            self.phases.pop(job, None)
            self.steps.pop(job, None)
            return
        if said.get("begins", True):
            self._phase_changed(job, said.get("phase"))
        if kind in STATES_ONLY and job in self.steps:
            self.steps[job].set_state(said["phase"], said["step"], said["state"])

    def _phase_changed(self, job: str, phase: str | None) -> None:
        """The event says which phase it changes, or else it may be any."""
        if phase is None:
            self.phases.pop(job, None)
        elif job in self.phases:
            self.stale.setdefault(job, set()).add(phase)


def _touches(said: Mapping[str, Any], kind: str) -> bool:
    """Tell whether a place or an answer changed anything of a route beside the job's own row."""
    lists = TOUCHES.get(kind)
    return lists is None or any(said[name] for name in lists)


class Connection(sqlite3.Connection):
    """A connection that may remember."""

    memory: Memory | None = None


def memory_of(db: sqlite3.Connection) -> Memory | None:
    """Return what a connection remembers by; None where it does not."""
    return db.memory if isinstance(db, Connection) else None


def remember(db: sqlite3.Connection, *, on: bool = True) -> None:
    """Begin to remember, with nothing; or, with `on` false, stop."""
    if isinstance(db, Connection):
        db.memory = Memory() if on else None


def forget(db: sqlite3.Connection) -> None:
    """Forget everything: an act was rolled back."""
    memory = memory_of(db)
    if memory is not None:
        memory.clear()
