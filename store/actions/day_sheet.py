"""The day sheet: a day confirmed, a clock put right, split or entered from memory."""

from __future__ import annotations

import sqlite3
from dataclasses import replace
from datetime import date, datetime, timedelta
from itertools import pairwise
from typing import cast

from store.actions.acting import Acting, Done, Person, acting, person_by, person_of
from store.actions.clock import clock_off, running_clock, where_of
from store.actions.clock_where import Where as Where  # noqa: PLC0414 - the word of its callers
from store.actions.clock_where import begun_by, emptied
from store.actions.jobs_now import unbegin
from store.actions.trouble import InTheFuture, NoSuch, NotEmployed
from store.actions.words import clock_time, hours_words
from store.edges.events.base import Part
from store.edges.events.labour import ClockCorrected, ClockEntered, ClockRemoved
from store.edges.events.people import DayConfirmed
from store.edges.instants import from_text, to_text
from store.file.change import By
from store.file.facts import calendar_of, day_bounds
from store.file.labour import clock_labour_h
from store.file.shop import Shop
from store.sums.clock_labour import counts_to
from store.trouble import Refused

LONGEST = timedelta(hours=24)
"""Nobody works longer at a stretch: it is a slip in the date."""
CLOCK = "seq, person, job, phase, reason, part, since, until, breaks_worked, confirmed"


LONGEST_CLOCK = timedelta(days=31)
"""A clock that runs longer is looked for no more when a later day is confirmed."""


def confirm_day(shop: Shop, by: By, *, day: date, badge: str | None = None) -> Done:
    """Confirm the clocks of a day: only confirmed labour teaches.

    Raises:
        UnknownBadge: nobody has that badge.
        Refused: nothing to confirm, a clock of the day still runs, or two overlap.
    """
    with acting(shop, by) as doing:
        person = doing.person if badge is None else person_by(doing.db, badge)
        own = person.person == doing.person.person
        doing.may("confirm own day" if own else "confirm another's day")
        total = confirm_clocks(doing, person, day)
        return doing.done(f"{person.name}'s {day} is confirmed: {hours_words(total)}.")


def confirm_clocks(doing: Acting, person: Person, day: date) -> float:
    """Confirm a person's clocks of a day; return their hours of labour.

    Raises:
        Refused: nothing to confirm, a clock of the day still runs, or two overlap.
    """
    clocks = clocks_of_day(doing.db, doing, person.person, day)
    _refuse_unconfirmable(person, day, clocks, _over_night(doing, person, clocks))
    _refuse_confirmed(doing, person, day, clocks)
    doing.record(
        DayConfirmed(
            person=person.person, day=day.isoformat(), clocks=[one["seq"] for one in clocks]
        )
    )
    return sum(
        clock_labour_h(
            doing.calendar, one["since"], one["until"], bool(one["breaks_worked"]), doing.at
        )
        for one in clocks
    )


def clocks_of_day(
    db: sqlite3.Connection, doing: Acting, person: str, day: date
) -> list[sqlite3.Row]:
    """Return the clocks that a person started on a local day."""
    shifts = day_bounds(day, doing.calendar.zone)
    return db.execute(
        f"select {CLOCK} from clock where person = ? and since >= ? and since < ? order by since",
        [person, to_text(shifts[0]), to_text(shifts[1])],
    ).fetchall()


def _over_night(doing: Acting, person: Person, clocks: list[sqlite3.Row]) -> list[sqlite3.Row]:
    """The clock of an earlier day that still ran when the day's first began, if there is one."""
    if not clocks:
        return []
    first = clocks[0]["since"]
    return doing.db.execute(
        f"select {CLOCK} from clock where person = ? and since < ? and since >= ? and until > ? "
        "order by since desc limit 1",
        [person.person, first, to_text(from_text(first) - LONGEST_CLOCK), first],
    ).fetchall()


def _refuse_unconfirmable(
    person: Person, day: date, clocks: list[sqlite3.Row], before: list[sqlite3.Row]
) -> None:
    if not clocks:
        raise Refused(f"{person.name} has no clock on {day}: there is nothing to confirm.")
    for one in clocks:
        if one["until"] is None:
            raise Refused(f"{person.name}'s clock on {where_of(one)} still runs. Stop it first.")
    for one, other in pairwise([*before, *clocks]):
        if other["since"] < one["until"]:
            raise Refused(
                f"{person.name}'s clocks {one['seq']} ({where_of(one)}) and {other['seq']} "
                f"({where_of(other)}) overlap. Put one right: hoistbook correct {other['seq']}."
            )


