"""A day from paper: all its clocks at once, each by the rules of a clock that is entered alone."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime

from store.actions.acting import Acting, Done, Person, acting, person_by
from store.actions.clock_where import Where, begun_by
from store.actions.day_sheet import confirm_clocks, refuse_off_roll, refuse_times
from store.actions.words import clock_time, hours_words
from store.edges.events.base import Part
from store.edges.events.labour import ClockEntered
from store.edges.instants import from_text, to_text
from store.file.change import By
from store.file.labour import clock_labour_h
from store.file.shop import Shop
from store.sums.clock_labour import counts_to
from store.trouble import Refused

MOST = 60
"""Rows of one day: more is no day."""


@dataclass(frozen=True, slots=True)
class PaperRow:
    """One line of a day as it stands on paper: what it was on, from when to when.

    Attributes:
        number: by which a refusal names it; 0 has rows counted from 1.
    """

    where: Where
    since: datetime
    until: datetime
    number: int = 0


@dataclass(frozen=True, slots=True)
class PaperDay:
    """One person's day on paper; `badge` None is whoever enters it."""

    badge: str | None
    day: date
    rows: Sequence[PaperRow]


@dataclass(frozen=True, slots=True)
class RowFault:
    """Why a row cannot be written."""

    row: int
    says: str


class BadRows(Refused):
    """Some rows cannot be; nothing of the day was written. `faults` has them all."""

    def __init__(self, faults: Sequence[RowFault]) -> None:
        self.faults = tuple(faults)
        super().__init__("  ".join(f"Row {one.row}: {one.says}" for one in faults))


class _Tried(Exception):
    """The rows were gone through; all of it is given back."""


def enter_day(
    shop: Shop,
    by: By,
    *,
    badge: str | None,
    day: date,
    rows: Sequence[PaperRow],
    confirm: bool = False,
) -> Done:
    """Enter a person's day from paper: every row, or nothing.

    Args:
        badge: whose day; None is the actor's own.
        rows: in any order.
        confirm: the day is confirmed with it.

    Raises:
        as `enter_days`.
    """
    return enter_days(shop, by, days=[PaperDay(badge, day, rows)], confirm=confirm)


def enter_days(
    shop: Shop, by: By, *, days: Sequence[PaperDay], confirm: bool = False
) -> Done:  # fmt: skip
    """Enter days of one or more people from paper, all of them or nothing.

    Raises:
        UnknownBadge: nobody has that badge.
        MayNot: somebody else's day without being foreman.
        BadRows: some rows cannot be; each is named with why.
        Refused: there is no row, or a day is confirmed already.
    """
    with acting(shop, by) as doing:
        people = [_whose(doing, one.badge) for one in days]
        for person in people:
            _refuse_who_may_not(doing, person, confirm=confirm)
        faults = [
            fault for person, one in zip(people, days, strict=True)
            for fault in _write(doing, person, one.day, one.rows)
        ]  # fmt: skip
        if faults:
            raise BadRows(faults)
        said = [_said(doing, person, one) for person, one in zip(people, days, strict=True)]
        if confirm:
            for person, one in zip(people, days, strict=True):
                confirm_clocks(doing, person, one.day)
        return doing.done(f"{'; '.join(said)} entered from paper{_confirmed(days, confirm)}.")


def check_days(shop: Shop, by: By, *, days: Sequence[PaperDay]) -> tuple[RowFault, ...]:
    """What would be refused of these rows; they are gone through and given back.

    Who may do it is asked when it is done: a PIN is typed once, at the end.

    Raises:
        UnknownBadge: nobody has that badge.
        Refused: there is no row, or a day is confirmed already.
    """
    faults: list[RowFault] = []
    try:
        with acting(shop, by) as doing:
            for one in days:
                faults += _write(doing, _whose(doing, one.badge), one.day, one.rows)
            raise _Tried
    except _Tried:
        return tuple(faults)


def _refuse_who_may_not(doing: Acting, person: Person, *, confirm: bool) -> None:
    own = person.person == doing.person.person
    doing.may("enter clock" if own else "enter day from paper")
    if confirm:
        doing.may("confirm own day" if own else "confirm another's day")


