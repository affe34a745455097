"""Labour: clock on, off, over, away and back, and time on no job. One clock a person."""

from __future__ import annotations

import sqlite3
from datetime import datetime

from store.actions.acting import Acting, Done, Person, acting, person_by
from store.actions.conditions import opened_by
from store.actions.gates import refuse_labour
from store.actions.hires.kit_gate import refuse_lacking
from store.actions.jobs_now import live_job, phase_row, refuse_unworkable
from store.actions.qualified import refuse_unqualified
from store.actions.trouble import NotEmployed
from store.actions.words import clock_time, hours_words, named
from store.edges.events.base import Part
from store.edges.events.labour import ClockedIndirect, ClockedOff, ClockedOn
from store.edges.instants import from_text
from store.file.change import By
from store.file.route_now import PhaseRow, phases_of
from store.file.shop import Shop
from store.sums.clock_labour import counts_to, labour_h
from store.trouble import Refused

INDIRECT = ("tidying", "parts", "helping", "customers", "other")
"""Reasons for time on no job, at first; more than five and everything becomes the first one."""
AWAY = "away"


class AlreadyClocked(Refused):
    """The person's clock is running elsewhere."""

    def __init__(self, name: str, where: str) -> None:
        self.where = where
        super().__init__(
            f"{name} is still clocked on {where}. Clock off there first, or use `clock over`."
        )


class NoClock(Refused):
    """The person's clock does not run."""

    def __init__(self, name: str) -> None:
        super().__init__(f"{name} has no clock running. Start one: hoistbook clock on JOB.PHASE.")


class LeftRunning(Refused):
    """A clock ran past the shift's end; only the person knows when it stopped."""

    def __init__(self, name: str, where: str, since: datetime, end: datetime) -> None:
        self.where, self.since, self.end = where, since, end
        super().__init__(
            f"{name}'s clock on {where} was left running since {since:%a %d %b %H:%M}; the shift "
            f"ended {end:%H:%M}. Say when: hoistbook clock off --at {end:%Y-%m-%dT%H:%M}."
        )


def running_clock(db: sqlite3.Connection, person: str) -> sqlite3.Row | None:
    """Return a person's running clock."""
    row: sqlite3.Row | None = db.execute(
        "select seq, person, job, phase, reason, part, since, away_from, breaks_worked from clock "
        "where person = ? and until is null",
        [person],
    ).fetchone()
    return row


def where_of(clock: sqlite3.Row) -> str:
    """Return `2417.4`, or the reason of time on no job."""
    return str(clock["reason"]) if clock["job"] is None else f"{clock['job']}.{clock['phase']}"


def clock_on(
    shop: Shop, by: By, *, job: str, phase: str, part: Part | None = None, why: str | None = None
) -> Done:
    """Start the actor's clock on a phase.

    Args:
        part: `lead` does the work, `helper` lends a hand, `learner` learns; None is lead, or
            helper where somebody leads already.
        why: a foreman's reason to begin it without a kit that lacks.

    Raises:
        AlreadyClocked, LeftRunning: the actor's clock runs.
        NoSuch: no such job or phase.
        KitLacks: a kit that it needs is not at hand.
        Refused: the phase is over, held, behind an open hold point, or asks for a qualification.
    """
    with acting(shop, by, "clock") as doing:
        running = running_clock(doing.db, doing.person.person)
        if running is not None:
            _refuse_left_running(doing, doing.person, running)
            raise AlreadyClocked(doing.person.name, where_of(running))
        row = _start(doing, job, phase, part, why=why)
        return doing.done(f"{doing.person.name} clocked on {named(job, row)}.", job=job)


def _start(
    doing: Acting,
    job: str,
    phase: str,
    part: Part | None,
    person: Person | None = None,
    why: str | None = None,
) -> PhaseRow:
    person = person or doing.person
    live_job(doing, job)
    phases = phases_of(doing.db, job)
    row = phase_row(phases, job, phase)
    refuse_unclockable(doing, job, row, phases)
    if doing.late:
        refuse_labour(doing, job, row, phases, doing.at_text, None)
    part = part or _usual_part(doing, job, phase)
    refuse_unqualified(doing, person, job, row, part)
    refuse_lacking(doing, job, row, phases, at=doing.at_text if doing.late else None, why=why)
    begins = row.state == "to come"
    doing.record(
        ClockedOn(
            person=person.person, job=job, phase=phase, part=part, begins=begins,
            opens=opened_by(doing, job, row) if begins else [],
        )
    )  # fmt: skip
    return row


