"""Kinds of event of phases and steps: begun, signed, finished, taken back."""

from __future__ import annotations

from typing import Literal

from store.edges.events.base import Event, Finite, Id, JobNumber, PhaseNumber, Seq, StepNumber, Text
from store.edges.events.route import StepRef


class StepSigned(Event):
    """A name under a step. `state` is the step's from now on."""

    kind = "step-signed"
    job: JobNumber
    phase: PhaseNumber
    step: StepNumber
    person: Id
    readings: dict[str, Finite] = {}
    answer: str | None = None
    in_limits: bool = True
    faults: list[str] = []
    state: Literal["half", "out", "done"]
    begins: bool = False
    opens: list[str] = []
    closes: list[str] = []


class ReadingLetStand(Event):
    """A foreman takes a reading outside its limits as it is."""

    kind = "reading-let-stand"
    job: JobNumber
    phase: PhaseNumber
    step: StepNumber
    signature: Seq
    person: Id
    reason: Text
    state: Literal["half", "done"]
    opens: list[str] = []
    closes: list[str] = []


class SignatureTakenBack(Event):
    """A signature given by mistake."""

    kind = "signature-taken-back"
    job: JobNumber
    phase: PhaseNumber
    step: StepNumber
    signature: Seq
    state: Literal["open", "half", "out"]
    opens: list[str] = []
    closes: list[str] = []
    empties: list[PhaseNumber] = []


class LimitsTyped(Event):
    """Limits of a reading for this job, and where they stand written."""

    kind = "limits-typed"
    job: JobNumber
    phase: PhaseNumber
    step: StepNumber
    reading: Text
    low: Finite | None
    high: Finite | None
    source: Text


class PhaseBegun(Event):
    """A phase without labour begins."""

    kind = "phase-begun"
    job: JobNumber
    phase: PhaseNumber
    opens: list[str] = []


class PhaseFinished(Event):
    """A phase is done. `note`: why it took longer."""

    kind = "phase-finished"
    job: JobNumber
    phase: PhaseNumber
    note: str | None = None
    closes: list[str] = []


class PhaseNoted(Event):
    """Why a finished phase took longer, said afterwards."""

    kind = "phase-noted"
    job: JobNumber
    phase: PhaseNumber
    note: Text


class PhaseSkipped(Event):
    """A phase is not done, and why."""

    kind = "phase-skipped"
    job: JobNumber
    phase: PhaseNumber
    note: Text


class PhaseReopened(Event):
    """What was covered is open again; signatures on it are void."""

    kind = "phase-reopened"
    job: JobNumber
    phase: PhaseNumber
    why: str | None = None
    voids: list[StepRef] = []
    reopens: list[PhaseNumber] = []
    """Later phases that were finished and must be gone through again."""
    opens: list[str] = []
    empties: list[PhaseNumber] = []
    """Phases without labour that had begun by its finishing: back to come."""


class PhaseTakenBack(Event):
    """A phase begun, finished or left out by mistake: back to what it was."""

    kind = "phase-taken-back"
    job: JobNumber
    phase: PhaseNumber
    state: Literal["to come", "under way"]
    opens: list[str] = []
    closes: list[str] = []