def _refuse_confirmed(doing: Acting, person: Person, day: date, clocks: list[sqlite3.Row]) -> None:
    """A day is confirmed by whoever says so; that a closed job confirmed its clocks is not that."""
    said = doing.db.execute(
        "select 1 from day_confirmed where person = ? and day = ?", [person.person, day.isoformat()]
    ).fetchone()
    if said is not None and all(one["confirmed"] for one in clocks):
        raise Refused(f"{person.name}'s {day} is confirmed already.")


def correct_clock(
    shop: Shop,
    by: By,
    *,
    clock: int,
    since: datetime | None = None,
    until: datetime | None = None,
    where: Where | None = None,
    part: Part | None = None,
    breaks_worked: bool | None = None,
    why: str | None = None,
) -> Done:
    """Put a clock right; what it said before stays in the ledger.

    Raises:
        NoSuch: no such clock, job or phase.
        InTheFuture: a time that has not come yet.
        Refused: not one's own, confirmed already, nothing to change, or an end before the start.
    """
    with acting(shop, by) as doing:
        row = _clock(doing, clock)
        person = _may_correct(doing, row)
        new = where or Where(row["job"], row["phase"], row["reason"])
        start = to_text(since) if since else row["since"]
        end = to_text(until) if until else row["until"]
        refuse_times(doing, start, end)
        part = part or cast("Part", row["part"])
        begins = begun_by(doing, person, new, part, row, start, end)
        event = ClockCorrected.model_validate(
            {
                "clock": clock, "person": person.person, "job": new.job, "phase": new.phase,
                "reason": new.reason, "part": part, "since": start, "until": end,
                "breaks_worked": bool(row["breaks_worked"]) if breaks_worked is None
                else breaks_worked,
                "why": why, **begins,
            }
        )  # fmt: skip
        if _same(event, row):
            raise Refused(f"Clock {clock} says so already. Nothing was changed.")
        former = emptied(doing, row, new)
        # a phase begins where its first labour does, and not where that was said
        doing.record(event, happened_at=start if event.begins else None)
        unbegin(doing, row["job"], former)
        return doing.done(_corrected_words(doing, person, event), job=new.job)


def _clock(doing: Acting, clock: int) -> sqlite3.Row:
    row: sqlite3.Row | None = doing.db.execute(
        f"select {CLOCK} from clock where seq = ?", [clock]
    ).fetchone()
    if row is None:
        raise NoSuch("clock", str(clock), "See the numbers with `hoistbook day`.")
    return row


def _may_correct(doing: Acting, row: sqlite3.Row) -> Person:
    person = person_of(doing.db, row["person"])
    if person.person != doing.person.person or row["confirmed"]:
        doing.may("put right others")
    else:
        doing.may("put right own")
    if row["job"] is not None:
        closed = doing.db.execute("select state from job where job = ?", [row["job"]]).fetchone()
        if closed["state"] == "closed":
            doing.may("put right others")
    return person


def refuse_times(doing: Acting, start: str, end: str | None) -> None:
    """Refuse times at which no clock can have run.

    Raises:
        InTheFuture: they have not come yet.
        Refused: it would end before it begins, or run longer than a day.
    """
    if start > doing.change.recorded_at or (end or "") > doing.change.recorded_at:
        raise InTheFuture
    if end is None:
        return
    if end <= start:
        raise Refused("The clock would end before it begins. Give another time.")
    if from_text(end) - from_text(start) > LONGEST:
        raise Refused("A clock runs for a day at most. Give other times, or two clocks.")


def refuse_off_roll(doing: Acting, person: Person, since: str) -> None:
    """Refuse labour of a day on which the person did not work here.

    Raises:
        NotEmployed: so it is.
    """
    day = doing.calendar.day_of(from_text(since)).isoformat()
    if day < person.from_day or (person.until_day is not None and day > person.until_day):
        raise NotEmployed(person.name)


def _same(event: ClockCorrected, row: sqlite3.Row) -> bool:
    return (
        event.job, event.phase, event.reason, event.part, event.since, event.until,
        event.breaks_worked,
    ) == (
        row["job"], row["phase"], row["reason"], row["part"], row["since"], row["until"],
        bool(row["breaks_worked"]),
    )  # fmt: skip


def _corrected_words(doing: Acting, person: Person, event: ClockCorrected) -> str:
    where = event.reason if event.job is None else f"{event.job}.{event.phase}"
    end = "now" if event.until is None else clock_time(from_text(event.until), doing.calendar)
    start = clock_time(from_text(event.since), doing.calendar)
    return f"{person.name}'s clock put right: {where}, {start} to {end}."


