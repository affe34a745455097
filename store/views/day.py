"""The day sheet: a person's day with its clocks, gaps and overlaps, and a proposal for each."""

from __future__ import annotations

import sqlite3
from datetime import date, datetime, timedelta
from itertools import pairwise

from store.edges.instants import from_text, to_text
from store.file.attended import attended_h, present_on
from store.file.facts import calendar_of, day_bounds
from store.file.labour import clock_labour_h, phase_labour_h
from store.file.shop import Shop
from store.rules.roles import sees_days
from store.sums.attended import without
from store.sums.clock_labour import counts_to
from store.sums.working_time import Calendar
from store.trouble import Refused
from store.views.values import Day, DayClock, Hole, Overrun

SMALLEST_GAP_S = 60.0
"""Shorter gaps are nobody's concern."""
LONGEST_PHASE = timedelta(days=62)
"""Who worked on a phase longer ago is not asked why it took so long."""


def day(shop: Shop, badge: str, on: date, now: datetime, *, by: str | None = None) -> Day:
    """Return a person's day sheet.

    Args:
        by: badge of whoever reads; None is whoever can open the file, who sees all.

    Raises:
        Refused: nobody here has that badge; the day is not the reader's to see.
    """
    with shop.reading() as db:
        person = db.execute(
            "select person, badge, name from person where badge = ?", [badge.upper()]
        ).fetchone()
        if person is None:
            raise Refused(f"Nobody here has the badge {badge}. See them with `hoistbook people`.")
        _check_reader(db, person["badge"], by)
        calendar = calendar_of(db)
        clocks = _clocks(db, calendar, person["person"], on, now)
        present = present_on(db, calendar, person["person"], on)
        return Day(
            badge=person["badge"], name=person["name"], day=on, zone=str(calendar.zone),
            attended_h=attended_h(db, person["person"], on, present),
            shifts=tuple(calendar.shifts_of(on)), breaks=tuple(calendar.breaks_of(on)),
            clocks=clocks, gaps=_gaps(calendar, present, clocks, now), overlaps=_overlaps(clocks),
            confirmed=bool(clocks) and all(one.confirmed for one in clocks), at=now,
            overruns=_overruns(db, calendar, person["person"], on, now),
        )  # fmt: skip


def _check_reader(db: sqlite3.Connection, badge: str, by: str | None) -> None:
    if by is None or by.upper() == badge:
        return
    row = db.execute("select role from person where badge = ?", [by.upper()]).fetchone()
    if row is None or not sees_days(row["role"]):
        raise Refused("A day sheet is for its own person, a foreman or owner to see. Ask one.")


def _clocks(
    db: sqlite3.Connection, calendar: Calendar, person: str, on: date, now: datetime
) -> tuple[DayClock, ...]:
    start, end = day_bounds(on, calendar.zone)
    rows = db.execute(
        "select clock.seq, clock.job, clock.phase, coalesce(phase.name, reason) as name, reason, "
        "part, since, until, breaks_worked, confirmed from clock "
        "left join phase on phase.job = clock.job and phase.phase = clock.phase "
        "where person = ? and since >= ? and since < ? order by since, clock.seq",
        [person, to_text(start), to_text(end)],
    )
    return tuple(
        DayClock(
            row["seq"], row["job"], row["phase"], row["name"], row["reason"], row["part"],
            from_text(row["since"]), from_text(row["until"]) if row["until"] else None,
            clock_labour_h(calendar, row["since"], row["until"], bool(row["breaks_worked"]), now),
            bool(row["confirmed"]),
            row["until"] is None and counts_to(calendar, from_text(row["since"]), now)[1],
        )
        for row in rows
    )  # fmt: skip


def _overruns(
    db: sqlite3.Connection, calendar: Calendar, person: str, on: date, now: datetime
) -> tuple[Overrun, ...]:
    """Phases finished that day over their cautious hours, of which nobody said why."""
    start, end = day_bounds(on, calendar.zone)
    rows = db.execute(
        "select job, phase, name, estimate_cautious_h as cautious_h, finished_at from phase "
        "where state = 'finished' and kind = 'labour' and note is null and finished_at >= ?1 "
        "and finished_at < ?2 and (job, phase) in (select job, phase from clock where person = ?3 "
        "and since >= ?4) order by finished_at",
        [to_text(start), to_text(end), person, to_text(start - LONGEST_PHASE)],
    ).fetchall()
    found = [(row, phase_labour_h(db, calendar, row["job"], row["phase"], now)) for row in rows]
    return tuple(
        Overrun(
            row["job"], row["phase"], row["name"], labour, row["cautious_h"],
            from_text(row["finished_at"]),
        )
        for row, labour in found
        if labour > row["cautious_h"]
    )  # fmt: skip


def _gaps(
    calendar: Calendar,
    present: list[tuple[datetime, datetime]],
    clocks: tuple[DayClock, ...],
    now: datetime,
) -> tuple[Hole, ...]:
    left = [(start, min(end, now)) for start, end in present if start < now]
    for one in clocks:
        left = without(left, one.since, one.until or now)
    return tuple(
        _gap(clocks, start, end)
        for start, end in left
        if (end - start).total_seconds() >= SMALLEST_GAP_S
    )


def _gap(clocks: tuple[DayClock, ...], start: datetime, end: datetime) -> Hole:
    """Between two clocks of one phase it was that phase; at the day's start the first one's."""
    before = [one for one in clocks if one.until is not None and one.until <= start]
    after = [one for one in clocks if one.since >= end]
    if before and after and before[-1].job and _where(before[-1]) == _where(after[0]):
        says = f"went on with {_where(after[0])}"
    elif not before and after:
        says = f"began {_where(after[0])} earlier"
    else:
        return Hole(start, end, "no job: say the reason")
    return Hole(start, end, says, after[0].job, after[0].phase, after[0].reason)


def _where(clock: DayClock) -> str:
    return clock.reason or f"{clock.job}.{clock.phase}"


def _overlaps(clocks: tuple[DayClock, ...]) -> tuple[Hole, ...]:
    return tuple(
        Hole(
            other.since, min(one.until, other.until or one.until), f"{_where(one)} ended then",
            ends=one.seq,
        )
        for one, other in pairwise(clocks)
        if one.until is not None and other.since < one.until
    )  # fmt: skip
