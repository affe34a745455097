"""Acts on a vehicle that open hold points and open conditions forbid."""

from __future__ import annotations

from store.actions.acting import Acting
from store.actions.conditions import forbidding
from store.actions.words import gate_words
from store.file.route_now import PhaseRow, StepRow, steps_of
from store.rules.blocking import blocking_deed
from store.rules.book import Deed
from store.trouble import Refused

DEED_WORDS: dict[Deed, str] = {
    "first-start": "the first start",
    "lower": "lowering",
    "move": "moving it",
    "hand-over": "the hand-over",
}


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
