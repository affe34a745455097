"""Kinds of event about who does what next."""

from __future__ import annotations

from store.edges.events import Event, Finite, Id, JobNumber, PhaseNumber, Seq


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