def remove_clock(shop: Shop, by: By, *, clock: int, why: str | None = None) -> Done:
    """Take a clock out that never was; it stays in the ledger.

    Raises:
        NoSuch: no such clock.
        Refused: not one's own, or confirmed already.
    """
    with acting(shop, by) as doing:
        row = _clock(doing, clock)
        person = _may_correct(doing, row)
        former = emptied(doing, row, None)
        doing.record(ClockRemoved(clock=clock, why=why))
        unbegin(doing, row["job"], former)
        return doing.done(f"{person.name}'s clock on {where_of(row)} is taken out.")


def split_clock(
    shop: Shop, by: By, *, clock: int, at: datetime, where: Where, why: str | None = None
) -> Done:
    """Split a clock at an instant: what follows was something else.

    Raises:
        NoSuch: no such clock, job or phase.
        Refused: the instant lies outside the clock, or it still runs.
    """
    with acting(shop, by) as doing:
        row = _clock(doing, clock)
        person = _may_correct(doing, row)
        cut = to_text(at)
        if row["until"] is None:
            raise Refused("That clock still runs. Stop it, or go over to the other phase.")
        if not row["since"] < cut < row["until"]:
            raise Refused("That time lies outside the clock. Give one inside it.")
        part = cast("Part", row["part"])
        begins = begun_by(doing, person, where, part, row, cut, row["until"])
        doing.record(
            ClockCorrected(
                clock=clock, person=person.person, job=row["job"], phase=row["phase"],
                reason=row["reason"], part=cast("Part", row["part"]), since=row["since"],
                until=cut, breaks_worked=bool(row["breaks_worked"]), why=why,
            )
        )  # fmt: skip
        doing.record(
            ClockEntered.model_validate(
                {
                    "person": person.person, "job": where.job, "phase": where.phase,
                    "reason": where.reason, "part": row["part"], "since": cut,
                    "until": row["until"], "breaks_worked": bool(row["breaks_worked"]),
                    "why": why, **begins,
                }
            ),
            happened_at=cut,
        )  # fmt: skip
        return doing.done(f"{person.name}'s clock is split.", job=where.job)


def enter_clock(
    shop: Shop,
    by: By,
    *,
    where: Where,
    since: datetime,
    until: datetime,
    badge: str | None = None,
    part: Part = "lead",
    breaks_worked: bool = False,
    why: str | None = None,
) -> Done:
    """Enter a whole clock from memory.

    Raises:
        UnknownBadge, NoSuch, InTheFuture: as they say.
        Refused: for another person without being foreman, the day is confirmed, or it ends before
            it begins.
    """
    with acting(shop, by) as doing:
        person = doing.person if badge is None else person_by(doing.db, badge)
        own = person.person == doing.person.person
        day = doing.calendar.day_of(since)
        confirmed = doing.db.execute(
            "select 1 from day_confirmed where person = ? and day = ?",
            [person.person, day.isoformat()],
        ).fetchone()
        doing.may("enter clock" if own and confirmed is None else "put right others")
        start, end = to_text(since), to_text(until)
        refuse_times(doing, start, end)
        refuse_off_roll(doing, person, start)
        begins = begun_by(doing, person, where, part, None, start, end)
        doing.record(
            ClockEntered.model_validate(
                {
                    "person": person.person, "job": where.job, "phase": where.phase,
                    "reason": where.reason, "part": part, "since": start, "until": end,
                    "breaks_worked": breaks_worked, "why": why, **begins,
                }
            ),
            happened_at=start,
        )  # fmt: skip
        what = where.reason if where.job is None else f"{where.job}.{where.phase}"
        hours = clock_labour_h(doing.calendar, start, end, breaks_worked, doing.now)
        return doing.done(f"{person.name}: {what}, {hours_words(hours)} entered.", job=where.job)


def stop_left_running(shop: Shop, by: By, *, stopped_at: datetime | None = None) -> Done:
    """Stop one's own clock that was left running, at the shift's end or when one says.

    Args:
        stopped_at: None is the shift's end.

    Raises:
        Refused: no clock of this person was left running; or as `clock_off`.
    """
    if stopped_at is None:
        with shop.reading() as db:
            person = person_by(db, by.badge)
            row = running_clock(db, person.person)
            if row is None:
                raise Refused(f"{person.name} has no clock running.")
            stopped_at, left = counts_to(calendar_of(db), from_text(row["since"]), by.at or by.now)
            if not left:
                raise Refused(f"{person.name}'s clock was not left running. Use clock off.")
    return clock_off(shop, replace(by, at=stopped_at))
