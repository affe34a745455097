"""Steps, hold points and decisions: whose name, which readings, what they open and close."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from store.actions.acting import Acting, Done, acting
from store.actions.clock import holds, stop_all
from store.actions.conditions import forbidding, opened_by, to_close, to_open
from store.actions.gates import refuse_blocked, refuse_late_signature
from store.actions.jobs_now import (
    begin_standing,
    live_job,
    phase_row,
    refuse_unworkable,
)
from store.actions.route_change import take_answer
from store.actions.trouble import NoSuch
from store.actions.words import gate_words, named
from store.edges.events import (
    Held,
    LimitsTyped,
    PhaseBegun,
    ReadingLetStand,
    Released,
    StepSigned,
)
from store.edges.instants import from_text
from store.file.change import By
from store.file.facts import setting
from store.file.route_now import PhaseRow, StepRow, names_on, phases_of, steps_of
from store.file.shop import Shop
from store.rules.blocking import blocking_deed, blocking_step, who_signs
from store.rules.book import LIFT_RATED_KG, Answer, Deed
from store.rules.gate_times import in_force
from store.rules.readings import judge, limits_text
from store.trouble import Refused

DEED_WORDS: dict[Deed, str] = {
    "first-start": "the first start",
    "lower": "lowering",
    "move": "moving it",
    "hand-over": "the hand-over",
}


class AlreadySigned(Refused):
    """The step was signed before; harmless."""


@dataclass(frozen=True, slots=True)
class _Asked:
    """What somebody wants to sign."""

    job: str
    phase: PhaseRow
    phases: list[PhaseRow]
    step: StepRow
    steps: list[StepRow]

    @property
    def name(self) -> str:
        return f"{self.job}.{self.phase.phase}.{self.step.step} {self.step.spec.text}"


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
        asked = _find(doing, job, phase, step)
        _refuse_done(doing, asked)
        _refuse_unworkable(doing, asked)
        _refuse_before_turn(doing, asked)
        if as_is is not None:
            return _let_stand(doing, asked, dict(readings or {}), as_is)
        if asked.step.kind == "decision":
            return _decide(doing, asked, answer)
        if answer is not None:
            raise Refused(f"{asked.name} is no decision and takes no answer.")
        if asked.step.kind == "hold point":
            return _sign_hold_point(doing, asked, dict(readings or {}))
        return _sign_step(doing, asked, dict(readings or {}))


def _find(doing: Acting, job: str, phase: str, step: str) -> _Asked:
    live_job(doing, job)
    phases = phases_of(doing.db, job)
    row = phase_row(phases, job, phase)
    steps = steps_of(doing.db, job)
    for one in steps:
        if one.phase == phase and one.step == step:
            return _Asked(job, row, phases, one, steps)
    there = ", ".join(one.step for one in steps if one.phase == phase) or "none"
    raise NoSuch("step", f"{job}.{phase}.{step}", f"{job}.{phase} has these: {there}.")


def _refuse_done(doing: Acting, asked: _Asked) -> None:
    if asked.step.state != "done":
        return
    last = doing.db.execute(
        "select at, name, answer from signature join person using (person) where job = ? and "
        "phase = ? and step = ? and not void order by seq desc limit 1",
        [asked.job, asked.phase.phase, asked.step.step],
    ).fetchone()
    when = from_text(last["at"]).astimezone(doing.calendar.zone)
    answered = f" with {last['answer']}" if last["answer"] else ""
    raise AlreadySigned(
        f"{asked.name} was signed at {when:%H:%M on %a %d %b} by {last['name']}{answered}; "
        "nothing was written."
    )


def _refuse_unworkable(doing: Acting, asked: _Asked) -> None:
    """Refuse a phase that is over, held or blocked.

    What must be signed anew on another lift is signed in its phase, finished as that is: opening
    the phase again would void everything behind it.
    """
    if asked.phase.state == "finished" and asked.step.void_on_lift:
        refuse_blocked(doing, asked.job, asked.phase, asked.phases)
        return
    held_too = not _measures_again(doing, asked)
    refuse_unworkable(doing, asked.job, asked.phase, asked.phases, held_too=held_too)


def _measures_again(doing: Acting, asked: _Asked) -> bool:
    """A hold for a reading outside its limits does not stand in the way of measuring again."""
    if not asked.step.spec.readings:
        return False
    other = doing.db.execute(
        "select 1 from hold where job = ? and until is null and (phase is null or phase = ?) "
        "and reason != 'reading'",
        [asked.job, asked.phase.phase],
    ).fetchone()
    return other is None


def _refuse_before_turn(doing: Acting, asked: _Asked) -> None:
    own = asked.phase.phase
    gates = [one.gate() for one in asked.steps if one.phase == own and one.kind != "step"]
    gate = blocking_step(gates, own, asked.step.position)
    if gate is not None:
        raise Refused(f"{asked.name} waits for {gate_words(asked.job, gate)}.")
    before = [one for one in gates if one.position < asked.step.position]
    refuse_late_signature(doing, asked.job, asked.phase, asked.step.step, before)
    deed = asked.step.spec.deed
    if deed is not None:
        refuse_deed(doing, asked.job, deed, asked.phases, besides=asked.step)


def refuse_deed(
    doing: Acting,
    job: str,
    deed: Deed,
    phases: list[PhaseRow],
    *,
    besides: StepRow | None = None,
) -> None:
    """Refuse an act that an open hold point or an open condition forbids.

    Raises:
        Refused: naming what is open.
    """
    gates = [one.gate() for one in steps_of(doing.db, job, gates_only=True)]
    own = (besides.phase, besides.step) if besides else None
    others = [gate for gate in gates if (gate.phase, gate.step) != own]
    gate = blocking_deed(others, [one.at() for one in phases], deed)
    if gate is not None:
        raise Refused(
            f"{DEED_WORDS[deed]} of {job} waits for {gate_words(job, gate)}.".capitalize()
        )
    closing = besides.spec.closes if besides else ()
    tags = [text for code, text in forbidding(doing, job, deed) if code not in closing]
    if tags:
        raise Refused(
            f"{job} carries an open condition: {', '.join(tags)}. "
            f"It forbids {DEED_WORDS[deed]}; sign the steps that end it first."
        )


def _begin(doing: Acting, asked: _Asked) -> None:
    if asked.phase.state == "to come":
        doing.record(
            PhaseBegun(
                job=asked.job,
                phase=asked.phase.phase,
                opens=opened_by(doing, asked.job, asked.phase),
            )
        )


def _sign_step(doing: Acting, asked: _Asked, readings: dict[str, float]) -> Done:
    doing.may("sign step")
    if readings:
        raise Refused(f"{asked.name} takes no reading: sign it without one.")
    _begin(doing, asked)
    _record(doing, asked, state="done")
    return doing.done(f"{asked.name}: signed by {doing.person.name}.", job=asked.job)


def _record(
    doing: Acting,
    asked: _Asked,
    *,
    state: str,
    readings: dict[str, float] | None = None,
    answer: str | None = None,
    faults: tuple[str, ...] = (),
) -> int:
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


def _decide(doing: Acting, asked: _Asked, answer: str | None) -> Done:
    doing.may("answer decision")
    _refuse_unqualified(doing, asked)
    possible = asked.step.spec.answers
    chosen = next((one for one in possible if one.code == answer), None)
    if chosen is None:
        listed = "; ".join(f"{one.code} = {one.text}" for one in possible)
        asks = f"There is no answer {answer}" if answer else "This takes an answer"
        raise Refused(f"{asked.name}. {asks}: --answer with one of: {listed}.")
    _begin(doing, asked)
    seq = _record(doing, asked, state="done", answer=chosen.code)
    says = f"{asked.name}: {chosen.text}."
    changed = take_answer(doing, asked.job, chosen, because=seq, question=asked.step.spec.text)
    further = begin_standing(doing, asked.job)
    said = filter(None, (says, changed, _advice(chosen), further))
    return doing.done(" ".join(said), job=asked.job)


def _advice(answer: Answer) -> str | None:
    return f"Advise: {answer.advise}" if answer.advise else None


def _sign_hold_point(doing: Acting, asked: _Asked, readings: dict[str, float]) -> Done:
    second = asked.step.state == "half"
    _refuse_signer(doing, asked, second=second)
    faults = _judged(doing, asked, readings, needed=not second)
    _begin(doing, asked)
    if faults:
        return _out(doing, asked, readings, faults)
    state = "half" if asked.step.spec.signs == 2 and not second else "done"
    _record(doing, asked, state=state, readings=readings)
    _release_reading(doing, asked)
    says = f"{asked.name}: signed by {doing.person.name}."
    if state == "half":
        says += " A second person signs it now, with their PIN."
    return doing.done(_further(doing, asked, says), job=asked.job)


def _further(doing: Acting, asked: _Asked, says: str) -> str:
    """What needs no hands begins as soon as nothing stands in its way."""
    further = begin_standing(doing, asked.job)
    return f"{says} {further}" if further else says


def _refuse_signer(doing: Acting, asked: _Asked, *, second: bool) -> None:
    spec = asked.step.spec
    if second:
        _refuse_same_person(doing, asked)
        doing.may("sign second")
    elif spec.signs == 1 and spec.by != "foreman":
        doing.may("sign second" if spec.not_by_fitter else "sign hold point")
    if spec.by == "foreman" and (second or spec.signs == 1):
        doing.may("sign as foreman")
    _refuse_unqualified(doing, asked)
    if spec.not_by_fitter and (second or spec.signs == 1):
        _refuse_fitter(doing, asked)


def _refuse_same_person(doing: Acting, asked: _Asked) -> None:
    names = names_on(doing.db, asked.job).get((asked.phase.phase, asked.step.step), [])
    if all(one.person != doing.person.person for one in in_force(names, doing.change.recorded_at)):
        return
    if asked.step.code in setting(doing.db, "signed alone"):
        return
    raise Refused(
        f"{asked.name} has {doing.person.name}'s name already and takes a second person's. "
        f"It waits until {who_signs(asked.step.spec).split(' and ')[-1]} signs it."
    )


def _refuse_unqualified(doing: Acting, asked: _Asked) -> None:
    for what in asked.step.spec.needs:
        if not holds(doing, doing.person.person, what):
            raise Refused(
                f"{asked.name} is signed by somebody qualified for {what}, and "
                f"{doing.person.name} is not today."
            )


def _refuse_fitter(doing: Acting, asked: _Asked) -> None:
    """By somebody who did not do the work, where there is one."""
    if not _worked(doing, asked.job, doing.person.person):
        return
    roles = (
        ("foreman", "owner")
        if asked.step.spec.by == "foreman"
        else ("technician", "foreman", "owner")
    )
    day = doing.today.isoformat()
    others = doing.db.execute(
        "select person, name, role from person where person != ? and experience not like "
        "'apprentice%' and from_day <= ? and (until_day is null or until_day >= ?) order by name",
        [doing.person.person, day, day],
    ).fetchall()
    free = [
        row["name"]
        for row in others
        if row["role"] in roles and not _worked(doing, asked.job, row["person"])
    ]
    if free:
        raise Refused(
            f"{asked.name} is signed by somebody who did not work on {asked.job}, and "
            f"{doing.person.name} did. Ask {' or '.join(free)}."
        )


def _worked(doing: Acting, job: str, person: str) -> bool:
    row = doing.db.execute(
        "select 1 from clock where job = ? and person = ? and part != 'learner' limit 1",
        [job, person],
    ).fetchone()
    return row is not None


def _judged(
    doing: Acting, asked: _Asked, readings: dict[str, float], *, needed: bool
) -> tuple[str, ...]:
    specs = asked.step.spec.readings
    if not specs:
        if readings:
            raise Refused(f"{asked.name} takes no reading: sign it without one.")
        return ()
    if not needed and not readings:
        return ()
    limits = {
        row["reading"]: (row["low"], row["high"])
        for row in doing.db.execute(
            "select reading, low, high from step_limit where job = ? and phase = ? and step = ?",
            [asked.job, asked.phase.phase, asked.step.step],
        )
    }
    _refuse_unlimited(asked, limits)
    verdict = judge(specs, readings, limits=limits, lift_rated_kg=_rated(doing, asked))
    if verdict.unknown:
        raise Refused(
            f"{asked.name} has no reading {', '.join(verdict.unknown)}. It takes: {_wanted(asked)}."
        )
    if verdict.missing:
        raise Refused(f"{asked.name} takes a reading: {_wanted(asked)}.")
    return verdict.faults


def _wanted(asked: _Asked) -> str:
    return "; ".join(
        f"{one.text} ({', '.join(one.positions) or one.code}, {limits_text(one)})"
        for one in asked.step.spec.readings
    )


def _refuse_unlimited(
    asked: _Asked, limits: Mapping[str, tuple[float | None, float | None]]
) -> None:
    for one in asked.step.spec.readings:
        if one.typed and one.code not in limits:
            raise Refused(
                f"{asked.name}: the limits of {one.text} come from the maker's data for this "
                f"vehicle. Type them first: hoistbook limits {asked.job}.{asked.phase.phase}."
                f"{asked.step.step} --reading {one.code} --low X --high X --source TEXT."
            )


def _rated(doing: Acting, asked: _Asked) -> float | None:
    if all(one.high_is != LIFT_RATED_KG for one in asked.step.spec.readings):
        return None
    row = doing.db.execute(
        "select rated_kg from job_place join place using (place) "
        "where job = ? and part = 'body' and kind = 'lift'",
        [asked.job],
    ).fetchone()
    if row is None:
        raise Refused(
            f"{asked.name} is signed when {asked.job} stands on a lift, and it stands on none. "
            f"Bring it in: hoistbook move {asked.job} --lift CODE."
        )
    rated: float = row[0]
    return rated


def _out(doing: Acting, asked: _Asked, readings: dict[str, float], faults: tuple[str, ...]) -> Done:
    """Keep the reading, and hold the phase until it is measured again or let stand."""
    _record(doing, asked, state="out", readings=readings, faults=faults)
    stopped = stop_all(doing, asked.job, asked.phase.phase, leave_forgotten=True)
    held = doing.db.execute(
        "select 1 from hold where job = ? and phase = ? and reason = 'reading' and until is null",
        [asked.job, asked.phase.phase],
    ).fetchone()
    if held is None:
        doing.record(
            Held(job=asked.job, phase=asked.phase.phase, reason="reading", text="; ".join(faults))
        )
    clocks = f" Stopped: the clock of {', '.join(stopped)}." if stopped else ""
    return doing.done(
        f"{asked.name}: {'; '.join(faults)}. The reading is kept and "
        f"{named(asked.job, asked.phase)} is held. Measure again, report a finding, or ask the "
        f"foreman.{clocks}",
        job=asked.job,
    )


def _release_reading(doing: Acting, asked: _Asked) -> None:
    """A hold for a reading ends once no reading of the phase is outside its limits."""
    out = doing.db.execute(
        "select 1 from step where job = ? and phase = ? and state = 'out'",
        [asked.job, asked.phase.phase],
    ).fetchone()
    if out is not None:
        return
    for row in doing.db.execute(
        "select seq from hold where job = ? and phase = ? and reason = 'reading' and until is null",
        [asked.job, asked.phase.phase],
    ).fetchall():
        doing.record(Released(hold=row["seq"]))


def _let_stand(doing: Acting, asked: _Asked, readings: dict[str, float], reason: str) -> Done:
    doing.may("let reading stand")
    if asked.step.kind != "hold point" or not asked.step.spec.readings:
        raise Refused(f"{asked.name} has no reading that could be let stand.")
    _refuse_unqualified(doing, asked)
    if asked.step.spec.not_by_fitter and asked.step.spec.signs == 1:
        _refuse_fitter(doing, asked)
    if readings:
        faults = _judged(doing, asked, readings, needed=True)
        if not faults:
            raise Refused(f"{asked.name}: that is inside the limits. Sign it without --as-is.")
        _begin(doing, asked)
        _record(doing, asked, state="out", readings=readings, faults=faults)
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


def _stand(doing: Acting, asked: _Asked, signature: int, reason: str) -> Done:
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
    _release_reading(doing, asked)
    more = " A second person signs it now." if state == "half" else ""
    says = f"{asked.name}: let stand as it is by {doing.person.name} ({reason}).{more}"
    return doing.done(_further(doing, asked, says), job=asked.job)


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
        asked = _find(doing, job, phase, step)
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
