"""Phases taken back: their beginning, their end, their being left out, and the job's state."""

from __future__ import annotations

from store.actions.acting import Acting
from store.actions.jobs_now import BEFORE, OVER, phase_row, record_estimate, wait_again
from store.actions.undo.desk import at_desk_again
from store.actions.words import named
from store.edges.events.jobs import StateChanged
from store.edges.events.phases import PhaseBegun, PhaseFinished, PhaseSkipped, PhaseTakenBack
from store.file.ledger import Row
from store.file.route_now import PhaseRow, phases_of
from store.trouble import Refused


def phase_now(doing: Acting, job: str, phase: str) -> PhaseRow:
    """Return a phase as it stands now, whatever the entry that is taken back said of it."""
    return phase_row(phases_of(doing.db, job), job, phase)


def not_begun(doing: Acting, row: Row, event: PhaseBegun) -> None:
    """Put a begun phase back to come, unless a clock or another name keeps it begun.

    Raises:
        Refused: it is over by now.
    """
    phase = phase_now(doing, event.job, event.phase)
    if phase.state != "under way":
        raise Refused(f"{named(event.job, phase)} is {phase.state} by now: that stays.")
    other = doing.db.execute(
        "select 1 from clock where job = ?1 and phase = ?2 union all "
        "select 1 from signature where job = ?1 and phase = ?2 and not void limit 1",
        [event.job, event.phase],
    ).fetchone()
    if other is None:
        _phase_back(doing, event.job, event.phase, "to come", closes=list(event.opens))
        wait_again(doing, event.job)


def _phase_back(doing: Acting, job: str, phase: str, state: str, **tags: list[str]) -> None:
    doing.record(
        PhaseTakenBack.model_validate({"job": job, "phase": phase, "state": state, **tags})
    )


def not_finished(doing: Acting, row: Row, event: PhaseFinished) -> None:
    """Put a finished phase back under way, with the open conditions its end had closed.

    Raises:
        Refused: it was opened again since.
    """
    phase = phase_now(doing, event.job, event.phase)
    if phase.state != "finished" or phase.finished_at != row.happened_at:
        raise Refused(f"{named(event.job, phase)} was opened again since: that stays.")
    _phase_back(doing, event.job, event.phase, "under way", opens=list(event.closes))


def not_skipped(doing: Acting, row: Row, event: PhaseSkipped) -> None:
    """Put a phase that was left out back, and its hours into the job's.

    Raises:
        Refused: it is done after all by now.
    """
    phase = phase_now(doing, event.job, event.phase)
    if phase.state != "skipped":
        raise Refused(f"{named(event.job, phase)} is {phase.state} by now: that stays.")
    state = "to come" if phase.begun_at is None else "under way"
    _phase_back(doing, event.job, event.phase, state)
    record_estimate(doing, event.job, f"{phase.name} not left out after all")


def state_back(doing: Acting, row: Row, event: StateChanged) -> None:
    """Put the state of a job back: at the desk as it was, else by where its body stands."""
    if event.state in (*BEFORE, *OVER):
        at_desk_again(doing, row, event)
        return
    lift = doing.db.execute(
        "select 1 from job_place join place using (place) where job = ? and part = 'body' "
        "and kind = 'lift'",
        [event.job],
    ).fetchone()
    doing.record(StateChanged(job=event.job, state="on-lift" if lift else "off-lift"))
