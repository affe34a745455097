"""What one transaction has read of routes already, so that one act does not read it many times.

Only the writer's connection carries it, and only while its transaction lasts: nobody else can
change the file meanwhile. Every event says here what it made old; a kind that is not listed makes
everything old. A rolled back act forgets all.
"""

from __future__ import annotations

import sqlite3
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
    "job-closed", "lift-looked-over", "lift-inspected", "lift-withdrawn", "lift-returned",
    "place-added", "person-added", "person-changed", "pin-set", "qualified",
    "history-imported", "history-taken-back",
})  # fmt: skip
"""They touch no route."""
PLACED = ("voids",)
ROUTE_CHANGED = (
    "added", "dropped", "restored", "removed", "rated", "steps", "steps_removed",
)  # fmt: skip
"""Fields by which those two say what they change of phases and steps."""
PEOPLE = frozenset({"person-added", "person-changed", "pin-set"})
KNOWN = PHASES_ONLY | STATES_ONLY | ONE_ROUTE


@dataclass(slots=True)
class Memory:
    """Routes by job, and the calendar."""

    phases: dict[str, Any] = field(default_factory=dict[str, Any])
    steps: dict[str, Any] = field(default_factory=dict[str, Any])
    calendar: Calendar | None = None
    people: dict[str, Any] = field(default_factory=dict[str, Any])
    """By badge; and their PINs' secrets, by id."""

    def clear(self) -> None:
        """Forget everything."""
        self.phases.clear()
        self.steps.clear()
        self.calendar = None
        self.people.clear()

    def after(self, event: object, kind: str) -> None:
        """Forget what an event made old, or take over what it says."""
        if kind in PEOPLE:
            self.people.clear()
        if kind in NEITHER or not _touches(event, kind):
            return
        job = getattr(event, "job", None)
        if not isinstance(job, str) or kind not in KNOWN:
            self.clear()
            return
        if getattr(event, "begins", True):
            self.phases.pop(job, None)
        if kind in ONE_ROUTE:
            self.steps.pop(job, None)
        elif kind in STATES_ONLY and job in self.steps:
            self._set_state(job, event)

    def _set_state(self, job: str, event: object) -> None:
        """The event says which step it is about, and its state from now on."""
        where = getattr(event, "phase", None), getattr(event, "step", None)
        state = getattr(event, "state", None)
        self.steps[job] = [
            one._replace(state=state) if (one.phase, one.step) == where else one
            for one in self.steps[job]
        ]


def _touches(event: object, kind: str) -> bool:
    """Tell whether a place or an answer changed anything of a route beside the job's own row."""
    lists = {"placed": PLACED, "route-changed": ROUTE_CHANGED}.get(kind)
    return lists is None or any(getattr(event, name) for name in lists)


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
