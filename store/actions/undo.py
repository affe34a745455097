"""One's own last entry taken back: events that put things as they were, both truths kept."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Callable
from typing import Any

from store.actions.acting import Acting, Done, acting
from store.actions.clock import refuse_unclockable, running_clock
from store.actions.conditions import to_close, to_open
from store.actions.day_sheet import emptied
from store.actions.gates import blocked_from, refuse_labour
from store.actions.holding import raised
from store.actions.jobs_now import (
    job_row,
    live_job,
    phase_row,
    record_estimate,
    unbegin,
    wait_again,
)
from store.actions.places import raised_anew, stop_behind
from store.actions.route_change import has_ended, lay_anew
from store.actions.words import named
from store.edges import events
from store.edges.events import Event
from store.file.change import By
from store.file.ledger import Row, rows
from store.file.route_now import PhaseRow, StepRow, phases_of, steps_of
from store.file.shop import Shop
from store.file.words_of import in_words
from store.trouble import Refused

Taker = Callable[[Acting, Row, Any], None]


def undo(shop: Shop, by: By) -> Done:
    """Take one's own last entry back.

    Raises:
        Refused: there is none, it was taken back already, somebody built on it since, or it is of
            a kind that an undo cannot mend.
    """
    with acting(shop, by, "undo") as doing:
        first, last = _last_entry(doing)
        found = [row for row in rows(doing.db, since_seq=first) if row.seq <= last]
        takers = [(row, _taker(row)) for row in found]
        says = in_words(doing.db, found[0])
        doing.change.job = doing.db.execute(
            "select job from entry where seq = ?", [first]
        ).fetchone()[0]
        if doing.late:
            raise Refused("What is taken back never was: that has no time of its own.")
        if doing.change.job is not None:
            live_job(doing, doing.change.job)
        doing.record(events.Undone(entry=first, says=says))
        for row, taker in reversed(takers):
            taker(doing, row, row.event())
        return doing.done(f"Taken back: {says}.", job=doing.change.job)


def _last_entry(doing: Acting) -> tuple[int, int]:
    row = doing.db.execute(
        "select entry.seq, last, undone, kind from entry join ledger on ledger.seq = entry.seq "
        "where entry.person = ? order by entry.seq desc limit 1",
        [doing.person.person],
    ).fetchone()
    if row is None or row["kind"] == "undone":
        raise Refused(
            f"{doing.person.name} has nothing to take back: only the last entry can be, once."
        )
    return row["seq"], row["last"]


def _taker(row: Row) -> Taker:
    taker = TAKERS.get(row.kind)
    if taker is None:
        raise Refused(
            f"Entry {row.seq} ({row.kind.replace('-', ' ')}) cannot be taken back. "
            "Put it right with its own command."
        )
    return taker


def _nothing(doing: Acting, row: Row, event: Event) -> None:
    """What follows from another event of the entry goes with it."""


def _clock_gone(doing: Acting, row: Row, event: Event) -> None:
    clock = _own_clock(doing, row.seq)
    if row.kind != "clock-entered" and clock["until"] is not None:
        raise Refused("That clock was stopped since. Put it right with `hoistbook correct`.")
    former = emptied(doing, clock, None)
    doing.record(events.ClockRemoved(clock=row.seq, why="taken back"))
    unbegin(doing, clock["job"], former)


def _own_clock(doing: Acting, seq: int) -> sqlite3.Row:
    clock: sqlite3.Row | None = doing.db.execute(
        "select seq, job, phase, reason, part, since, until, breaks_worked, confirmed, stopped_seq "
        "from clock where seq = ?",
        [seq],
    ).fetchone()
    if clock is None:
        raise Refused("That clock is taken out already.")
    if clock["confirmed"]:
        raise Refused("That clock is confirmed by now. A foreman puts it right.")
    return clock


def _clock_runs(doing: Acting, row: Row, event: events.ClockedOff) -> None:
    person = doing.db.execute("select name from person where person = ?", [event.person]).fetchone()
    if running_clock(doing.db, event.person) is not None:
        raise Refused(f"{person['name']}'s clock runs elsewhere by now. Use `hoistbook correct`.")
    clock = _own_clock(doing, event.clock)
    if (clock["stopped_seq"], clock["until"]) != (row.seq, row.happened_at):
        raise Refused("That clock was put right since: it stays as it is.")
    if clock["job"] is not None:
        phases = phases_of(doing.db, clock["job"])
        target = phase_row(phases, clock["job"], clock["phase"])
        refuse_unclockable(doing, clock["job"], target, phases)
        refuse_labour(doing, clock["job"], target, phases, clock["since"], None)
    doing.record(
        events.ClockCorrected(
            clock=event.clock, person=event.person, job=clock["job"], phase=clock["phase"],
            reason=clock["reason"], part=clock["part"], since=clock["since"], until=None,
            breaks_worked=bool(clock["breaks_worked"]), why="taken back",
        )
    )  # fmt: skip


def _signature_gone(doing: Acting, row: Row, event: events.StepSigned) -> None:
    steps = steps_of(doing.db, event.job)
    step = next(one for one in steps if (one.phase, one.step) == (event.phase, event.step))
    _refuse_other_signature(doing, row, event)
    _refuse_built_on(doing, row, event, step, steps)
    doing.record(
        events.SignatureTakenBack.model_validate(
            {
                "job": event.job, "phase": event.phase, "step": event.step, "signature": row.seq,
                "state": _state_without(doing, event, row.seq, step.signs),
                "opens": to_open(doing, event.job, event.closes),
                "closes": to_close(doing, event.job, event.opens),
            }
        )
    )  # fmt: skip


def _refuse_other_signature(doing: Acting, row: Row, event: events.StepSigned) -> None:
    where = f"{event.job}.{event.phase}.{event.step}"
    own, newest, let_stand = doing.db.execute(
        "select max(void) filter (where seq = ?1), max(seq) filter (where not void), "
        "max(as_is is not null) filter (where seq = ?1) from signature "
        "where job = ?2 and phase = ?3 and step = ?4",
        [row.seq, event.job, event.phase, event.step],
    ).fetchone()
    if own:
        raise Refused(f"The signature on {where} is void already: there is nothing to take back.")
    if let_stand or newest != row.seq:
        raise Refused(f"{where} was signed again since: the signature stays.")


def _state_without(doing: Acting, event: events.StepSigned, seq: int, signs: int) -> str:
    left = doing.db.execute(
        "select in_limits, as_is from signature where job = ? and phase = ? and step = ? "
        "and not void and seq != ? order by seq",
        [event.job, event.phase, event.step, seq],
    ).fetchall()
    if not left:
        return "open"
    if not left[-1]["in_limits"] and left[-1]["as_is"] is None:
        return "out"
    return "half" if signs == 2 else "open"


def _refuse_built_on(
    doing: Acting, row: Row, event: events.StepSigned, step: StepRow, steps: list[StepRow]
) -> None:
    phases = phases_of(doing.db, event.job)
    own = phase_row(phases, event.job, event.phase)
    if own.state == "finished" and (own.finished_at or "") >= row.happened_at:
        raise Refused(
            f"{named(event.job, own)} was finished since: the signature stays. Open it again with "
            f"`hoistbook reopen {event.job}.{event.phase}` instead."
        )
    if step.kind == "step":
        return
    for one in blocked_from([step.gate()], phases):
        if _gone_on(doing, event.job, one, row):
            raise Refused(
                f"{named(event.job, one)} has gone on since: the signature stays. "
                f"Open {event.job}.{event.phase} again with `hoistbook reopen` instead."
            )
    order = {one.phase: one.position for one in phases}
    for other in steps:
        behind = other.phase == event.phase and other.position > step.position
        did = other.spec.deed in step.spec.blocks and order[other.phase] > order[event.phase]
        if (behind or did) and other.state != "open" and _signed_since(doing, event, other, row):
            raise Refused(
                f"{event.job}.{other.phase}.{other.step} was signed since: take that back first."
            )


def _signed_since(doing: Acting, event: events.StepSigned, other: StepRow, row: Row) -> bool:
    found = doing.db.execute(
        "select 1 from signature where job = ? and phase = ? and step = ? and not void and seq > ?",
        [event.job, other.phase, other.step, row.seq],
    ).fetchone()
    return found is not None


def _gone_on(doing: Acting, job: str, phase: PhaseRow, row: Row) -> bool:
    """Whether anything was done in a phase since an event."""
    at = row.happened_at
    if max(phase.begun_at or "", phase.finished_at or "") >= at:
        return True
    found = doing.db.execute(
        "select 1 from clock where job = ?1 and phase = ?2 and (until is null or until > ?3) "
        "union all select 1 from signature where job = ?1 and phase = ?2 and seq > ?4 "
        "and not void limit 1",
        [job, phase.phase, at, row.seq],
    ).fetchone()
    return found is not None


def _now(doing: Acting, job: str, phase: str) -> PhaseRow:
    return phase_row(phases_of(doing.db, job), job, phase)


def _not_begun(doing: Acting, row: Row, event: events.PhaseBegun) -> None:
    phase = _now(doing, event.job, event.phase)
    if phase.state != "under way":
        raise Refused(f"{named(event.job, phase)} is {phase.state} by now: that stays.")
    other = doing.db.execute(
        "select 1 from clock where job = ?1 and phase = ?2 union all "
        "select 1 from signature where job = ?1 and phase = ?2 and not void limit 1",
        [event.job, event.phase],
    ).fetchone()
    if other is None:
        _phase_back(doing, event.job, event.phase, "to come", closes=list(event.opens))
        wait_again(doing, event.job)


def _phase_back(doing: Acting, job: str, phase: str, state: str, **tags: list[str]) -> None:
    doing.record(
        events.PhaseTakenBack.model_validate({"job": job, "phase": phase, "state": state, **tags})
    )


def _not_finished(doing: Acting, row: Row, event: events.PhaseFinished) -> None:
    phase = _now(doing, event.job, event.phase)
    if phase.state != "finished" or phase.finished_at != row.happened_at:
        raise Refused(f"{named(event.job, phase)} was opened again since: that stays.")
    _phase_back(doing, event.job, event.phase, "under way", opens=list(event.closes))


def _not_skipped(doing: Acting, row: Row, event: events.PhaseSkipped) -> None:
    phase = _now(doing, event.job, event.phase)
    if phase.state != "skipped":
        raise Refused(f"{named(event.job, phase)} is {phase.state} by now: that stays.")
    state = "to come" if phase.begun_at is None else "under way"
    _phase_back(doing, event.job, event.phase, state)
    record_estimate(doing, event.job, f"{phase.name} not left out after all")


def _state_back(doing: Acting, row: Row, event: events.StateChanged) -> None:
    lift = doing.db.execute(
        "select 1 from job_place join place using (place) where job = ? and part = 'body' "
        "and kind = 'lift'",
        [event.job],
    ).fetchone()
    doing.record(events.StateChanged(job=event.job, state="on-lift" if lift else "off-lift"))


def _hold_gone(doing: Acting, row: Row, event: events.Held) -> None:
    hold = doing.db.execute(
        "select until, expected, expected_now from hold where seq = ?", [row.seq]
    ).fetchone()
    if hold is None or hold["until"] is not None:
        raise Refused("That hold is over by now: it stays on record.")
    if hold["expected"] != hold["expected_now"]:
        raise Refused("The hold's end was told anew since. Release it instead.")
    others = doing.db.execute(
        "select 1 from supplement where job = ? and phase is ? and state = 'asked' and finding > ?",
        [event.job, event.phase, row.seq],
    ).fetchone()
    if event.reason != "approval" or others is None:
        doing.record(events.HoldTakenBack(hold=row.seq))


def _held_again(doing: Acting, row: Row, event: events.Released) -> None:
    hold = doing.db.execute(
        "select job, phase, reason, until from hold where seq = ?", [event.hold]
    ).fetchone()
    working = doing.db.execute(
        "select name from clock join person using (person) where job = ?1 and "
        "(?2 is null or phase = ?2) and (until is null or until > ?3)",
        [hold["job"], hold["phase"], row.happened_at],
    ).fetchone()
    if working is not None:
        raise Refused(
            f"{working['name']} has worked on it since. Hold it anew with `hoistbook hold`."
        )
    again = doing.db.execute(
        "select 1 from hold where job = ? and phase is ? and reason = ? and until is null",
        [hold["job"], hold["phase"], hold["reason"]],
    ).fetchone()
    finished = hold["phase"] and _now(doing, hold["job"], hold["phase"]).state == "finished"
    if again is not None or finished:
        raise Refused("It has gone on since: the release stays.")
    doing.record(events.ReleaseTakenBack(hold=event.hold))


def _finding_gone(doing: Acting, row: Row, event: events.Found) -> None:
    answered = doing.db.execute(
        "select 1 from supplement where finding = ? and state in ('approved', 'refused')",
        [row.seq],
    ).fetchone()
    if answered is not None:
        raise Refused("The customer has answered that since: it stays.")
    doing.record(events.FindingTakenBack(finding=row.seq))


def _answer_back(doing: Acting, row: Row, event: events.SupplementAnswered) -> None:
    answered = doing.db.execute(
        "select line, phase, hours from supplement where job = ? and state = ? order by line",
        [event.job, event.answer],
    ).fetchall()
    lines = [one for one in answered if one["line"] in event.lines]
    if len(lines) < len(event.lines):
        raise Refused("That extra work was answered anew since: it stays.")
    raises = raised(doing, event.job, lines, less=True) if event.answer == "approved" else []
    doing.record(events.AnswerTakenBack(job=event.job, lines=list(event.lines), raises=raises))
    if raises:
        record_estimate(doing, event.job, "answer on extra work taken back")


def _moved_back(doing: Acting, row: Row, event: events.Placed) -> None:
    stays = doing.db.execute(
        "select stay.seq, stay.place, kind, code from stay join place using (place) "
        "where job = ? and part = ? order by stay.seq desc limit 2",
        [event.job, event.part],
    ).fetchall()
    if not stays or stays[0]["seq"] != row.seq:
        raise Refused(f"{event.job} was moved again since: that stays.")
    before = stays[1] if len(stays) > 1 else None
    on_lift = before is not None and before["kind"] == "lift" and event.part == "body"
    if before is not None:
        _refuse_taken(doing, event.job, before)
    # Nobody can see from here whether it was lowered in between: it is raised anew.
    voids = raised_anew(doing, event.job) if on_lift else []
    stop_behind(doing, event.job, voids)
    doing.record(
        events.Placed(
            job=event.job, part=event.part, place=before["place"] if before else None,
            state=_state_at(doing, event, on_lift=on_lift), voids=voids, takes_back=row.seq,
        )
    )  # fmt: skip


def _refuse_taken(doing: Acting, job: str, before: sqlite3.Row) -> None:
    if before["kind"] not in ("lift", "stand"):
        return
    taken = doing.db.execute(
        "select job from job_place where place = ? and job != ?", [before["place"], job]
    ).fetchone()
    if taken is not None:
        raise Refused(f"{before['code']} is taken by {taken['job']} by now.")


def _state_at(doing: Acting, event: events.Placed, *, on_lift: bool) -> str:
    state = job_row(doing.db, event.job).state
    if state == "finished" or event.part == "unit":
        return state
    if on_lift:
        return "on-lift"
    begun = any(one.begun_at for one in phases_of(doing.db, event.job))
    return "off-lift" if begun else "waiting"


def _route_back(doing: Acting, row: Row, event: events.RouteChanged) -> None:
    changes = [
        (one["seq"], one["payload"])
        for one in doing.db.execute(
            "select ledger.seq, payload from entry join ledger on ledger.seq between entry.seq "
            "and entry.last where entry.job = ? and kind = 'route-changed' "
            "order by ledger.seq desc limit 2",
            [event.job],
        )
    ]
    if len(changes) < 2:
        raise Refused("The job's first route cannot be taken back.")
    if changes[0][0] != row.seq:
        raise Refused("The route changed again since: that answer stays.")
    options: dict[str, str] = json.loads(changes[1][1])["options"]
    ends = has_ended(doing, event.job, besides=event.because or 0)
    lay_anew(
        doing, event.job, options, cause="taken back", because=row.seq, ends=ends, undoes=event
    )


def _promise_back(doing: Acting, row: Row, event: events.Promised) -> None:
    told = doing.db.execute(
        "select seq, promise, chance from promised where job = ? order by seq desc limit 2",
        [event.job],
    ).fetchall()
    if told[0]["seq"] != row.seq:
        raise Refused(f"{event.job} was promised anew since: that stays.")
    before = told[1] if len(told) > 1 else None
    doing.record(
        events.Promised(
            job=event.job, promise=before["promise"] if before else None,
            chance=before["chance"] if before else None,
        )
    )  # fmt: skip


def _lift_back(doing: Acting, row: Row, event: events.LiftWithdrawn) -> None:
    place = doing.db.execute(
        "select in_service from place where place = ?", [event.place]
    ).fetchone()
    if place["in_service"]:
        raise Refused("That lift is in service again already.")
    doing.record(events.LiftReturned(place=event.place))


TAKERS: dict[str, Taker] = {
    "clocked-on": _clock_gone,
    "clocked-indirect": _clock_gone,
    "clock-entered": _clock_gone,
    "clocked-off": _clock_runs,
    "step-signed": _signature_gone,
    "phase-begun": _not_begun,
    "phase-finished": _not_finished,
    "phase-skipped": _not_skipped,
    "state-changed": _state_back,
    "held": _hold_gone,
    "released": _held_again,
    "found": _finding_gone,
    "placed": _moved_back,
    "route-changed": _route_back,
    "estimate-changed": _nothing,
    "promised": _promise_back,
    "supplement-answered": _answer_back,
    "lift-withdrawn": _lift_back,
}
"""How each kind of event is taken back; a kind that is not here cannot be."""
