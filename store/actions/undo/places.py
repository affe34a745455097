"""Moves, withdrawn lifts and changed routes taken back."""

from __future__ import annotations

import json
import sqlite3

from store.actions.acting import Acting
from store.actions.jobs_now import BEFORE, has_begun, job_row
from store.actions.places import raised_anew, stop_behind
from store.actions.route_change import has_ended, lay_anew
from store.edges.events.jobs import Placed
from store.edges.events.places import LiftReturned, LiftWithdrawn
from store.edges.events.route import RouteChanged
from store.file.ledger import Row
from store.trouble import Refused


def moved_back(doing: Acting, row: Row, event: Placed) -> None:
    """Put a vehicle or unit back to where it stood.

    Raises:
        Refused: it was moved again since, or another job stands there.
    """
    stays = doing.db.execute(
        "select stay.seq, stay.place, kind, code from stay join place using (place) "
        "where job = ? and part = ? order by stay.seq desc limit 2",
        [event.job, event.part],
    ).fetchall()
    if event.place is None:
        _back_in(doing, row, event, stays[0])
        return
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
        Placed(
            job=event.job, part=event.part, place=before["place"] if before else None,
            state=_state_at(doing, event, on_lift=on_lift), voids=voids, takes_back=row.seq,
        )
    )  # fmt: skip


def _back_in(doing: Acting, row: Row, event: Placed, stay: sqlite3.Row) -> None:
    """Put a vehicle that was given back to where it had stood."""
    _refuse_taken(doing, event.job, stay)
    doing.record(
        Placed(
            job=event.job, part=event.part, place=stay["place"],
            state=job_row(doing.db, event.job).state, takes_back=row.seq,
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


def _state_at(doing: Acting, event: Placed, *, on_lift: bool) -> str:
    state = job_row(doing.db, event.job).state
    if state in (*BEFORE, "finished") or event.part == "unit":
        return state
    if on_lift:
        return "on-lift"
    return "off-lift" if has_begun(doing, event.job) else "waiting"


def lift_back(doing: Acting, row: Row, event: LiftWithdrawn) -> None:
    """Put a withdrawn lift back into service.

    Raises:
        Refused: it is in service again already.
    """
    place = doing.db.execute(
        "select in_service from place where place = ?", [event.place]
    ).fetchone()
    if place["in_service"]:
        raise Refused("That lift is in service again already.")
    doing.record(LiftReturned(place=event.place))


def route_back(doing: Acting, row: Row, event: RouteChanged) -> None:
    """Lay the route that a job had before an answer.

    Raises:
        Refused: it is the first route, or it changed again since.
    """
    changes = [
        (one["seq"], one["payload"])
        for one in doing.db.execute(
            "select ledger.seq, payload from entry cross join ledger on ledger.seq "
            "between entry.seq and entry.last where entry.job = ? and kind = 'route-changed' "
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
