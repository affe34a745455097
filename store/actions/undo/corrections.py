"""A clock put right, taken back: it says what it said before, and all three entries stay."""

from __future__ import annotations

import sqlite3
from typing import NamedTuple

from store.actions.acting import Acting, person_of
from store.actions.clock import running_clock
from store.actions.clock_where import Where, begun_by, emptied
from store.actions.jobs_now import unbegin
from store.edges.events.base import Event, Part
from store.edges.events.labour import (
    ClockCorrected,
    ClockedIndirect,
    ClockedOff,
    ClockedOn,
    ClockEntered,
)
from store.file.ledger import Row, rows
from store.trouble import Refused

KINDS = ("clocked-on", "clocked-indirect", "clock-entered", "clocked-off", "clock-corrected")


class _Said(NamedTuple):
    """What a clock said at some entry."""

    job: str | None
    phase: str | None
    reason: str | None
    part: Part
    since: str
    until: str | None
    breaks_worked: bool


def as_before(doing: Acting, row: Row, event: ClockCorrected) -> None:
    """Put a clock back to what it said before it was put right.

    Raises:
        Refused: it was put right, stopped, confirmed or taken out since; or the labour may not
            have been there.
    """
    clock = _clock_as(doing, event)
    was = _said_before(doing, event.clock, row.seq)
    running = running_clock(doing.db, event.person)
    if was.until is None and running is not None and running["seq"] != event.clock:
        raise Refused("Your clock runs elsewhere by now: this one stays stopped.")
    where = Where(was.job, was.phase, was.reason)
    person = person_of(doing.db, event.person)
    begins = begun_by(doing, person, where, was.part, clock, was.since, was.until)
    former = emptied(doing, clock, where)
    doing.record(
        ClockCorrected.model_validate(
            {
                "clock": event.clock, "person": event.person, "why": "taken back",
                **was._asdict(), **begins,
            }
        ),
        happened_at=was.since if begins.get("begins") else None,
    )  # fmt: skip
    unbegin(doing, clock["job"], former)


def _clock_as(doing: Acting, event: ClockCorrected) -> sqlite3.Row:
    """The clock, as the entry left it."""
    found: sqlite3.Row | None = doing.db.execute(
        "select seq, job, phase, reason, part, since, until, breaks_worked, confirmed from clock "
        "where seq = ?",
        [event.clock],
    ).fetchone()
    if found is None:
        raise Refused("That clock is taken out by now: it stays so.")
    if found["confirmed"]:
        raise Refused("That clock is confirmed by now. A foreman puts it right.")
    said = (event.job, event.phase, event.reason, event.part, event.since, event.until)
    if said != tuple(found[name] for name in _Said._fields[:6]):
        raise Refused("That clock was changed again since: it stays as it is.")
    return found


def _said_before(doing: Acting, clock: int, seq: int) -> _Said:
    """What a clock said before an entry, from the events that made it."""
    said: _Said | None = None
    for row in rows(doing.db, since_seq=clock):
        if row.seq >= seq:
            break
        if row.kind in KINDS:
            said = _after(said, row, clock)
    assert said is not None, f"clock {clock} began nowhere"
    return said


def _after(said: _Said | None, row: Row, clock: int) -> _Said | None:
    event = row.event()
    if row.seq == clock:
        return _first(row, event)
    if said is None or vars(event).get("clock") != clock:
        return said
    if isinstance(event, ClockedOff):
        return said._replace(until=row.happened_at)
    assert isinstance(event, ClockCorrected)
    return _Said(
        event.job, event.phase, event.reason, event.part, event.since, event.until,
        event.breaks_worked,
    )  # fmt: skip


def _first(row: Row, event: Event) -> _Said:
    if isinstance(event, ClockEntered):
        return _Said(
            event.job, event.phase, event.reason, event.part, event.since, event.until,
            event.breaks_worked,
        )  # fmt: skip
    if isinstance(event, ClockedIndirect):
        return _Said(None, None, event.reason, "lead", row.happened_at, None, False)
    assert isinstance(event, ClockedOn)
    return _Said(event.job, event.phase, None, event.part, row.happened_at, None, False)
