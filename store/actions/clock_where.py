"""What labour was on, put right: where it may have been, and what begins or falls away by it."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass

from store.actions.acting import Acting, Person
from store.actions.clock import AWAY, INDIRECT
from store.actions.conditions import opened_by
from store.actions.gates import refuse_labour
from store.actions.hires.kit_gate import refuse_lacking
from store.actions.jobs_now import live_job, phase_row, refuse_workable_state
from store.actions.qualified import refuse_unqualified
from store.actions.words import named
from store.edges.events.base import Part
from store.file.route_now import PhaseRow, phases_of
from store.trouble import Refused


@dataclass(frozen=True, slots=True)
class Where:
    """What a clock is on: a phase of a job, or a reason on no job."""

    job: str | None = None
    phase: str | None = None
    reason: str | None = None


def begun_by(
    doing: Acting,
    person: Person,
    new: Where,
    part: Part,
    row: sqlite3.Row | None,
    since: str,
    until: str | None,
) -> dict[str, object]:
    """Refuse a phase on which no labour may be then; begin one that has not begun."""
    if new.job is None or new.phase is None or new.reason is not None:
        _refuse_nowhere(new)
        return {}
    same = row is not None and (row["job"], row["phase"]) == (new.job, new.phase)
    if same and row is not None and _inside(row, since, until) and part == row["part"]:
        return {}
    phases = phases_of(doing.db, new.job) if same else _live_phases(doing, new.job)
    target = phase_row(phases, new.job, new.phase)
    if not same or (row is not None and part != row["part"]):
        _refuse_target(doing, person, new.job, target, part)
    if not same and until is None:
        refuse_workable_state(new.job, target)  # what is over takes past labour, and no running
    refuse_labour(doing, new.job, target, phases, since, until)
    refuse_lacking(doing, new.job, target, phases, at=since)
    begins = target.state == "to come"
    return {"begins": begins, "opens": opened_by(doing, new.job, target) if begins else []}


def _live_phases(doing: Acting, job: str) -> list[PhaseRow]:
    live_job(doing, job)
    return phases_of(doing.db, job)


def _refuse_nowhere(new: Where) -> None:
    if new.job is not None or new.phase is not None or new.reason is None:
        raise Refused("Say what the clock was on: a phase as JOB.PHASE, or a reason on no job.")
    if new.reason not in (*INDIRECT, AWAY):
        raise Refused(f"There is no reason {new.reason}. Use one of {', '.join(INDIRECT)}.")


def _inside(row: sqlite3.Row, since: str, until: str | None) -> bool:
    """Less of the same clock needs no leave."""
    if since < row["since"]:
        return False
    return row["until"] is None or (until is not None and until <= row["until"])


def _refuse_target(doing: Acting, person: Person, job: str, target: PhaseRow, part: Part) -> None:
    if target.kind != "labour" or target.state == "skipped":
        raise Refused(f"{named(job, target)} takes no labour. Choose another phase.")
    refuse_unqualified(doing, person, job, target, part)


def emptied(doing: Acting, row: sqlite3.Row, new: Where | None) -> list[str]:
    """A phase that had begun by this clock alone has not begun without it."""
    if row["job"] is None or (new and (row["job"], row["phase"]) == (new.job, new.phase)):
        return []
    target: PhaseRow = phase_row(phases_of(doing.db, row["job"]), row["job"], row["phase"])
    other = doing.db.execute(
        "select 1 from clock where job = ?1 and phase = ?2 and seq != ?3 union all "
        "select 1 from signature where job = ?1 and phase = ?2 union all "
        "select 1 from hold where job = ?1 and phase = ?2 union all "
        "select 1 from finding where job = ?1 and phase = ?2 limit 1",
        [row["job"], row["phase"], row["seq"]],
    ).fetchone()
    return [row["phase"]] if target.state == "under way" and other is None else []
