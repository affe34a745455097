"""Signatures taken back, as long as nothing was built on them."""

from __future__ import annotations

from store.actions.acting import Acting
from store.actions.conditions import to_close, to_open
from store.actions.gates import blocked_from
from store.actions.jobs_now import phase_row
from store.actions.words import named
from store.edges.events.phases import SignatureTakenBack, StepSigned
from store.file.ledger import Row
from store.file.route_now import PhaseRow, StepRow, phases_of, steps_of
from store.trouble import Refused


def signature_gone(doing: Acting, row: Row, event: StepSigned) -> None:
    """Take a name from under a step, hold point or decision.

    Raises:
        Refused: it is void already, or something was built on it.
    """
    steps = steps_of(doing.db, event.job)
    step = next(one for one in steps if (one.phase, one.step) == (event.phase, event.step))
    _refuse_other_signature(doing, row, event)
    _refuse_built_on(doing, row, event, step, steps)
    doing.record(
        SignatureTakenBack.model_validate(
            {
                "job": event.job, "phase": event.phase, "step": event.step, "signature": row.seq,
                "state": _state_without(doing, event, row.seq, step.signs),
                "opens": to_open(doing, event.job, event.closes),
                "closes": to_close(doing, event.job, event.opens),
            }
        )
    )  # fmt: skip


def _refuse_other_signature(doing: Acting, row: Row, event: StepSigned) -> None:
    where = f"{event.job}.{event.phase}.{event.step}"
    own, newest, let_stand = doing.db.execute(
        "select max(void) filter (where seq = ?1), max(seq) filter (where not void), "
        "max(as_is is not null) filter (where seq = ?1) from signature "
        "where job = ?2 and phase = ?3 and step = ?4",
        [row.seq, event.job, event.phase, event.step],
    ).fetchone()
    if own:
        raise Refused(f"The signature on {where} is void already: there is nothing to take back.")
    if let_stand or newest != row.seq:
        raise Refused(f"{where} was signed again since: the signature stays.")


def _state_without(doing: Acting, event: StepSigned, seq: int, signs: int) -> str:
    left = doing.db.execute(
        "select in_limits, as_is from signature where job = ? and phase = ? and step = ? "
        "and not void and seq != ? order by seq",
        [event.job, event.phase, event.step, seq],
    ).fetchall()
    if not left:
        return "open"
    if not left[-1]["in_limits"] and left[-1]["as_is"] is None:
        return "out"
    return "half" if signs == 2 else "open"


def _refuse_built_on(
    doing: Acting, row: Row, event: StepSigned, step: StepRow, steps: list[StepRow]
) -> None:
    phases = phases_of(doing.db, event.job)
    own = phase_row(phases, event.job, event.phase)
    if own.state == "finished" and (own.finished_at or "") >= row.happened_at:
        raise Refused(
            f"{named(event.job, own)} was finished since: the signature stays. Open it again with "
            f"`hoistbook reopen {event.job}.{event.phase}` instead."
        )
    if step.kind == "step":
        return
    for one in blocked_from([step.gate()], phases):
        if _gone_on(doing, event.job, one, row):
            raise Refused(
                f"{named(event.job, one)} has gone on since: the signature stays. "
                f"Open {event.job}.{event.phase} again with `hoistbook reopen` instead."
            )
    order = {one.phase: one.position for one in phases}
    for other in steps:
        behind = other.phase == event.phase and other.position > step.position
        did = other.spec.deed in step.spec.blocks and order[other.phase] > order[event.phase]
        if (behind or did) and other.state != "open" and _signed_since(doing, event, other, row):
            raise Refused(
                f"{event.job}.{other.phase}.{other.step} was signed since: take that back first."
            )


def _signed_since(doing: Acting, event: StepSigned, other: StepRow, row: Row) -> bool:
    found = doing.db.execute(
        "select 1 from signature where job = ? and phase = ? and step = ? and not void and seq > ?",
        [event.job, other.phase, other.step, row.seq],
    ).fetchone()
    return found is not None


def _gone_on(doing: Acting, job: str, phase: PhaseRow, row: Row) -> bool:
    """Whether anything was done in a phase since an event."""
    at = row.happened_at
    if max(phase.begun_at or "", phase.finished_at or "") >= at:
        return True
    found = doing.db.execute(
        "select 1 from clock where job = ?1 and phase = ?2 and (until is null or until > ?3) "
        "union all select 1 from signature where job = ?1 and phase = ?2 and seq > ?4 "
        "and not void limit 1",
        [job, phase.phase, at, row.seq],
    ).fetchone()
    return found is not None
