"""What an open hold point or an unanswered decision stands in the way of.

A gate (either of the two) blocks every later step of its own phase, the finish of that phase, and
the phases it names with all that follow them in the route: a later phase reached round the back
would be a hold point walked past. A gate that names nothing blocks the phase after its own.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from store.rules.book import DEEDS, EVERYTHING, NEXT_PHASE, Deed, Step


class PhaseAt(NamedTuple):
    """A phase in a job's route, as far as blocking asks."""

    phase: str
    position: float
    code: str
    state: str


class Gate(NamedTuple):
    """A hold point or decision of a job."""

    phase: str
    step: str
    position: float
    state: str
    spec: Step

    @property
    def at(self) -> str:
        """`phase.step`."""
        return f"{self.phase}.{self.step}"


def in_order(gates: Iterable[Gate], phases: Sequence[PhaseAt]) -> list[Gate]:
    """Return the open gates of phases that are not skipped, in the order of the route."""
    place = {one.phase: one.position for one in phases if one.state != "skipped"}
    wanted = [gate for gate in gates if gate.state != "done" and gate.phase in place]
    return sorted(wanted, key=lambda gate: (place[gate.phase], gate.position))


def blocks_from(gate: Gate, phases: Sequence[PhaseAt]) -> float | None:
    """Return the position in the route from which on phases are blocked; None blocks none."""
    own = next(one.position for one in phases if one.phase == gate.phase)
    later = sorted(one.position for one in phases if one.position > own and one.state != "skipped")
    if not later:
        return None
    named = [one for one in gate.spec.blocks if one not in DEEDS]
    if EVERYTHING in named or NEXT_PHASE in named or not gate.spec.blocks:
        return later[0]
    if not named:
        return None
    # A named phase that fell away keeps its place: what stood behind it is blocked as before.
    found = [one.position for one in phases if one.code in named and one.position > own]
    return min(found, default=later[0])


def blocking_phase(gates: Sequence[Gate], phases: Sequence[PhaseAt], phase: str) -> Gate | None:
    """Return the first open gate because of which a phase cannot be begun or gone on with."""
    place = {one.phase: one.position for one in phases}
    target = place[phase]
    for gate in in_order(gates, phases):
        if place[gate.phase] >= target:  # it blocks only what comes after it
            return None
        start = blocks_from(gate, phases)
        if start is not None and target >= start:
            return gate
    return None


def blocking_step(gates: Sequence[Gate], phase: str, position: float) -> Gate | None:
    """Return the first open gate of the same phase that stands before a step."""
    before = [
        gate
        for gate in gates
        if gate.phase == phase and gate.state != "done" and gate.position < position
    ]
    return min(before, key=lambda gate: gate.position, default=None)


def blocking_deed(gates: Sequence[Gate], phases: Sequence[PhaseAt], deed: Deed) -> Gate | None:
    """Return the first open gate that forbids an act."""
    return next((gate for gate in in_order(gates, phases) if deed in gate.spec.blocks), None)


def who_signs(spec: Step) -> str:
    """Say who may sign a hold point, in words."""
    who = "the foreman" if spec.by == "foreman" else "a technician"
    if spec.not_by_fitter and spec.signs == 1:
        who += " who did not do the work"
    if spec.signs == 2:
        who += " and a second person"
    if spec.needs:
        who += f" with {' and '.join(spec.needs)}"
    return who
