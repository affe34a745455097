"""What several actions ask of a job before they write."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass

from store.actions.acting import Acting
from store.actions.trouble import NoSuch
from store.edges.events import EstimateChanged, PhaseBegun, StateChanged
from store.edges.instants import from_text
from store.file.route_now import PhaseRow, book_phase, gates_of, phases_of
from store.rules.blocking import Gate, blocking_phase, blocks_from, who_signs
from store.trouble import Refused

OVER = ("closed", "declined", "turned-away")


@dataclass(frozen=True, slots=True)
class JobRow:
    """A job as the tables have it."""

    job: str
    vehicle: str
    state: str
    small: bool
    work: str
    operations: str
    family: str
    options: str
    grade: int
    version: int | None
    basis: str | None
    promise: str | None


JOB = (
    "job, vehicle, state, small, work, operations, family, options, grade, version, basis, promise"
)


def job_row(db: sqlite3.Connection, job: str) -> JobRow:
    """Return a job, whatever its state.

    Raises:
        NoSuch: no job has that number.
    """
    row = db.execute(f"select {JOB} from job where job = ?", [job]).fetchone()
    if row is None:
        raise NoSuch("job", job, "See the numbers with `hoistbook floor`.")
    return JobRow(*row)


def live_job(doing: Acting, job: str) -> JobRow:
    """Return a job that still goes on.

    Raises:
        NoSuch: no job has that number.
        Refused: it is closed, declined or turned away.
    """
    row = job_row(doing.db, job)
    if row.state in OVER:
        raise Refused(f"{job} is {row.state.replace('-', ' ')}: nothing more is done on it.")
    doing.change.job = job
    return row


def phase_row(phases: list[PhaseRow], job: str, phase: str) -> PhaseRow:
    """Return one phase of a job.

    Raises:
        NoSuch: the job has no such phase.
    """
    for one in phases:
        if one.phase == phase:
            return one
    there = ", ".join(one.phase for one in phases) or "none"
    raise NoSuch("phase", f"{job}.{phase}", f"{job} has these: {there}.")


def named(job: str, phase: PhaseRow) -> str:
    """Return `2417.4 gearbox in`."""
    return f"{job}.{phase.phase} {phase.name}"


def gate_words(job: str, gate: Gate) -> str:
    """Name a hold point or decision, who may sign it and what is asked."""
    if gate.spec.kind == "decision":
        answers = ", ".join(one.code for one in gate.spec.answers)
        return f"the decision {job}.{gate.at} ({gate.spec.text}): answer it with one of {answers}"
    asked = ", ".join(one.text for one in gate.spec.readings)
    measured = f", measured: {asked}" if asked else ""
    second = "the second signature on " if gate.state == "half" else ""
    return (
        f"{second}the hold point {job}.{gate.at} ({gate.spec.text}), "
        f"to be signed by {who_signs(gate.spec)}{measured}"
    )


def running_hold(db: sqlite3.Connection, job: str, phase: str) -> sqlite3.Row | None:
    """Return the hold because of which a phase cannot go on."""
    found: sqlite3.Row | None = db.execute(
        "select seq, phase, reason, text from hold where job = ? and until is null and "
        "(phase is null or phase = ?) order by phase is null desc, seq limit 1",
        [job, phase],
    ).fetchone()
    return found


def refuse_unworkable(
    doing: Acting, job: str, phase: PhaseRow, phases: list[PhaseRow], *, held_too: bool = True
) -> None:
    """Refuse work on a phase that is over, held, or behind an open hold point.

    Raises:
        Refused: with what stands in the way and who can clear it.
    """
    refuse_workable_state(job, phase)
    if held_too:
        refuse_workable_hold(doing, job, phase)
    refuse_blocked(doing, job, phase, phases)


def refuse_workable_state(job: str, phase: PhaseRow) -> None:
    """Refuse what is over.

    Raises:
        Refused: the phase is finished or not done in this job.
    """
    name = named(job, phase)
    if phase.state == "finished":
        raise Refused(
            f"{name} is finished. Open it again first: hoistbook reopen {job}.{phase.phase}."
        )
    if phase.state == "skipped":
        raise Refused(f"{name} is not done in this job ({phase.note}). Choose another phase.")


def refuse_workable_hold(doing: Acting, job: str, phase: PhaseRow) -> None:
    """Refuse what is held.

    Raises:
        Refused: with the reason and how to release it.
    """
    held = running_hold(doing.db, job, phase.phase)
    if held is not None:
        scope = job if held["phase"] is None else f"{job}.{phase.phase}"
        raise Refused(
            f"{named(job, phase)} is held: {_reason(held)}. "
            f"When it can go on: hoistbook release {scope}."
        )


def _reason(held: sqlite3.Row) -> str:
    word = {"approval": "the customer's word", "reading": "a reading outside its limits"}
    reason = word.get(held["reason"], held["reason"])
    return f"{reason} ({held['text']})" if held["text"] else str(reason)


def refuse_blocked(doing: Acting, job: str, phase: PhaseRow, phases: list[PhaseRow]) -> None:
    """Refuse to begin or go on with a phase behind an open hold point or decision.

    A late entry is also refused where it lies before the signature that opened the way.
    """
    gates = gates_of(doing.db, job)
    if not gates:
        return
    at = [one.at() for one in phases]
    gate = blocking_phase(gates, at, phase.phase)
    if gate is not None:
        raise Refused(f"{named(job, phase)} waits for {gate_words(job, gate)}.")
    if doing.late:
        _refuse_before_signature(doing, job, phase, phases, gates)


def _refuse_before_signature(
    doing: Acting, job: str, phase: PhaseRow, phases: list[PhaseRow], gates: list[Gate]
) -> None:
    at = [one.at() for one in phases]
    for gate in gates:
        if gate.phase == phase.phase or gate.phase not in {
            one.phase for one in phases if one.state != "skipped"
        }:
            continue
        start = blocks_from(gate, at)
        if start is None or phase.position < start:
            continue
        signed = doing.db.execute(
            "select max(at) from signature where job = ? and phase = ? and step = ? and not void",
            [job, gate.phase, gate.step],
        ).fetchone()[0]
        if signed is not None and doing.at_text < signed:
            when = from_text(signed).astimezone(doing.calendar.zone)
            raise Refused(
                f"{named(job, phase)} could not go on before {when:%Y-%m-%d %H:%M}, when "
                f"{job}.{gate.at} was signed. Give a later time."
            )


def opened_by(doing: Acting, phase: PhaseRow) -> list[str]:
    """Return the open conditions that begin with a phase."""
    return list(book_phase(doing.db, phase.version, phase.code).opens)


def after_phase(doing: Acting, job: str) -> str | None:
    """Go on where a phase has ended: begin what needs no hands, or end the job's work.

    Returns:
        A sentence about it, or None.
    """
    phases = phases_of(doing.db, job)
    left = [one for one in phases if one.state in ("to come", "under way")]
    if not left:
        doing.record(StateChanged(job=job, state="finished"))
        return f"All phases of {job} are done."
    first = left[0]
    if first.kind != "labour" and first.state == "to come":
        gate = blocking_phase(gates_of(doing.db, job), [one.at() for one in phases], first.phase)
        if gate is None:
            doing.record(PhaseBegun(job=job, phase=first.phase, opens=opened_by(doing, first)))
            return f"{named(job, first)} has begun ({first.kind})."
    return None


def record_estimate(doing: Acting, job: str, cause: str) -> None:
    """Write the job's hours down beside the frozen estimate, with what moved them."""
    from store.rules.estimating import Part, together

    parts = [
        Part(one.book(), one.middle_h, one.cautious_h)
        for one in phases_of(doing.db, job)
        if one.kind == "labour" and one.state != "skipped"
    ]
    total = together(parts)
    doing.record(
        EstimateChanged(job=job, middle=total.middle, cautious=total.cautious, cause=cause)
    )
