"""What people do at a lift: clocks, signatures, holds, findings, parts, places."""

from __future__ import annotations

from datetime import timedelta

from store.actions import clock, holding, notes, parts, phases, places, steps
from store.actions.assigning import assign
from store.actions.undo import taking_back as undo
from store.edges.events.base import Part
from store.rules.overrun import REASONS
from store.rules.part_states import MAY_BECOME, PartState
from tests.faults.doing import Do, Maker, listed
from tests.faults.held import Held

ACTS: dict[str, tuple[int, Maker]] = {}


@listed(ACTS, "clock on", 10)
def _on(held: Held) -> Do | None:
    at = held.next_phase() if held.dice.random() < 0.8 else held.phase()
    if at is None:
        return None
    parts_taken: tuple[Part | None, ...] = (None, None, "helper", "learner")
    part = held.dice.choice(parts_taken)
    job, phase = at[0], at[1].phase
    return lambda shop, by: clock.clock_on(shop, by, job=job, phase=phase, part=part)


@listed(ACTS, "clock over", 5)
def _over(held: Held) -> Do | None:
    at = held.next_phase()
    if at is None:
        return None
    job, phase = at[0], at[1].phase
    why = held.dice.choice((None, *REASONS))
    return lambda shop, by: clock.clock_over(shop, by, job=job, phase=phase, why=why)


@listed(ACTS, "clock off", 6)
def _off(held: Held) -> Do | None:
    return clock.clock_off


@listed(ACTS, "clock away", 2)
def _away(held: Held) -> Do | None:
    return clock.clock_away


@listed(ACTS, "clock back", 2)
def _back(held: Held) -> Do | None:
    return clock.clock_back


@listed(ACTS, "clock indirect", 2)
def _indirect(held: Held) -> Do | None:
    reason = held.dice.choice((*clock.INDIRECT, held.text()))
    return lambda shop, by: clock.clock_indirect(shop, by, reason=reason)


@listed(ACTS, "sign", 16)
def _sign(held: Held) -> Do | None:
    found = held.open_step()
    if found is None:
        return None
    job, step = found
    readings = held.readings(step.spec)
    answers = [one.code for one in step.spec.answers]
    answer = held.dice.choice(answers) if answers else None
    as_is = "worn, but safe" if step.state == "out" and held.dice.random() < 0.5 else None
    return lambda shop, by: steps.sign(
        shop, by, job=job, phase=step.phase, step=step.step, answer=answer, as_is=as_is,
        readings=None if as_is else readings,
    )  # fmt: skip


@listed(ACTS, "type limits", 2)
def _limits(held: Held) -> Do | None:
    row = held.row("select job, phase, step from step where code = 'TQ'")
    if row is None:
        return None
    job, phase, step = str(row["job"]), str(row["phase"]), str(row["step"])
    low = held.dice.choice((40.0, None, 80.0))
    return lambda shop, by: steps.type_limits(
        shop, by, job=job, phase=phase, step=step, reading="nm", low=low, high=60.0,
        source="data sheet 12",
    )  # fmt: skip


@listed(ACTS, "finish phase", 8)
def _finish(held: Held) -> Do | None:
    at = held.phase("under way") or held.phase()
    if at is None:
        return None
    why = held.dice.choice((None, *REASONS))
    job, phase = at[0], at[1].phase
    return lambda shop, by: phases.finish(shop, by, job=job, phase=phase, why=why)


@listed(ACTS, "skip phase", 1)
def _skip(held: Held) -> Do | None:
    at = held.phase("to come")
    if at is None:
        return None
    job, phase, reason = at[0], at[1].phase, held.text()
    return lambda shop, by: phases.skip(shop, by, job=job, phase=phase, reason=reason)


@listed(ACTS, "reopen phase", 1)
def _reopen(held: Held) -> Do | None:
    at = held.phase("finished", "skipped")
    if at is None:
        return None
    job, phase = at[0], at[1].phase
    return lambda shop, by: phases.reopen(shop, by, job=job, phase=phase, why="a pin slipped")


@listed(ACTS, "hold", 3)
def _hold(held: Held) -> Do | None:
    at = held.phase("to come", "under way")
    if at is None:
        return None
    whole, reason = held.dice.random() < 0.3, held.dice.choice(holding.REASONS)
    until = held.now + timedelta(hours=held.dice.choice((-1, 2, 30)))
    job, phase, text = at[0], None if whole else at[1].phase, held.text()
    return lambda shop, by: holding.hold(
        shop, by, job=job, phase=phase, reason=reason, until=until, next_move="desk", text=text
    )


@listed(ACTS, "release", 4)
def _release(held: Held) -> Do | None:
    row = held.row("select job, phase from hold where until is null")
    if row is None:
        return None
    job, phase = str(row["job"]), row["phase"]
    return lambda shop, by: holding.release(shop, by, job=job, phase=phase)


@listed(ACTS, "finding", 3)
def _find(held: Held) -> Do | None:
    at = held.phase("under way", "to come")
    if at is None:
        return None
    job, phase, text = at[0], at[1].phase, held.text()
    if held.dice.random() < 0.5:
        return lambda shop, by: holding.find(
            shop, by, job=job, phase=phase, kind="advice", text=text
        )
    hours = held.dice.choice((0.3, 2.0, 1e9, float("nan")))
    return lambda shop, by: holding.find(
        shop, by, job=job, phase=phase, kind="surprise", text=text, hours=hours
    )


@listed(ACTS, "note", 4)
def _note(held: Held) -> Do | None:
    job, text = held.any_job(), held.text()
    return lambda shop, by: notes.note(shop, by, job=job, text=text)


@listed(ACTS, "undo", 4)
def _undo(held: Held) -> Do | None:
    return undo.undo


@listed(ACTS, "list parts", 2)
def _parts(held: Held) -> Do | None:
    job, texts = held.any_job(), ["seal", held.text()]
    return lambda shop, by: parts.list_parts(shop, by, job=job, texts=texts)


@listed(ACTS, "part ordered, here, fitted", 4)
def _move_part(held: Held) -> Do | None:
    row = held.row("select job, line, state from part")
    if row is None:
        return None
    before: PartState = row["state"]
    state = held.dice.choice((*sorted(MAY_BECOME[before]), before))
    job, line = str(row["job"]), int(row["line"])
    return lambda shop, by: parts.move_parts(
        shop, by, job=job, lines=[line], state=state, supplier="Parts Ltd", batch="B-77"
    )


@listed(ACTS, "move in or out", 5)
def _move(held: Held) -> Do | None:
    job, lift = held.any_job(), held.dice.random() < 0.6
    place = held.lift() if lift else held.place()
    part: places.VehiclePart = "body" if held.dice.random() < 0.8 else "unit"
    return lambda shop, by: places.move(shop, by, job=job, place=place, lift=lift, part=part)


@listed(ACTS, "assign", 3)
def _assign(held: Held) -> Do | None:
    at = held.phase("to come", "under way")
    if at is None:
        return None
    badge = held.dice.choice((held.badge, held.person()))
    job, phase = at[0], held.dice.choice((None, at[1].phase))
    return lambda shop, by: assign(shop, by, job=job, phase=phase, badge=badge)
