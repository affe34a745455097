"""Clocks taken back: one begun or entered is gone, one stopped runs on."""

from __future__ import annotations

import sqlite3

from store.actions.acting import Acting
from store.actions.clock import refuse_unclockable, running_clock
from store.actions.clock_where import emptied
from store.actions.gates import refuse_labour
from store.actions.jobs_now import phase_row, unbegin
from store.edges.events.base import Event
from store.edges.events.labour import ClockCorrected, ClockedOff, ClockRemoved
from store.file.ledger import Row
from store.file.route_now import phases_of
from store.trouble import Refused


def clock_gone(doing: Acting, row: Row, event: Event) -> None:
    """Take out the clock that an entry began.

    Raises:
        Refused: it was stopped, confirmed or taken out since.
    """
    clock = _own_clock(doing, row.seq)
    if row.kind != "clock-entered" and clock["until"] is not None:
        raise Refused("That clock was stopped since. Put it right with `hoistbook correct`.")
    former = emptied(doing, clock, None)
    doing.record(ClockRemoved(clock=row.seq, why="taken back"))
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


def clock_runs(doing: Acting, row: Row, event: ClockedOff) -> None:
    """Let the clock that an entry stopped run on.

    Raises:
        Refused: the person's clock runs elsewhere, it was put right, or the work may not go on.
    """
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
        ClockCorrected(
            clock=event.clock, person=event.person, job=clock["job"], phase=clock["phase"],
            reason=clock["reason"], part=clock["part"], since=clock["since"], until=None,
            breaks_worked=bool(clock["breaks_worked"]), why="taken back",
        )
    )  # fmt: skip
