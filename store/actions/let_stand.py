"""A reading outside its limits that a foreman lets stand as it is."""

from __future__ import annotations

from store.actions.acting import Acting, Done
from store.actions.conditions import to_close, to_open
from store.actions.measured import judged, release_reading
from store.actions.signers import refuse_fitter, refuse_unqualified
from store.actions.step_asked import Asked, begin_phase, record_signature, said_further
from store.edges.events.phases import ReadingLetStand
from store.rules.book import LIFT_RATED_KG
from store.trouble import Refused


def let_stand(doing: Acting, asked: Asked, readings: dict[str, float], reason: str) -> Done:
    """Let the newest reading outside its limits, or the one given, stand for a reason.

    Raises:
        MayNot, PinNeeded, NoPin, WrongPin, PinWaits: as they say.
        Refused: it has no such reading, or one that is never let stand, or the person may not.
    """
    doing.may("let reading stand")
    if asked.step.kind != "hold point" or not asked.step.spec.readings:
        raise Refused(f"{asked.name} has no reading that could be let stand.")
    refuse_unqualified(doing, asked)
    if asked.step.spec.not_by_fitter and asked.step.spec.signs == 1:
        refuse_fitter(doing, asked)
    if readings:
        faults = judged(doing, asked, readings, needed=True)
        if not faults:
            raise Refused(f"{asked.name}: that is inside the limits. Sign it without --as-is.")
        begin_phase(doing, asked)
        record_signature(doing, asked, state="out", readings=readings, faults=faults)
    if any(one.high_is == LIFT_RATED_KG for one in asked.step.spec.readings):
        raise Refused(
            f"{asked.name}: a lift's rated capacity is never let stand. Use a stronger lift."
        )
    last = doing.db.execute(
        "select seq, person from signature where job = ? and phase = ? and step = ? and not void "
        "and not in_limits and as_is is null order by seq desc limit 1",
        [asked.job, asked.phase.phase, asked.step.step],
    ).fetchone()
    if last is None or (asked.step.state != "out" and not readings):
        raise Refused(f"{asked.name} has no reading outside its limits. Sign it without --as-is.")
    return _stand(doing, asked, last["seq"], reason)


def _stand(doing: Acting, asked: Asked, signature: int, reason: str) -> Done:
    spec = asked.step.spec
    state = "half" if spec.signs == 2 else "done"
    doing.record(
        ReadingLetStand.model_validate(
            {
                "job": asked.job, "phase": asked.phase.phase, "step": asked.step.step,
                "signature": signature, "person": doing.person.person, "reason": reason,
                "state": state,
                "opens": to_open(doing, asked.job, spec.opens) if state == "done" else [],
                "closes": to_close(doing, asked.job, spec.closes) if state == "done" else [],
            }
        )
    )  # fmt: skip
    release_reading(doing, asked)
    more = " A second person signs it now." if state == "half" else ""
    says = f"{asked.name}: let stand as it is by {doing.person.name} ({reason}).{more}"
    return doing.done(said_further(doing, asked, says), job=asked.job)
