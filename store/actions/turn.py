"""Whether a step can be signed now: not signed yet, its phase open, and its turn come."""

from __future__ import annotations

from store.actions.acting import Acting
from store.actions.deeds import refuse_deed
from store.actions.gates import refuse_blocked, refuse_late_signature
from store.actions.jobs_now import refuse_unworkable
from store.actions.step_asked import Asked
from store.actions.words import gate_words
from store.edges.instants import from_text
from store.file.route_now import steps_of
from store.rules.blocking import blocking_step
from store.trouble import Refused


class AlreadySigned(Refused):
    """The step was signed before; harmless."""


def refuse_signed(doing: Acting, asked: Asked) -> None:
    """Refuse to sign a step twice.

    Raises:
        AlreadySigned: with the time, the name and the answer.
    """
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


def refuse_shut(doing: Acting, asked: Asked) -> None:
    """Refuse a phase that is over, held or blocked.

    What must be signed anew on another lift is signed in its phase, finished as that is: opening
    the phase again would void everything behind it.

    Raises:
        Refused: with what stands in the way and who can clear it.
    """
    if asked.phase.state == "finished" and asked.step.void_on_lift:
        refuse_blocked(doing, asked.job, asked.phase, asked.phases)
        return
    held_too = not _measures_again(doing, asked)
    refuse_unworkable(doing, asked.job, asked.phase, asked.phases, held_too=held_too)


def _measures_again(doing: Acting, asked: Asked) -> bool:
    """A hold for a reading outside its limits does not stand in the way of measuring again."""
    if not asked.step.spec.readings:
        return False
    other = doing.db.execute(
        "select 1 from hold where job = ? and until is null and (phase is null or phase = ?) "
        "and reason != 'reading'",
        [asked.job, asked.phase.phase],
    ).fetchone()
    return other is None


def refuse_before_turn(doing: Acting, asked: Asked) -> None:
    """Refuse a step that other signatures or open conditions stand before.

    Raises:
        Refused: naming what is open, or the time from which on it can be signed.
    """
    own = asked.phase.phase
    there = steps_of(doing.db, asked.job, gates_only=True)
    gates = [one.gate() for one in there if one.phase == own]
    gate = blocking_step(gates, own, asked.step.position)
    if gate is not None:
        raise Refused(f"{asked.name} waits for {gate_words(asked.job, gate)}.")
    before = [one for one in gates if one.position < asked.step.position]
    refuse_late_signature(doing, asked.job, asked.phase, asked.step.step, before)
    deed = asked.step.spec.deed
    if deed is not None:
        refuse_deed(doing, asked.job, deed, asked.phases, besides=asked.step)