def _said(doing: Acting, person: Person, one: PaperDay) -> str:
    total = sum(
        clock_labour_h(doing.calendar, to_text(row.since), to_text(row.until), False, doing.now)
        for row in one.rows
    )
    many = len(one.rows)
    rows = f"{many} row{'s' if many != 1 else ''}"
    return f"{person.name}'s {one.day}, {rows}, {hours_words(total)}"


def _confirmed(days: Sequence[PaperDay], confirm: bool) -> str:
    if not confirm:
        return ""
    return " and confirmed" if len(days) == 1 else "; the days are confirmed"


def _whose(doing: Acting, badge: str | None) -> Person:
    return doing.person if badge is None else person_by(doing.db, badge)


def _write(
    doing: Acting, person: Person, day: date, rows: Sequence[PaperRow]
) -> list[RowFault]:  # fmt: skip
    """Record each row that can be, the earliest first; return why the others cannot."""
    if not rows:
        raise Refused("No row was typed: there is nothing to write.")
    if len(rows) > MOST:
        raise Refused(f"A day has {MOST} rows at most, and these are {len(rows)}.")
    _refuse_confirmed(doing, person, day)
    faults: list[RowFault] = []
    numbered = [(row.number or n, row) for n, row in enumerate(rows, 1)]
    for n, row in sorted(numbered, key=lambda one: (to_text(one[1].since), one[0])):
        try:
            _one(doing, person, day, row)
        except Refused as refused:
            faults.append(RowFault(n, str(refused)))
    return sorted(faults, key=lambda one: one.row)


def _refuse_confirmed(doing: Acting, person: Person, day: date) -> None:
    said = doing.db.execute(
        "select 1 from day_confirmed where person = ? and day = ?", [person.person, day.isoformat()]
    ).fetchone()
    if said is not None:
        raise Refused(
            f"{person.name}'s {day} is confirmed already. A foreman puts its clocks right one by "
            f"one: hoistbook day {person.badge} --date {day} shows them."
        )


def _one(doing: Acting, person: Person, day: date, row: PaperRow) -> None:
    since, until = to_text(row.since), to_text(row.until)
    refuse_times(doing, since, until)
    if doing.calendar.day_of(row.since) != day:
        raise Refused(f"It begins on another day than {day}. Give it to that day.")
    refuse_off_roll(doing, person, since)
    part = _part(doing, person, row.where, since, until)
    begins = begun_by(doing, person, row.where, part, None, since, until)
    _refuse_overlap(doing, person, since, until)
    doing.record(
        ClockEntered.model_validate(
            {
                "person": person.person, "job": row.where.job, "phase": row.where.phase,
                "reason": row.where.reason, "part": part, "since": since, "until": until,
                "breaks_worked": False, "why": "from paper", **begins,
            }
        ),
        happened_at=since,
    )  # fmt: skip


def _part(doing: Acting, person: Person, where: Where, since: str, until: str) -> Part:
    """Lead, or helper where somebody else led that phase at the time."""
    led = doing.db.execute(
        "select 1 from clock where job = ? and phase = ? and part = 'lead' and person <> ? "
        "and since < ? and (until is null or until > ?) limit 1",
        [where.job, where.phase, person.person, until, since],
    ).fetchone()
    return "helper" if led else "lead"


def _refuse_overlap(doing: Acting, person: Person, since: str, until: str) -> None:
    found = doing.db.execute(
        "select coalesce(job || '.' || phase, reason) as place, since, until from clock "
        "where person = ? and since < ? and (until is null or until > ?) order by since limit 1",
        [person.person, until, since],
    ).fetchone()
    if found is None:
        return
    began = clock_time(from_text(found["since"]), doing.calendar)
    if found["until"] is None:
        end, _ = counts_to(doing.calendar, from_text(found["since"]), doing.at)
        if to_text(end) <= since:
            return  # it was left running, and counts no farther
        raise Refused(
            f"{person.name}'s clock on {found['place']} runs since {began}. Stop it first."
        )
    ended = clock_time(from_text(found["until"]), doing.calendar)
    raise Refused(
        f"It overlaps {found['place']}, {began} to {ended}: nobody is in two places. Give other "
        "times."
    )
