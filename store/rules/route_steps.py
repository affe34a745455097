"""The steps and kits of a phase as they apply to one vehicle in one route."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from store.rules.book import DEEDS, EVERYTHING, NEXT_PHASE, KitNeed, Operation, Phase, Step
from store.rules.route_when import Vehicle


def extras_of(ops: Sequence[Operation]) -> dict[str, list[tuple[str | None, Step]]]:
    """Per phase the steps that operations add; one that two add alike comes once."""
    found: dict[str, list[tuple[str | None, Step]]] = {}
    for extra in (extra for op in ops for extra in op.extras):
        there = found.setdefault(extra.phase, [])
        if (extra.after, extra.step) not in there:
            there.append((extra.after, extra.step))
    return found


def steps_of(
    phase: Phase,
    extras: Sequence[tuple[str | None, Step]],
    vehicle: Vehicle,
    order: Sequence[str],
    instead: Mapping[str, Sequence[str]],
) -> tuple[Step, ...]:
    """The steps that apply, extras in their places, blocking what this route has."""
    steps = list(phase.steps)
    steps += [extra for after, extra in extras if after is None]
    for after, extra in reversed([pair for pair in extras if pair[0] is not None]):
        steps.insert(_place_after(steps, after), extra)
    return tuple(
        _blocking_here(step, order, instead) if step.blocks else step
        for step in steps
        if vehicle.meets(step.when)
    )


def _place_after(steps: Sequence[Step], after: str | None) -> int:
    return next((i + 1 for i, step in enumerate(steps) if step.code == after), len(steps))


def _blocking_here(step: Step, order: Sequence[str], instead: Mapping[str, Sequence[str]]) -> Step:
    blocks = _renamed(step.blocks, order, instead)
    return step if blocks == step.blocks else replace(step, blocks=blocks)


def _renamed(
    blocks: Iterable[str], order: Sequence[str], instead: Mapping[str, Sequence[str]]
) -> tuple[str, ...]:
    """What it blocks in this route: a phase that falls away blocks through its stand-ins."""
    always = {EVERYTHING, NEXT_PHASE, *DEEDS, *order}
    named = (name for block in blocks for name in instead.get(block, (block,)))
    return tuple(dict.fromkeys(name for name in named if name in always))


def kits_of(
    phase: Phase, vehicle: Vehicle, instead: Mapping[str, Sequence[str]]
) -> tuple[KitNeed, ...]:
    """The kits that apply, captive to phases that this route has."""
    return tuple(
        replace(need, captive_to=_last_of(need.captive_to, instead))
        for need in phase.kits
        if vehicle.meets(need.when)
    )


def _last_of(captive_to: str | None, instead: Mapping[str, Sequence[str]]) -> str | None:
    return None if captive_to is None else instead.get(captive_to, (captive_to,))[-1]
