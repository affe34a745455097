"""Steps, hold points and decisions signed, and the limits typed that readings are judged by."""

from __future__ import annotations

from collections.abc import Mapping

from store.actions.acting import Acting, Done, acting
from store.actions.conditions import forbidding
from store.actions.deeds import refuse_deed
from store.actions.hires.kit_gate import refuse_out_of_date
from store.actions.hires.needed import needless_words
from store.actions.jobs_now import begin_standing
from store.actions.let_stand import let_stand
from store.actions.measured import judged, keep_out, release_reading
from store.actions.route_change import take_answer
from store.actions.signers import refuse_signer, refuse_unqualified
from store.actions.step_asked import Asked, asked_for, begin_phase, record_signature, said_further
from store.actions.trouble import NoSuch
from store.actions.turn import AlreadySigned, refuse_before_turn, refuse_shut, refuse_signed
from store.edges.events.phases import LimitsTyped
from store.file.change import By
from store.file.shop import Shop
from store.rules.book import Answer
from store.trouble import Refused

__all__ = ["AlreadySigned", "forbidding", "refuse_deed", "sign", "signed", "type_limits"]


def sign(
    shop: Shop,
    by: By,
    *,
    job: str,
    phase: str,
    step: str,
    readings: Mapping[str, float] | None = None,
    answer: str | None = None,
    as_is: str | None = None,
) -> Done:
    """Put the actor's name under a step, hold point or decision.

    Args:
        readings: values by position; `value` where there is one without a position.
        answer: code of the answer to a decision.
        as_is: a foreman's reason for letting a reading outside its limits stand.

    Raises:
        AlreadySigned: nothing to do.
        NoSuch: no such job, phase or step.
        Refused: it is not its turn, readings lack, the person may not, or something forbids it.
    """
    with acting(shop, by) as doing:
        return signed(doing, (job, phase, step), readings, answer, as_is)


def signed(
    doing: Acting,
    at: tuple[str, str, str],
    readings: Mapping[str, float] | None = None,
    answer: str | None = None,
    as_is: str | None = None,
) -> Done:
    """Sign as part of an act that is under way, like `sign`.

    Args:
        at: job, phase and step.
    """
    asked = asked_for(doing, *at)
    refuse_signed(doing, asked)
    refuse_shut(doing, asked)
    refuse_before_turn(doing, asked)
    if asked.step.kind == "hold point":
        refuse_out_of_date(doing, asked.job, asked.phase, asked.name)
    if as_is is not None:
        return let_stand(doing, asked, dict(readings or {}), as_is)
    if asked.step.kind == "decision":
        return _decide(doing, asked, answer)
    if answer is not None:
        raise Refused(f"{asked.name} is no decision and takes no answer.")
    if asked.step.kind == "hold point":
        return _sign_hold_point(doing, asked, dict(readings or {}))
    return _sign_step(doing, asked, dict(readings or {}))


def _sign_step(doing: Acting, asked: Asked, readings: dict[str, float]) -> Done:
    doing.may("sign step")
    if readings:
        raise Refused(f"{asked.name} takes no reading: sign it without one.")
    begin_phase(doing, asked)
    record_signature(doing, asked, state="done")
    return doing.done(f"{asked.name}: signed by {doing.person.name}.", job=asked.job)


def _decide(doing: Acting, asked: Asked, answer: str | None) -> Done:
    doing.may("answer decision")
    refuse_unqualified(doing, asked)
    possible = asked.step.spec.answers
    chosen = next((one for one in possible if one.code == answer), None)
    if chosen is None:
        listed = "; ".join(f"{one.code} = {one.text}" for one in possible)
        asks = f"There is no answer {answer}" if answer else "This takes an answer"
        raise Refused(f"{asked.name}. {asks}: --answer with one of: {listed}.")
    begin_phase(doing, asked)
    seq = record_signature(doing, asked, state="done", answer=chosen.code)
    says = f"{asked.name}: {chosen.text}."
    changed = take_answer(doing, asked.job, chosen, because=seq, question=asked.step.spec.text)
    kits = needless_words(doing, asked.job) if changed else None
    further = begin_standing(doing, asked.job)
    said = filter(None, (says, changed, kits, _advice(chosen), further))
    return doing.done(" ".join(said), job=asked.job)


def _advice(answer: Answer) -> str | None:
    return f"Advise: {answer.advise}" if answer.advise else None


def _sign_hold_point(doing: Acting, asked: Asked, readings: dict[str, float]) -> Done:
    second = asked.step.state == "half"
    refuse_signer(doing, asked, second=second)
    faults = judged(doing, asked, readings, needed=not second)
    begin_phase(doing, asked)
    if faults:
        return keep_out(doing, asked, readings, faults)
    state = "half" if asked.step.spec.signs == 2 and not second else "done"
    record_signature(doing, asked, state=state, readings=readings)
    release_reading(doing, asked)
    says = f"{asked.name}: signed by {doing.person.name}."
    if state == "half":
        says += " A second person signs it now, with their PIN."
    return doing.done(said_further(doing, asked, says), job=asked.job)


def type_limits(
    shop: Shop,
    by: By,
    *,
    job: str,
    phase: str,
    step: str,
    reading: str,
    low: float | None,
    high: float | None,
    source: str,
) -> Done:
    """Type the limits of a reading for this job, with the data they were taken from.

    Raises:
        NoSuch: no such job, phase, step or reading.
        Refused: no limit at all, the low one above the high one, or it is signed already.
    """
    with acting(shop, by, "type limits") as doing:
        asked = asked_for(doing, job, phase, step)
        codes = [one.code for one in asked.step.spec.readings]
        if reading not in codes:
            raise NoSuch("reading", reading, f"{asked.name} has: {', '.join(codes) or 'none'}.")
        if low is None and high is None:
            raise Refused("Give a low or a high limit, or both.")
        if low is not None and high is not None and low > high:
            raise Refused(f"The low limit {low:g} lies above the high one {high:g}.")
        if asked.step.state in ("half", "done"):
            raise Refused(f"{asked.name} is signed already: its limits stay as they were.")
        if asked.step.state == "out":
            doing.may("let reading stand")  # other limits would pass what these refused
        doing.record(
            LimitsTyped(job=job, phase=phase, step=step, reading=reading, low=low, high=high,
                        source=source)
        )  # fmt: skip
        return doing.done(f"{asked.name}: limits typed, from {source}.", job=job)
