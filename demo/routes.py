"""A job's route as it stands in the file, taken over into the simulation."""

from __future__ import annotations

import json
from datetime import timedelta
from typing import TypedDict

from demo.world import Job, Phase, Stop, World
from store.file.route_now import PhaseRow, StepRow, phases_of, steps_of
from store.rules.book import Phase as BookPhase

CAREFUL = timedelta(days=30)
"""Since so long before the end the steps that conditions hang on are signed as well."""


class _Kits(TypedDict):
    hired: tuple[str, ...]
    owned: frozenset[str]


def read_route(world: World, job: Job) -> None:
    """Take over the phases that are still to be done; what is known of them is kept."""
    known = {one.phase: one for one in job.phases}
    with world.shop.reading() as db:
        rows = phases_of(db, job.number)
        steps = [] if job.small else steps_of(db, job.number)
    plain = job.taken >= world.calm_from - CAREFUL
    held = {code for one in steps if one.kind == "hold point" for code in one.spec.opens}
    wanted = [one for one in steps if plain or _matters(one, held)]
    by_phase: dict[str, list[StepRow]] = {}
    for step in wanted:
        by_phase.setdefault(step.phase, []).append(step)
    job.phases = [
        _taken_over(known.get(row.phase)) or _phase(world, row, by_phase.get(row.phase, []))
        for row in rows
        if row.state in ("to come", "under way")
    ]
    for phase in job.phases:
        if phase.phase in known:
            phase.shift_h = known[phase.phase].shift_h


def _matters(step: StepRow, held: set[str]) -> bool:
    """Hold points, decisions, deeds, and what ends a condition that a hold point opened."""
    return (
        step.kind != "step" or step.spec.deed is not None or not held.isdisjoint(step.spec.closes)
    )


def _taken_over(phase: Phase | None) -> Phase | None:
    """A phase that has begun goes on as it was; another one may have new hours and steps."""
    return phase if phase is not None and phase.left_h is not None else None


def _phase(world: World, row: PhaseRow, steps: list[StepRow]) -> Phase:
    book = world.book.phases.get(row.code)
    phase = Phase(
        row.phase, row.code, row.kind, row.phase_class, row.book(), row.cautious_h,
        tuple(book.place) if book else ("ground",), tuple(book.needs) if book else (),
        kits=row.kits != "[]", **_kits(world, row),
    )  # fmt: skip
    phase.stops = _signings(steps, book)
    return phase


def _kits(world: World, row: PhaseRow) -> _Kits:
    if row.kits == "[]":
        return {"hired": (), "owned": frozenset()}
    owned = {one.code for one in world.book.kits if one.owned}
    kits: list[str] = json.loads(row.kits)
    return {
        "hired": tuple(kit for kit in kits if kit not in owned),
        "owned": frozenset(owned.intersection(kits)),
    }


def _signings(steps: list[StepRow], book: BookPhase | None) -> list[Stop]:
    """What is signed in a phase, by the share of it that is left then.

    Hold points, decisions and the steps that conditions hang on; few sign the others, and phases
    alone are enough.
    """
    if book is None:
        return []
    last = len(steps) + 1
    return [
        Stop(1 - order / last, "sign", step=one.spec, number=one.step)
        for order, one in enumerate(steps, 1)
        if one.kind != "step" or one.spec.opens or one.spec.closes or one.spec.deed
    ]
