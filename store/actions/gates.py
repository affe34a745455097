"""No work past an open hold point or decision: not now, and not in an entry made afterwards."""

from __future__ import annotations

from collections.abc import Sequence

from store.actions.acting import Acting
from store.actions.words import day_time, gate_words, named
from store.file.route_now import PhaseRow, gates_of, names_on, steps_of
from store.rules.blocking import Gate, blocking_phase, blocks_from
from store.rules.gate_times import Stretch, open_way
from store.trouble import Refused


def refuse_blocked(doing: Acting, job: str, phase: PhaseRow, phases: list[PhaseRow]) -> None:
    """Refuse to begin or go on with a phase behind an open hold point or decision.

    A late entry is also refused where it lies before the signature that opened the way.

    Raises:
        Refused: naming the gate, who may sign it and what is asked.
    """
    before = {one.phase for one in phases if one.position < phase.position}
    gates = [
        one.gate()
        for one in steps_of(doing.db, job, gates_only=True)
        if one.state != "done" and one.phase in before
    ]
    gate = blocking_phase(gates, [one.at() for one in phases], phase.phase) if gates else None
    if gate is not None:
        raise Refused(f"{named(job, phase)} waits for {gate_words(job, gate)}.")
    if doing.late:
        every = gates_of(doing.db, job)
        _refuse_outside(doing, job, phase, phases, every, doing.at_text, None)


def refuse_labour(
    doing: Acting,
    job: str,
    phase: PhaseRow,
    phases: list[PhaseRow],
    since: str,
    until: str | None,
) -> None:
    """Refuse labour, told afterwards, at a time when the phase was blocked or held.

    Args:
        until: None is a clock that still runs.

    Raises:
        Refused: naming what stood in the way, and when.
    """
    gates = gates_of(doing.db, job)
    _refuse_outside(doing, job, phase, phases, gates, since, until)
    held = doing.db.execute(
        "select reason, since, until from hold where job = ? and (phase is null or phase = ?) "
        "and (until is null or until > ?) and (? is null or since < ?) order by seq limit 1",
        [job, phase.phase, since, until, until],
    ).fetchone()
    if held is not None:
        end = f" to {day_time(doing, held['until'])}" if held["until"] else ""
        raise Refused(
            f"{named(job, phase)} was held ({held['reason']}) from "
            f"{day_time(doing, held['since'])}{end}: that time is no labour. Give other times."
        )


def _refuse_outside(
    doing: Acting,
    job: str,
    phase: PhaseRow,
    phases: list[PhaseRow],
    gates: Sequence[Gate],
    since: str,
    until: str | None,
) -> None:
    names = None
    for gate in _before(gates, phases, phase):
        if names is None:
            names = names_on(doing.db, job)
        stretches = open_way(names.get((gate.phase, gate.step), []), _signs(gate))
        if not any(one.covers(since, until) for one in stretches):
            raise Refused(_outside_words(doing, job, phase, gate, stretches, since))


def _before(gates: Sequence[Gate], phases: list[PhaseRow], phase: PhaseRow) -> list[Gate]:
    """The gates of other phases that a phase stands behind, signed ones included."""
    at = [one.at() for one in phases]
    live = {one.phase for one in phases if one.state != "skipped"}
    found: list[Gate] = []
    for gate in gates:
        if gate.phase == phase.phase or gate.phase not in live:
            continue
        start = blocks_from(gate, at)
        if start is not None and phase.position >= start:
            found.append(gate)
    return found


def _signs(gate: Gate) -> int:
    return gate.spec.signs if gate.spec.kind == "hold point" else 1


def _outside_words(
    doing: Acting,
    job: str,
    phase: PhaseRow,
    gate: Gate,
    stretches: Sequence[Stretch],
    since: str,
) -> str:
    later = [one for one in stretches if since < one.since]
    if later:
        when = day_time(doing, later[0].since)
        return (
            f"{named(job, phase)} could not go on before {when}, when {job}.{gate.at} was "
            f"signed. Give a later time."
        )
    if stretches:
        when = day_time(doing, stretches[-1].until or "")
        return (
            f"{named(job, phase)} could not go on after {when}, when {job}.{gate.at} was open "
            f"again. Give an earlier time."
        )
    return f"{named(job, phase)} waits for {gate_words(job, gate)}."


def refuse_late_signature(
    doing: Acting, job: str, phase: PhaseRow, step: str, before: Sequence[Gate]
) -> None:
    """Refuse a signature dated before what it follows: earlier gates, or its own last opening.

    Args:
        before: gates of the same phase that stand before the step, all of them signed.

    Raises:
        Refused: with the time from which on it can be.
    """
    if not doing.late:
        return
    names = names_on(doing.db, job)
    own = names.get((phase.phase, step), [])
    floor = [max(name.at, name.void_at or "") for name in own]
    for gate in before:
        way = open_way(names.get((gate.phase, gate.step), []), _signs(gate))
        floor += [one.since for one in way if one.until is None]
    latest = max(floor, default="")
    if doing.at_text < latest:
        raise Refused(
            f"{job}.{phase.phase}.{step} cannot be signed for a time before "
            f"{day_time(doing, latest)}, when what stands before it was signed or opened. Give a "
            f"later time."
        )


def refuse_worked_since(doing: Acting, job: str, phases: Sequence[PhaseRow]) -> None:
    """Refuse to open something again for a time after which work has gone on behind it.

    Raises:
        Refused: with the end of that work.
    """
    if not doing.late:
        return
    marks = ", ".join("?" for _ in phases)
    numbers = [one.phase for one in phases]
    latest = doing.db.execute(
        "select max(at) from (select coalesce(until, since) as at from clock "
        f"where job = ? and phase in ({marks}) union all "
        f"select at from signature where job = ? and phase in ({marks}) and not void union all "
        f"select max(begun_at, coalesce(finished_at, begun_at)) from phase where job = ? "
        f"and phase in ({marks}))",
        [job, *numbers] * 3,
    ).fetchone()[0]
    if latest is not None and doing.at_text < latest:
        raise Refused(
            f"{job} has been worked on since, to {day_time(doing, latest)}. Give a later time."
        )


def blocked_from(gates: Sequence[Gate], phases: list[PhaseRow]) -> list[PhaseRow]:
    """The phases that stand behind any of these gates."""
    at = [one.at() for one in phases]
    starts = [start for gate in gates if (start := blocks_from(gate, at)) is not None]
    return [one for one in phases if starts and one.position >= min(starts)]


__all__ = [
    "blocked_from", "refuse_blocked", "refuse_labour", "refuse_late_signature",
    "refuse_worked_since",
]  # fmt: skip
