"""Kinds of event of clocks."""

from __future__ import annotations

from store.edges.events.base import Event, Id, JobNumber, Moment, Part, PhaseNumber, Seq, Text


class ClockedOn(Event):
    """A person's clock runs on a phase. `begins`: the phase begins with it."""

    kind = "clocked-on"
    person: Id
    job: JobNumber
    phase: PhaseNumber
    part: Part
    begins: bool = False
    opens: list[str] = []


class ClockedIndirect(Event):
    """A person's clock runs on no job. `away_from`: the clock that a call interrupted."""

    kind = "clocked-indirect"
    person: Id
    reason: Text
    away_from: Seq | None = None


class ClockedOff(Event):
    """A person's clock stops."""

    kind = "clocked-off"
    person: Id
    clock: Seq


class ClockEntered(Event):
    """A whole clock from memory."""

    kind = "clock-entered"
    person: Id
    job: JobNumber | None
    phase: PhaseNumber | None
    reason: str | None
    part: Part
    since: Moment
    until: Moment
    breaks_worked: bool = False
    why: str | None = None
    begins: bool = False
    opens: list[str] = []


class ClockCorrected(Event):
    """A clock as it really was; what it said before stands in the earlier event."""

    kind = "clock-corrected"
    clock: Seq
    person: Id
    job: JobNumber | None
    phase: PhaseNumber | None
    reason: str | None
    part: Part
    since: Moment
    until: Moment | None
    breaks_worked: bool
    why: str | None = None
    begins: bool = False
    opens: list[str] = []
    empties: list[PhaseNumber] = []
    """Phases of the clock's former job that lost their only labour and had no other act."""


class ClockRemoved(Event):
    """A clock that never was."""

    kind = "clock-removed"
    clock: Seq
    why: str | None = None
    empties: list[PhaseNumber] = []
