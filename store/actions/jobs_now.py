"""What several actions ask of a job before they write."""

from __future__ import annotations

import json
import sqlite3
from typing import NamedTuple, cast

from store.actions.acting import Acting
from store.actions.conditions import opened_by
from store.actions.gates import refuse_blocked
from store.actions.trouble import NoSuch
from store.actions.words import named
from store.edges.events.holds import Released
from store.edges.events.jobs import StateChanged
from store.edges.events.phases import PhaseBegun, PhaseTakenBack
from store.edges.events.route import EstimateChanged
from store.file.facts import CHECKED_UNTIL, setting
from store.file.memory import memory_of
from store.file.route_now import PhaseRow, gates_of, phases_of
from store.rules.blocking import blocking_phase
from store.rules.estimating import BOOK, Part, together
from store.sums.moving import quantile
from store.trouble import Refused

MIDDLE = 9
"""Place of the middle among the 19 quantiles."""
OVER = ("closed", "declined", "turned-away")
BEFORE = ("enquiry", "booked", "arrived", "quoted")
"""States of a job to which the customer has not agreed yet."""


class JobRow(NamedTuple):
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
    memory = memory_of(db)
    if memory is not None and job in memory.jobs:
        return cast("JobRow", memory.jobs[job])
    row = db.execute(f"select {JOB} from job where job = ?", [job]).fetchone()
    if row is None:
        raise NoSuch("job", job, "See the numbers with `hoistbook floor`.")
    found = JobRow._make(row)
    if memory is not None:
        memory.jobs[job] = found
    return found


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


def after_phase(doing: Acting, job: str) -> str | None:
    """Go on where a phase has ended: begin what needs no hands, or end the job's work.

    Returns:
        A sentence about it, or None.
    """
    phases = phases_of(doing.db, job)
    left = [one for one in phases if one.state in ("to come", "under way")]
    if not left and job_row(doing.db, job).state in BEFORE:
        return f"Say what the check came to: hoistbook qualify {job} --result pass."
    if not left:
        doing.record(StateChanged(job=job, state="finished"))
        return f"All phases of {job} are done."
    return begin_standing(doing, job)


def begin_standing(doing: Acting, job: str) -> str | None:
    """Begin the next phase where it needs no hands and nothing stands in its way.

    Returns:
        A sentence about it, or None.
    """
    phases = phases_of(doing.db, job)
    first = next((one for one in phases if one.state in ("to come", "under way")), None)
    if first is None:
        return None
    if first.kind != "labour" and first.state == "to come":
        gate = blocking_phase(
            gates_of(doing.db, job, open_only=True), [one.at() for one in phases], first.phase
        )
        if gate is None:
            doing.record(PhaseBegun(job=job, phase=first.phase, opens=opened_by(doing, job, first)))
            return f"{named(job, first)} has begun ({first.kind})."
    return None


def record_estimate(doing: Acting, job: str, cause: str) -> None:
    """Write the job's hours down beside the frozen estimate, with what moved them.

    Phases that were agreed from what was learned are slow or quick together: their total is other
    than the sum that the work book's rule makes of them, by the same share from then on.
    """
    now = [
        Part(one.book(), one.middle_h, one.cautious_h)
        for one in phases_of(doing.db, job)
        if one.kind == "labour" and one.state != "skipped"
    ]
    cautious = setting(doing.db, "cautious")
    total = together(now, cautious)
    middle_share, cautious_share = _agreed_shares(doing, job, cautious)
    doing.record(
        EstimateChanged(
            job=job, middle=round(total.middle * middle_share, 4),
            cautious=round(total.cautious * cautious_share, 4), cause=cause,
        )
    )  # fmt: skip


def _agreed_shares(doing: Acting, job: str, cautious: float) -> tuple[float, float]:
    """Middle and cautious hours as agreed, as shares of what the rule makes of the phases then."""
    row = doing.db.execute(
        "select source, content from job join estimate on estimate.seq = agreed_seq "
        "where job.job = ?",
        [job],
    ).fetchone()
    if row is None or row["source"] == BOOK:
        return 1.0, 1.0
    content = json.loads(row["content"])
    then = [
        Part(one.book(), middle, middle)
        for one in phases_of(doing.db, job)
        if one.kind == "labour" and (agreed := content["phases"].get(one.phase)) is not None
        if (middle := agreed["quantiles"][MIDDLE]) > 0
    ]
    rule, agreed_h = together(then, cautious), content["total"]["quantiles"]
    if rule.middle <= 0 or rule.cautious <= 0:
        return 1.0, 1.0
    return agreed_h[MIDDLE] / rule.middle, quantile(agreed_h, cautious) / rule.cautious


def release_phase(doing: Acting, job: str, phase: str) -> None:
    """End what holds a phase that is not done any more."""
    for row in doing.db.execute(
        "select seq from hold where job = ? and phase = ? and until is null", [job, phase]
    ).fetchall():
        doing.record(Released(hold=row["seq"]))


def unbegin(doing: Acting, job: str | None, phases: list[str]) -> None:
    """A phase that has not begun after all: its open conditions end, and a job not begun waits."""
    if job is None or not phases:
        return
    for phase in phases:
        codes = doing.db.execute(
            "select code from condition join ledger using (seq) where condition.job = ? and "
            "kind in ('clocked-on', 'clock-entered', 'clock-corrected', 'phase-begun') and "
            "payload ->> '$.phase' = ? order by code",
            [job, phase],
        ).fetchall()
        closes = [row[0] for row in codes]
        doing.record(PhaseTakenBack(job=job, phase=phase, state="to come", closes=closes))
    wait_again(doing, job)


def has_begun(doing: Acting, job: str) -> bool:
    """Tell whether work on a job has begun; a check that was done before it was agreed has not."""
    found = doing.db.execute(
        "select 1 from phase join job using (job) where job = ? and begun_at is not null "
        f"and begun_at >= coalesce({CHECKED_UNTIL}, '') limit 1",
        [job],
    ).fetchone()
    return found is not None


def wait_again(doing: Acting, job: str) -> None:
    """A job of which nothing has begun, and that stands on no lift, waits."""
    on_lift = doing.db.execute(
        "select 1 from job_place join place using (place) where job = ? and part = 'body' "
        "and kind = 'lift'",
        [job],
    ).fetchone()
    row = job_row(doing.db, job)
    if on_lift is None and row.state == "off-lift" and not has_begun(doing, job):
        doing.record(StateChanged(job=job, state="waiting"))