def refuse_unclockable(doing: Acting, job: str, row: PhaseRow, phases: list[PhaseRow]) -> None:
    """Refuse labour on a phase that takes none, is over, held or behind a hold point.

    Raises:
        Refused: with the reason and what to do.
    """
    if row.kind != "labour":
        raise Refused(
            f"{named(job, row)} is {row.kind}: nobody clocks on it. "
            f"When it is over: hoistbook finish {job}.{row.phase}."
        )
    refuse_unworkable(doing, job, row, phases)


def _usual_part(doing: Acting, job: str, phase: str) -> Part:
    led = doing.db.execute(
        "select 1 from clock where job = ? and phase = ? and until is null and part = 'lead'",
        [job, phase],
    ).fetchone()
    return "helper" if led else "lead"


def clock_off(shop: Shop, by: By) -> Done:
    """Stop the actor's clock.

    Raises:
        NoClock: it does not run.
        LeftRunning: it ran past the shift's end and no time was given.
        Refused: the time given lies before its start.
    """
    with acting(shop, by, "clock") as doing:
        clock = _running(doing)
        if not doing.late:
            _refuse_left_running(doing, doing.person, clock)
        stop(doing, clock)
        return doing.done(_stopped_words(doing, clock), job=clock["job"])


def _running(doing: Acting) -> sqlite3.Row:
    clock = running_clock(doing.db, doing.person.person)
    if clock is None:
        raise NoClock(doing.person.name)
    return clock


def stop(doing: Acting, clock: sqlite3.Row) -> None:
    """Stop a clock at the action's instant.

    Raises:
        Refused: that instant lies before its start.
    """
    if doing.at_text < clock["since"]:
        raise Refused(
            f"The clock on {where_of(clock)} started "
            f"{clock_time(from_text(clock['since']), doing.calendar)}. Give a later time."
        )
    if doing.late and clock["job"] is not None:
        phases = phases_of(doing.db, clock["job"])
        row = phase_row(phases, clock["job"], clock["phase"])
        refuse_labour(doing, clock["job"], row, phases, clock["since"], doing.at_text)
    doing.record(ClockedOff(person=clock["person"], clock=clock["seq"]))


def stop_all(
    doing: Acting, job: str, phase: str | None, *, leave_forgotten: bool = False
) -> list[str]:
    """Stop every clock on a phase, or on the whole job; return whose they were.

    Args:
        leave_forgotten: a clock that ran past its shift's end is left for its person to stop: it
            counts to that end only, so nothing of it lies after this act.

    Raises:
        LeftRunning: one of them ran past its shift's end.
    """
    clocks = doing.db.execute(
        "select clock.seq, clock.person, job, phase, reason, part, since, away_from, name "
        "from clock join person using (person) "
        "where job = ? and (? is null or phase = ?) and until is null order by clock.seq",
        [job, phase, phase],
    ).fetchall()
    stopped: list[str] = []
    for clock in clocks:
        if not doing.late:
            if leave_forgotten and _forgotten(doing, clock):
                continue
            _refuse_left_running(doing, None, clock, clock["name"])
        stop(doing, clock)
        stopped.append(clock["name"])
    return stopped


def _forgotten(doing: Acting, clock: sqlite3.Row) -> bool:
    return counts_to(doing.calendar, from_text(clock["since"]), doing.at)[1]


def _refuse_left_running(
    doing: Acting, person: Person | None, clock: sqlite3.Row, name: str | None = None
) -> None:
    since = from_text(clock["since"])
    end, left = counts_to(doing.calendar, since, doing.at)
    if left:
        zone = doing.calendar.zone
        who = person.name if person else name or "?"
        raise LeftRunning(who, where_of(clock), since.astimezone(zone), end.astimezone(zone))


