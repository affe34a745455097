"""A phase's state: finished, skipped, opened again."""

from __future__ import annotations

from store.actions.acting import Acting, Done, acting
from store.actions.clock import stop_all
from store.actions.conditions import closed_once, to_close, to_open
from store.actions.gates import refuse_blocked, refuse_worked_since
from store.actions.jobs_now import (
    after_phase,
    live_job,
    phase_row,
    record_estimate,
    refuse_workable_hold,
    refuse_workable_state,
    release_phase,
)
from store.actions.words import day_time, gate_words, hours_words, named
from store.edges.events.phases import PhaseFinished, PhaseNoted, PhaseReopened, PhaseSkipped
from store.edges.events.route import StepRef
from store.file.change import By
from store.file.labour import phase_labour_h
from store.file.route_now import PhaseRow, StepRow, book_phase, phases_of, steps_of
from store.file.shop import Shop
from store.trouble import Refused


def finish(shop: Shop, by: By, *, job: str, phase: str, why: str | None = None) -> Done:
    """Finish a phase; clocks on it stop at the same instant.

    Args:
        why: why it took longer than its cautious hours; may be said afterwards by the same act.

    Raises:
        NoSuch: no such job or phase.
        LeftRunning: a clock on it ran past its shift's end.
        Refused: it is not begun, held, finished, or a hold point or decision in it is open.
    """
    with acting(shop, by, "finish phase") as doing:
        live_job(doing, job)
        phases = phases_of(doing.db, job)
        row = phase_row(phases, job, phase)
        if row.state == "finished" and why is not None:
            doing.record(PhaseNoted(job=job, phase=phase, note=why))
            return doing.done(f"{named(job, row)}: took longer because {why}.", job=job)
        refuse_unfinishable(doing, job, row, phases)
        return doing.done(finished(doing, job, row, why), job=job)


def finished(doing: Acting, job: str, row: PhaseRow, why: str | None = None) -> str:
    """Finish a phase that nothing keeps open; say so.

    Raises:
        LeftRunning, Refused: as `finish`.
    """
    stopped = stop_all(doing, job, row.phase)
    _refuse_too_early(doing, job, row)
    closes = to_close(doing, job, book_phase(doing.db, row.version, row.code).closes)
    doing.record(PhaseFinished(job=job, phase=row.phase, note=why, closes=closes))
    return _finished_words(doing, job, row, stopped, why)


def refuse_unfinishable(doing: Acting, job: str, row: PhaseRow, phases: list[PhaseRow]) -> None:
    """Refuse to finish a phase that something keeps open.

    Raises:
        Refused: it is over, not begun, held, or a hold point or decision in it is open.
    """
    refuse_workable_state(job, row)
    if row.state == "to come":
        how = "Clock on it first" if row.kind == "labour" else "It does so by itself"
        raise Refused(
            f"{named(job, row)} has not begun. {how}, or leave it out with `hoistbook skip`."
        )
    refuse_workable_hold(doing, job, row)
    refuse_blocked(doing, job, row, phases)
    for one in steps_of(doing.db, job, gates_only=True):
        if one.phase == row.phase and one.state != "done":
            gate = gate_words(job, one.gate())
            raise Refused(f"{named(job, row)} is not finished before {gate}.")


def _refuse_too_early(doing: Acting, job: str, row: PhaseRow) -> None:
    """A finish told afterwards lies behind everything that was done in the phase."""
    if not doing.late:
        return
    latest = doing.db.execute(
        "select max(at) from (select begun_at as at from phase where job = ?1 and phase = ?2 "
        "union all select coalesce(until, since) from clock where job = ?1 and phase = ?2 "
        "union all select at from signature where job = ?1 and phase = ?2 and not void)",
        [job, row.phase],
    ).fetchone()[0]
    if latest is not None and doing.at_text < latest:
        raise Refused(
            f"{named(job, row)} was still worked on at {day_time(doing, latest)}. Give a later "
            f"time."
        )


def _finished_words(
    doing: Acting, job: str, row: PhaseRow, stopped: list[str], why: str | None
) -> str:
    labour = phase_labour_h(doing.db, doing.calendar, job, row.phase, doing.at)
    says = f"{named(job, row)} is finished"
    says += f", {hours_words(labour)}." if row.kind == "labour" else "."
    if row.kind == "labour" and labour > row.cautious_h and why is None:
        says += f" That is over its cautious {hours_words(row.cautious_h)}: say why with --why."
    if stopped:
        says += f" Stopped: the clock of {', '.join(stopped)}."
    further = after_phase(doing, job)
    return f"{says} {further}" if further else says


