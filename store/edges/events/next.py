"""Kinds of event about who does what next, and which job comes in next."""

from __future__ import annotations

from store.edges.events.base import Event, Finite, Id, JobNumber, PhaseNumber, Seq


class Assigned(Event):
    """Who does a job or one of its phases, and where it stands in that person's list."""

    kind = "assigned"
    job: JobNumber
    phase: PhaseNumber | None = None
    """None is the whole job: whatever of it comes next."""
    person: Id | None = None
    """None: it is on nobody's list any more."""
    position: Finite | None = None
    """Lines of a list stand in the order of their positions; None: off this person's list."""
    moved: bool = False
    """It stood on the list already, elsewhere."""


class AssignedTakenBack(Event):
    """An assignment that never was: lists are as they were before it."""

    kind = "assigned-taken-back"
    job: JobNumber
    entry: Seq


class LineOrdered(Event):
    """A job's place in the line that waits to come in."""

    kind = "line-ordered"
    job: JobNumber
    before: JobNumber | None = None
    """It comes in before this one; None: after all others."""
    position: Finite
    """Jobs wait in the order of positions; a job's first is when it came in, POSIX seconds."""
    passed: tuple[JobNumber, ...] = ()
    """Jobs that it went past, in the order in which they come in."""


class LineOrderTakenBack(Event):
    """A place in the line that never was: the job has the one that it had before."""

    kind = "line-order-taken-back"
    job: JobNumber
    entry: Seq
    passed: tuple[JobNumber, ...] = ()
