"""One's own last entry taken back: events that put things as they were, both truths kept."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any, cast

from store.actions.acting import Acting, Done, acting
from store.actions.clock import running_clock
from store.actions.day_sheet import emptied
from store.actions.jobs_now import named
from store.actions.route_change import lay_anew
from store.edges import events
from store.edges.events import Event
from store.file.change import By
from store.file.ledger import Row, rows
from store.file.route_now import phases_of, steps_of
from store.file.shop import Shop
from store.file.words_of import in_words
from store.rules.blocking import blocks_from
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
    clock = doing.db.execute(
        "select seq, job, phase from clock where seq = ?", [row.seq]
    ).fetchone()
    if clock is None:
        raise Refused("That clock is taken out already.")
    doing.record(
        events.ClockRemoved(clock=row.seq, why="taken back", empties=emptied(doing, clock, None))
    )


def _clock_runs(doing: Acting, row: Row, event: events.ClockedOff) -> None:
    person = doing.db.execute("select name from person where person = ?", [event.person]).fetchone()
    if running_clock(doing.db, event.person) is not None:
        raise Refused(f"{person['name']}'s clock runs elsewhere by now. Use `hoistbook correct`.")
    clock = doing.db.execute(
        "select job, phase, reason, part, since, breaks_worked from clock where seq = ?",
        [event.clock],
    ).fetchone()
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
    _refuse_built_on(doing, row, event, steps)
    was_done = step.state == "done"
    doing.record(
        events.SignatureTakenBack.model_validate(
            {
                "job": event.job, "phase": event.phase, "step": event.step, "signature": row.seq,
                "state": _state_without(doing, event, row.seq, step.signs),
                "opens": list(step.spec.closes) if was_done else [],
                "closes": list(step.spec.opens) if was_done else [],
            }
        )
    )  # fmt: skip


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


def _refuse_built_on(doing: Acting, row: Row, event: events.StepSigned, steps: list[Any]) -> None:
    step = next(one for one in steps if (one.phase, one.step) == (event.phase, event.step))
    if step.kind == "step":
        return
    phases = phases_of(doing.db, event.job)
    start = blocks_from(step.gate(), [one.at() for one in phases])
    for one in phases:
        if start is not None and one.position >= start and one.begun_at is not None:
            raise Refused(
                f"{named(event.job, one)} has begun since: the signature stays. "
                f"Open {event.job}.{event.phase} again with `hoistbook reopen` instead."
            )
    for other in steps:
        behind = other.phase == event.phase and other.position > step.position
        if behind and other.state != "open":
            raise Refused(
                f"{event.job}.{other.phase}.{other.step} was signed since: take that back first."
            )


def _phase_back(doing: Acting, job: str, phase: str, state: str, **tags: list[str]) -> None:
    doing.record(
        events.PhaseTakenBack.model_validate({"job": job, "phase": phase, "state": state, **tags})
    )


def _not_begun(doing: Acting, row: Row, event: events.PhaseBegun) -> None:
    _phase_back(doing, event.job, event.phase, "to come", closes=list(event.opens))


def _not_finished(doing: Acting, row: Row, event: events.PhaseFinished) -> None:
    _phase_back(doing, event.job, event.phase, "under way", opens=list(event.closes))


def _not_skipped(doing: Acting, row: Row, event: events.PhaseSkipped) -> None:
    begun = doing.db.execute(
        "select begun_at from phase where job = ? and phase = ?", [event.job, event.phase]
    ).fetchone()[0]
    _phase_back(doing, event.job, event.phase, "to come" if begun is None else "under way")


def _state_back(doing: Acting, row: Row, event: events.StateChanged) -> None:
    lift = doing.db.execute(
        "select 1 from job_place join place using (place) where job = ? and part = 'body' "
        "and kind = 'lift'",
        [event.job],
    ).fetchone()
    doing.record(events.StateChanged(job=event.job, state="on-lift" if lift else "off-lift"))


def _hold_gone(doing: Acting, row: Row, event: events.Held) -> None:
    doing.record(events.HoldTakenBack(hold=row.seq))


def _held_again(doing: Acting, row: Row, event: events.Released) -> None:
    doing.record(events.ReleaseTakenBack(hold=event.hold))


def _finding_gone(doing: Acting, row: Row, event: events.Found) -> None:
    answered = doing.db.execute(
        "select 1 from supplement where finding = ? and state in ('approved', 'refused')",
        [row.seq],
    ).fetchone()
    if answered is not None:
        raise Refused("The customer has answered that since: it stays.")
    doing.record(events.FindingTakenBack(finding=row.seq))


def _moved_back(doing: Acting, row: Row, event: events.Placed) -> None:
    before = doing.db.execute(
        "select stay.place, kind, code from stay join place using (place) "
        "where job = ? and part = ? and stay.seq < ? order by stay.seq desc limit 1",
        [event.job, event.part, row.seq],
    ).fetchone()
    if before is not None and before["kind"] in ("lift", "stand"):
        taken = doing.db.execute(
            "select job from job_place where place = ? and job != ?", [before["place"], event.job]
        ).fetchone()
        if taken is not None:
            raise Refused(f"{before['code']} is taken by {taken['job']} by now.")
    state = cast("str", doing.db.execute(
        "select state from job where job = ?", [event.job]
    ).fetchone()[0])  # fmt: skip
    if state != "finished" and event.part == "body":
        begun = any(one.begun_at for one in phases_of(doing.db, event.job))
        on_lift = before is not None and before["kind"] == "lift"
        state = "on-lift" if on_lift else "off-lift" if begun else "waiting"
    doing.record(
        events.Placed(
            job=event.job, part=event.part, place=before["place"] if before else None, state=state
        )
    )


def _route_back(doing: Acting, row: Row, event: events.RouteChanged) -> None:
    before = doing.db.execute(
        "select payload from ledger where kind = 'route-changed' and seq < ? "
        "and payload ->> '$.job' = ? order by seq desc limit 1",
        [row.seq, event.job],
    ).fetchone()
    if before is None:
        raise Refused("The job's first route cannot be taken back.")
    options: dict[str, str] = json.loads(before[0])["options"]
    lay_anew(doing, event.job, options, cause="taken back", because=row.seq, ends=False)


def _promise_back(doing: Acting, row: Row, event: events.Promised) -> None:
    before = doing.db.execute(
        "select promise, chance from promised where job = ? and seq < ? order by seq desc limit 1",
        [event.job, row.seq],
    ).fetchone()
    doing.record(
        events.Promised(
            job=event.job, promise=before["promise"] if before else None,
            chance=before["chance"] if before else None,
        )
    )  # fmt: skip


def _lift_back(doing: Acting, row: Row, event: events.LiftWithdrawn) -> None:
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
    "lift-withdrawn": _lift_back,
}
"""How each kind of event is taken back; a kind that is not here cannot be."""
