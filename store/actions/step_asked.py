"""One step of a job: found by its number, and what its signature writes down."""

from __future__ import annotations

from dataclasses import dataclass

from store.actions.acting import Acting
from store.actions.conditions import opened_by, to_close, to_open
from store.actions.hires.kit_gate import refuse_lacking
from store.actions.jobs_now import begin_standing, live_job, phase_row
from store.actions.trouble import NoSuch
from store.edges.events.phases import PhaseBegun, StepSigned
from store.file.route_now import PhaseRow, StepRow, phases_of, step_of, steps_of


@dataclass(frozen=True, slots=True)
class Asked:
    """What somebody wants to sign."""

    job: str
    phase: PhaseRow
    phases: list[PhaseRow]
    step: StepRow

    @property
    def name(self) -> str:
        """Its number and what it says, as sentences name it."""
        return f"{self.job}.{self.phase.phase}.{self.step.step} {self.step.spec.text}"


def asked_for(doing: Acting, job: str, phase: str, step: str) -> Asked:
    """Find a step of a job that still goes on.

    Raises:
        NoSuch: no such job, phase or step.
        Refused: the job is closed, declined or turned away.
    """
    live_job(doing, job)
    phases = phases_of(doing.db, job)
    row = phase_row(phases, job, phase)
    found = step_of(doing.db, job, phase, step)
    if found is not None:
        return Asked(job, row, phases, found)
    steps = steps_of(doing.db, job)
    there = ", ".join(one.step for one in steps if one.phase == phase) or "none"
    raise NoSuch("step", f"{job}.{phase}.{step}", f"{job}.{phase} has these: {there}.")


def begin_phase(doing: Acting, asked: Asked) -> None:
    """Begin the step's phase with its first signature, where no clock has begun it.

    Raises:
        KitLacks: a kit that it needs is not at hand.
    """
    if asked.phase.state == "to come":
        at = doing.at_text if doing.late else None
        refuse_lacking(doing, asked.job, asked.phase, asked.phases, at=at)
        doing.record(
            PhaseBegun(
                job=asked.job,
                phase=asked.phase.phase,
                opens=opened_by(doing, asked.job, asked.phase),
            )
        )


def record_signature(
    doing: Acting,
    asked: Asked,
    *,
    state: str,
    readings: dict[str, float] | None = None,
    answer: str | None = None,
    faults: tuple[str, ...] = (),
) -> int:
    """Write the actor's name under the step.

    Args:
        state: what the step is afterwards: `half`, `out` or `done`.
        faults: what lies outside its limits, in words.

    Returns:
        The signature's number in the ledger.
    """
    spec, done = asked.step.spec, state == "done"
    return doing.record(
        StepSigned.model_validate(
            {
                "job": asked.job, "phase": asked.phase.phase, "step": asked.step.step,
                "person": doing.person.person, "readings": readings or {}, "answer": answer,
                "in_limits": not faults, "faults": list(faults), "state": state,
                "opens": to_open(doing, asked.job, spec.opens) if done else [],
                "closes": to_close(doing, asked.job, spec.closes) if done else [],
            }
        )
    )  # fmt: skip


def said_further(doing: Acting, asked: Asked, says: str) -> str:
    """Begin what needs no hands as soon as nothing stands in its way, and say so too."""
    further = begin_standing(doing, asked.job)
    return f"{says} {further}" if further else says
