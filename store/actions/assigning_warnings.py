"""What the foreman should have heard before somebody is given work; their word then counts.

Away days, a second lift at the same hour, phases of a job that take another's qualification.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from store.actions.acting import Acting, Person
from store.actions.assigning_rules import LIVE, Work, needs_of
from store.actions.qualified import holds
from store.actions.words import clock_time, named
from store.edges.instants import from_text
from store.file.facts import setting
from store.file.hours_left import left_of, left_together
from store.file.labour import phase_labour_h
from store.file.roster import OnRoll, on_roll
from store.file.route_now import PhaseRow, phases_of
from store.file.work_lists import Line
from store.sums.work_list import Stretch, done_by, one_after_another
from store.sums.working_time import NeverOpens


def warnings(
    doing: Acting, work: Work, person: Person, lines: Sequence[Line], *, at_front: bool
) -> list[str]:
    """Return what speaks against it, a sentence each; none where nothing does.

    Args:
        lines: the person's list without this work, in its order.
    """
    said = _unqualified(doing, work, person)
    here = next((one for one in on_roll(doing.db, doing.now) if one.person == person.person), None)
    if here is None:
        return said
    try:
        return said + _of_time(doing, work, here, lines, at_front=at_front)
    except NeverOpens:
        return said


def _unqualified(doing: Acting, work: Work, person: Person) -> list[str]:
    """Of a whole job: phases in it that somebody else will have to do."""
    if work.phase is not None:
        return []
    return [
        f"{named(work.job, one)} takes somebody qualified for {what}, and {person.name} is not."
        for one in work.todo
        for what in needs_of(doing, one)
        if not holds(doing, person.person, what)
    ]


@dataclass(frozen=True, slots=True)
class _Piece:
    """A line of a list: its middle hours, where it stands, by when its job was promised."""

    job: str
    phase: str | None
    hours: float
    place: str
    promise: datetime | None


def _of_time(
    doing: Acting, work: Work, here: OnRoll, lines: Sequence[Line], *, at_front: bool
) -> list[str]:
    own = _piece(doing, work.job, work.phase, work.todo)
    now_on, others = _list_of(doing, here, lines)
    if now_on is not None and now_on.job == own.job and own.phase in (None, now_on.phase):
        now_on = None  # it is what the clock runs on already
    before = [*([now_on] if now_on else []), *others]
    first = (1 if now_on else 0) if at_front else len(before)
    after = [*before[:first], own, *before[first:]]
    away = [(one.since, one.until) for one in here.absences]
    then = dict(zip(before, _spans(doing, before, away), strict=True))
    now = dict(zip(after, _spans(doing, after, away), strict=True))
    turn = now[after[first - 1]][1] if first else doing.now
    alone = done_by(doing.calendar, doing.now, own.hours, away)
    return [
        *_absent(doing, work, here, own, turn),
        *_two_at_once(doing, here, (own, alone), then, now),
    ]


def _list_of(
    doing: Acting, here: OnRoll, lines: Sequence[Line]
) -> tuple[_Piece | None, list[_Piece]]:
    """What the person's clock runs on, which is done first, and the rest of the list."""
    pieces = [_piece_of(doing, one.job, one.phase) for one in lines]
    if here.job is None:
        return None, pieces
    own = next(
        (one for one in pieces if one.job == here.job and one.phase in (None, here.phase)), None
    )
    if own is None:
        return _piece_of(doing, here.job, here.phase), pieces
    return own, [one for one in pieces if one is not own]


def _piece_of(doing: Acting, job: str, phase: str | None) -> _Piece:
    todo = [
        one
        for one in phases_of(doing.db, job)
        if one.kind == "labour" and one.state in LIVE and phase in (None, one.phase)
    ]
    return _piece(doing, job, phase, todo)


def _piece(doing: Acting, job: str, phase: str | None, todo: Sequence[PhaseRow]) -> _Piece:
    labour = {
        one.phase: phase_labour_h(doing.db, doing.calendar, job, one.phase, doing.now)
        for one in todo
    }
    if phase is None:
        hours = left_together(doing.db, job, todo, labour, setting(doing.db, "cautious"))[0]
    else:
        hours = sum(left_of(one, labour[one.phase])[1] for one in todo)
    row = doing.db.execute(
        "select promise, place.kind, place.code from job "
        "left join job_place on job_place.job = job.job and part = 'body' "
        "left join place using (place) where job.job = ?",
        [job],
    ).fetchone()
    place = f"lift {row['code']}" if row["kind"] == "lift" else job
    return _Piece(
        job, phase, max(0.0, hours), place, from_text(row["promise"]) if row["promise"] else None
    )


def _spans(doing: Acting, pieces: Sequence[_Piece], away: Sequence[Stretch]) -> list[Stretch]:
    return one_after_another(doing.calendar, doing.now, [one.hours for one in pieces], away)


def _absent(doing: Acting, work: Work, here: OnRoll, own: _Piece, turn: datetime) -> list[str]:
    """Away within the working hours that it takes from its turn on."""
    calendar = doing.calendar
    end = calendar.after(turn, own.hours)
    away = next((one for one in here.absences if one.since < end and one.until > turn), None)
    if away is None:
        return []
    since, until = clock_time(away.since, calendar), clock_time(away.until, calendar)
    return [
        f"{here.name} is away from {since} to {until} ({away.why}), when {work.where} is likely "
        "to be done."
    ]


def _two_at_once(
    doing: Acting,
    here: OnRoll,
    new: tuple[_Piece, datetime],
    then: dict[_Piece, Stretch],
    now: dict[_Piece, Stretch],
) -> list[str]:
    """A list that is longer than the time before a promise, and was not without this work.

    Args:
        new: the work, and when it would be done with nothing else on the list.
        then: when each line is worked on without it.
        now: the same with it.
    """
    own, alone = new
    for one, (_, end) in now.items():
        before = alone if one is own else then[one][1]
        if one.promise is None or end <= one.promise or before > one.promise:
            continue
        other = next(iter(now)) if one is own else own
        if other.job == one.job:
            continue
        where = one.job if one.phase is None else f"{one.job}.{one.phase}"
        calendar = doing.calendar
        return [
            f"{here.name} would be wanted on {other.place} and {one.place} at one hour: {one.job} "
            f"is promised for {clock_time(one.promise, calendar)}, and {where} would be done "
            f"{clock_time(end, calendar)}."
        ]
    return []