def skip(shop: Shop, by: By, *, job: str, phase: str, reason: str) -> Done:
    """Leave a phase out.

    Raises:
        NoSuch: no such job or phase.
        Refused: it is finished or skipped; a clock runs on it; or it holds a hold point or
            decision that is still open, which only an answer of the work book can remove.
    """
    with acting(shop, by, "skip phase") as doing:
        live_job(doing, job)
        phases = phases_of(doing.db, job)
        row = phase_row(phases, job, phase)
        refuse_workable_state(job, row)
        for one in steps_of(doing.db, job, gates_only=True):
            if one.phase == phase and one.state != "done":
                raise Refused(
                    f"{named(job, row)} cannot be left out: it holds {gate_words(job, one.gate())}."
                )
        _refuse_clocked(doing, job, row)
        _refuse_needed(doing, job, row, phases)
        doing.record(PhaseSkipped(job=job, phase=phase, note=reason))
        release_phase(doing, job, phase)
        record_estimate(doing, job, f"{row.name} left out: {reason}")
        further = after_phase(doing, job)
        says = f"{named(job, row)} is left out: {reason}."
        return doing.done(f"{says} {further}" if further else says, job=job)


def _refuse_needed(doing: Acting, job: str, row: PhaseRow, phases: list[PhaseRow]) -> None:
    """What ends an open condition is not left out while nothing else will end it."""
    steps = steps_of(doing.db, job)
    ends = {
        one.phase: {
            *book_phase(doing.db, one.version, one.code).closes,
            *(code for step in steps if step.phase == one.phase and step.state != "done"
              for code in step.spec.closes),
        }
        for one in phases
        if one.state in ("to come", "under way")
    }  # fmt: skip
    others = {code for phase, codes in ends.items() if phase != row.phase for code in codes}
    needed = to_close(doing, job, sorted(ends.get(row.phase, set()) - others))
    if needed:
        raise Refused(
            f"{named(job, row)} cannot be left out: only it ends what is open on the vehicle "
            f"({', '.join(needed)})."
        )


def _refuse_clocked(doing: Acting, job: str, row: PhaseRow) -> None:
    who = doing.db.execute(
        "select name from clock join person using (person) "
        "where job = ? and phase = ? and until is null",
        [job, row.phase],
    ).fetchone()
    if who is not None:
        raise Refused(f"{who['name']} is clocked on {named(job, row)}. Clock off there first.")


def reopen(shop: Shop, by: By, *, job: str, phase: str, why: str | None = None) -> Done:
    """Open again what was covered: signatures on it, and on what followed, are void.

    Raises:
        NoSuch: no such job or phase.
        Refused: it was never finished.
    """
    with acting(shop, by, "reopen phase") as doing:
        live_job(doing, job)
        phases = phases_of(doing.db, job)
        row = phase_row(phases, job, phase)
        if row.state != "finished":
            raise Refused(f"{named(job, row)} is not finished: there is nothing to open again.")
        event = _reopening(doing, job, row, phases, why)
        refuse_worked_since(doing, job, [one for one in phases if one.position >= row.position])
        _stop_later(doing, job, row, phases)
        doing.record(event)
        return doing.done(_reopened_words(job, row, event), job=job)


def _reopening(
    doing: Acting, job: str, row: PhaseRow, phases: list[PhaseRow], why: str | None
) -> PhaseReopened:
    later = {one.phase: one for one in phases if one.position >= row.position}
    steps = [one for one in steps_of(doing.db, job) if one.phase in later]
    voided = [one for one in steps if one.state != "open" and _dies(one, row)]
    touched = {one.phase for one in voided}
    reopens = [
        one.phase
        for one in later.values()
        if one.phase in touched and one.state == "finished" and one.phase != row.phase
    ]
    empties = [
        one.phase
        for one in later.values()
        if one.kind != "labour"
        and one.state in ("under way", "finished")
        and one.phase != row.phase
    ]
    return PhaseReopened(
        job=job, phase=row.phase, why=why,
        voids=[StepRef(phase=one.phase, step=one.step) for one in voided],
        reopens=[one for one in reopens if one not in empties],
        opens=_opened_again(doing, job, [row.phase, *reopens], voided),
        empties=empties,
    )  # fmt: skip


def _dies(step: StepRow, row: PhaseRow) -> bool:
    """All that was signed in the phase itself; of what followed, the hold points."""
    return step.kind == "hold point" or (step.phase == row.phase and step.kind == "step")


def _opened_again(doing: Acting, job: str, phases: list[str], voided: list[StepRow]) -> list[str]:
    """What the finish of those phases, and the signatures that die, had ended."""
    signatures = [
        row[0]
        for one in voided
        for row in doing.db.execute(
            "select seq from signature where job = ? and phase = ? and step = ? and not void",
            [job, one.phase, one.step],
        )
    ]
    return to_open(doing, job, closed_once(doing, job, phases, signatures))


def _stop_later(doing: Acting, job: str, row: PhaseRow, phases: list[PhaseRow]) -> None:
    """Work that stood on what is open again stops."""
    for one in phases:
        if one.position > row.position and one.state == "under way" and one.kind == "labour":
            stop_all(doing, job, one.phase, leave_forgotten=True)


def _reopened_words(job: str, row: PhaseRow, event: PhaseReopened) -> str:
    says = f"{named(job, row)} is open again."
    if event.voids:
        listed = ", ".join(f"{job}.{one.phase}.{one.step}" for one in event.voids)
        says += f" To be signed again: {listed}."
    if event.reopens:
        says += f" Open again with it: {', '.join(event.reopens)}."
    return says
