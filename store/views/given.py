"""Whose a phase is, and whether it could go on now: what the bay, the floor and lists agree on."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from datetime import datetime
from typing import TYPE_CHECKING, NamedTuple

from store.edges.instants import to_text
from store.file.route_now import PhaseRow
from store.file.work_lists import Line
from store.views.assigned_values import Given

if TYPE_CHECKING:
    from store.views.jobs import Parts
    from store.views.loading import JobHead, Loaded
    from store.views.values import PersonNow


class OwnPhase(NamedTuple):
    """A phase that could be gone on with now, and the line of a list that it is on."""

    line: Line
    phase: PhaseRow


def holders(lines: Sequence[Line], phase: str) -> list[Line]:
    """Return whose a phase is: given by itself, else with the whole job.

    Args:
        lines: those of its job.
    """
    own = [one for one in lines if one.phase == phase]
    return own or [one for one in lines if one.phase is None]


def phases_on(line: Line, lines: Sequence[Line], parts: Parts) -> list[PhaseRow]:
    """Return the phases of labour that are left of a line: of a whole job those not given apart."""
    return [
        one
        for one in parts.phases
        if one.kind == "labour" and one.state in ("to come", "under way")
        and any(each.seq == line.seq for each in holders(lines, one.phase))
    ]  # fmt: skip


def ready(parts: Parts) -> list[PhaseRow]:
    """Return the phases that somebody could clock on now: those under way, then the next one."""
    able = [one for one in parts.phases if parts.can_go_on(one)]
    under_way = [one for one in able if one.state == "under way"]
    return under_way + [one for one in able if one.state == "to come"][:1]


def waits_for(parts: Parts, phase: PhaseRow) -> str:
    """Say what a phase waits for that cannot go on now."""
    hold = parts.hold_on(phase.phase)
    if hold is not None:
        return f"held: {hold.reason}"
    gate = parts.blocked_by(phase)
    begun = {one.phase for one in parts.phases if one.state != "to come"}
    if gate is not None and gate.phase in begun:
        return f"{gate.at} to {'answer' if gate.spec.kind == 'decision' else 'sign'}"
    before = [
        one
        for one in parts.phases
        if one.position < phase.position and one.state in ("to come", "under way")
    ]
    return f"after {before[-1].phase} {before[-1].name}" if before else "its turn"


def given(parts: Parts, phase: PhaseRow | None, people: dict[str, PersonNow]) -> tuple[Given, ...]:
    """Return everybody who has the job or a phase of it.

    Args:
        phase: what comes next of the job.
    """
    lines = parts.loaded.lines[parts.head.job]
    next_of = [] if phase is None else [one.seq for one in holders(lines, phase.phase)]
    return tuple(
        Given(one.badge, one.name, people[one.person].initials, one.phase, one.seq in next_of)
        for one in lines
        if one.person in people
    )


def place_words(head: JobHead) -> str | None:
    """Return `lift 2`, `yard Y`; None where it is nowhere in the house."""
    if head.place is None or head.place_kind in (None, head.place):
        return head.place
    return f"{head.place_kind} {head.place}"


def nothing_next(db: sqlite3.Connection, loaded: Loaded, now: datetime) -> tuple[str, ...]:
    """Return initials of technicians who are here and have no work on their list; one query.

    Nobody is named in a shop that keeps no lists at all.
    """
    busy = {one.person for lines in loaded.lines.values() for one in lines}
    at = to_text(now)
    away = {
        row[0]
        for row in db.execute("select person from absence where since <= ?1 and until > ?1", [at])
    }
    return tuple(
        one.initials
        for ident, one in loaded.people.items()
        if busy and one.role == "technician" and ident not in busy and ident not in away
    )


def own_phases(parts: dict[str, Parts], loaded: Loaded, person: str) -> list[OwnPhase]:
    """Return the phases on a person's list that they could clock on now, in its order."""
    lines = [one for every in loaded.lines.values() for one in every if one.person == person]
    found: list[OwnPhase] = []
    for line in sorted(lines, key=lambda one: (one.position, one.seq)):
        there = parts.get(line.job)
        if there is None:
            continue
        todo = phases_on(line, loaded.lines[line.job], there)
        found += [OwnPhase(line, one) for one in ready(there) if one in todo]
    return found