def _stopped_words(doing: Acting, clock: sqlite3.Row) -> str:
    hours = labour_h(
        doing.calendar, from_text(clock["since"]), doing.at, bool(clock["breaks_worked"])
    )
    return f"{doing.person.name} clocked off {where_of(clock)}, {hours_words(hours)}."


def clock_over(
    shop: Shop,
    by: By,
    *,
    job: str,
    phase: str,
    part: Part | None = None,
    badge: str | None = None,
    why: str | None = None,
) -> Done:
    """Stop a clock and start it on another phase, at one instant.

    Args:
        badge: whose clock, where it is not the actor's own.
        why: a foreman's reason to begin it without a kit that lacks.

    Raises:
        as `clock_on` and `clock_off`; a clock that does not run is no obstacle.
    """
    with acting(shop, by) as doing:
        person = doing.person if badge is None else person_by(doing.db, badge)
        doing.may("clock" if person.person == doing.person.person else "put right others")
        if person.until_day is not None and person.until_day < doing.today.isoformat():
            raise NotEmployed(person.name)
        running = running_clock(doing.db, person.person)
        if running is not None:
            if where_of(running) == f"{job}.{phase}":
                raise Refused(f"{person.name} is clocked on {job}.{phase} already.")
            _refuse_left_running(doing, person, running)
            stop(doing, running)
        row = _start(doing, job, phase, part, person, why)
        return doing.done(f"{person.name} went over to {named(job, row)}.", job=job)


def clock_away(shop: Shop, by: By) -> Done:
    """Called away: the clock leaves its phase until `clock_back`.

    Raises:
        NoClock, LeftRunning: as for `clock_off`.
        Refused: the actor is away already.
    """
    with acting(shop, by, "clock") as doing:
        clock = _running(doing)
        _refuse_left_running(doing, doing.person, clock)
        if clock["reason"] == AWAY:
            raise Refused(f"{doing.person.name} is away already. Come back: hoistbook clock back.")
        stop(doing, clock)
        doing.record(
            ClockedIndirect(person=doing.person.person, reason=AWAY, away_from=clock["seq"])
        )
        return doing.done(f"{doing.person.name} was called away from {where_of(clock)}.")


def clock_back(shop: Shop, by: By) -> Done:
    """Back from being called away: the clock goes on where it was.

    Raises:
        Refused: the actor is not away; or the phase cannot go on meanwhile.
    """
    with acting(shop, by, "clock") as doing:
        clock = running_clock(doing.db, doing.person.person)
        if clock is None or clock["reason"] != AWAY:
            raise Refused(
                f"{doing.person.name} is not away. Start a clock: hoistbook clock on JOB.PHASE."
            )
        _refuse_left_running(doing, doing.person, clock)
        before = doing.db.execute(
            "select job, phase, reason, part from clock where seq = ?", [clock["away_from"]]
        ).fetchone()
        stop(doing, clock)
        if before["job"] is None:
            doing.record(ClockedIndirect(person=doing.person.person, reason=before["reason"]))
            return doing.done(f"{doing.person.name} is back on {before['reason']}.")
        row = _start(doing, before["job"], before["phase"], before["part"])
        return doing.done(
            f"{doing.person.name} is back on {named(before['job'], row)}.", job=before["job"]
        )


def clock_indirect(shop: Shop, by: By, *, reason: str) -> Done:
    """Start the actor's clock on no job; a clock that runs is stopped at the same instant.

    Raises:
        LeftRunning: the running clock ran past the shift's end.
        Refused: no such reason.
    """
    with acting(shop, by, "clock") as doing:
        if reason not in INDIRECT:
            raise Refused(f"There is no reason {reason}. Use one of {', '.join(INDIRECT)}.")
        running = running_clock(doing.db, doing.person.person)
        if running is not None:
            if running["reason"] == reason:
                raise Refused(f"{doing.person.name} is clocked on {reason} already.")
            _refuse_left_running(doing, doing.person, running)
            stop(doing, running)
        doing.record(ClockedIndirect(person=doing.person.person, reason=reason))
        return doing.done(f"{doing.person.name} clocked on {reason}, no job.")
