"""A route that changes under way: the work book laid anew, compared with what there is.

What was done stays done. Phases not begun fall away or join, a phase under way that falls away is
cut off; numbers are never used again.
"""

from __future__ import annotations

import json
from collections.abc import Sequence

from store.actions.acting import Acting
from store.actions.clock import stop_all
from store.actions.conditions import hanging
from store.actions.jobs_now import BEFORE, job_row, record_estimate, release_phase
from store.actions.parts import follow_route, to_renew
from store.actions.route_laying import (
    Change,
    compare,
    figures_of,
    route_now_of,
    route_phase,
    route_step,
)
from store.edges.events.route import Dropped, RouteChanged
from store.file.books import book_of
from store.file.facts import setting
from store.file.route_now import phases_of, steps_of
from store.rules import routes
from store.rules.book import Answer
from store.rules.route_check import qualifying
from store.rules.route_end import still_needed

__all__ = [
    "figures_of", "has_ended", "lay_anew", "record_change", "route_phase", "route_step",
    "take_answer",
]  # fmt: skip


def take_answer(
    doing: Acting, job: str, answer: Answer, *, because: int, question: str
) -> str | None:
    """Change the route as the answer to a decision says.

    Returns:
        What changed, in words; None where nothing did.
    """
    row = job_row(doing.db, job)
    if row.version is None or (not answer.sets and not answer.ends):
        return None
    ends = answer.ends or has_ended(doing, job)
    options: dict[str, str] = {**json.loads(row.options), **answer.sets}
    return lay_anew(
        doing, job, options, cause=f"{question} {answer.text}", because=because, ends=ends
    )


def has_ended(doing: Acting, job: str, *, besides: int = 0) -> bool:
    """Tell whether an answer that holds has ended the planned work, as it is planned now.

    Args:
        besides: sequence number of a signature that does not count.
    """
    sold = set(json.loads(job_row(doing.db, job).operations))
    ours = {
        one.phase for one in phases_of(doing.db, job) if sold.intersection(json.loads(one.serves))
    }
    decisions = {
        (one.phase, one.step): one.spec.answers
        for one in steps_of(doing.db, job, gates_only=True)
        if one.kind == "decision" and one.phase in ours
    }
    for row in doing.db.execute(
        "select phase, step, answer from signature where job = ? and not void and "
        "answer is not null and seq != ?",
        [job, besides],
    ):
        answers = decisions.get((row["phase"], row["step"]), ())
        if any(one.code == row["answer"] and one.ends for one in answers):
            return True
    return False


def lay_anew(
    doing: Acting,
    job: str,
    options: dict[str, str],
    *,
    cause: str,
    because: int,
    ends: bool,
    undoes: RouteChanged | None = None,
) -> str | None:
    """Lay a job's route by the work book with these options, and record what is other than it was.

    Args:
        ends: the planned work ends here.
        undoes: the change that is taken back; what it added and nobody touched goes without trace.

    Returns:
        What changed, in words; None where nothing did.
    """
    row = job_row(doing.db, job)
    assert row.version is not None
    new = routes.lay(
        book_of(doing.db, row.version),
        operations=json.loads(row.operations),
        family=row.family,
        options=options,
        grade=row.grade,
    )
    before = row.state in BEFORE
    if before:
        new = qualifying(new)
    phases = phases_of(doing.db, job)
    change = Change(cautious=setting(doing.db, "cautious"), grows=before)
    change.names = {one.phase: one.name for one in phases}
    if ends:
        _end(doing, job, change, new, cause)
    else:
        compare(change, route_now_of(doing, job, phases), new, cause)
    if undoes is not None:
        _remove_untouched(doing, job, change, undoes)
    renewed = to_renew(doing, job, phases)
    record_change(doing, job, change, change.event(job, row.version, options, cause, because))
    parts = None if before else follow_route(doing, job, renewed)
    if change.nothing():
        return parts
    record_estimate(doing, job, cause)
    return " ".join(filter(None, (change.words(), parts)))


def record_change(doing: Acting, job: str, change: Change, event: RouteChanged) -> None:
    """Write a changed route down; clocks on what falls away stop, and its holds end."""
    _stop_clocks(doing, job, change)
    doing.record(event)
    for gone in change.dropped:
        release_phase(doing, job, gone.phase)


def _stop_clocks(doing: Acting, job: str, change: Change) -> None:
    for gone in change.dropped:
        if gone.cut_off:
            stop_all(doing, job, gone.phase, leave_forgotten=True)


def _remove_untouched(doing: Acting, job: str, change: Change, undoes: RouteChanged) -> None:
    added = {one.phase for one in undoes.added}
    touched = {
        row[0]
        for table in ("clock", "signature", "hold", "finding", "part")
        for row in doing.db.execute(f"select phase from {table} where job = ?", [job])
    }
    for gone in list(change.dropped):
        if gone.phase in added and gone.phase not in touched and not gone.cut_off:
            change.dropped.remove(gone)
            change.removed.append(gone.phase)
    new = {(more.phase, step.step) for more in undoes.steps for step in more.steps}
    change.steps_removed += [one for one in change.steps_gone if one in new]
    change.steps_gone = [one for one in change.steps_gone if one not in new]


def _end(
    doing: Acting, job: str, change: Change, new: Sequence[routes.RoutePhase], cause: str
) -> None:
    """The planned work ends: only what gives the vehicle back closed and filled is still done."""
    phases = phases_of(doing.db, job)
    begun = {one.code for one in phases if one.state in ("under way", "finished")}
    stays = still_needed(new, begun, sorted(hanging(doing, job)))
    change.dropped += [
        Dropped(phase=one.phase, note=cause)
        for one in phases
        if one.state == "to come" and one.code not in stays
    ]
