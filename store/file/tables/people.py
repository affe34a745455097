"""People of the shop, and customers by their id only."""

from __future__ import annotations

import sqlite3

from store.edges.events.jobs import CustomerErased, CustomerKnown
from store.edges.events.people import (
    AbsenceSet,
    AttendanceCorrected,
    DayConfirmed,
    PersonAdded,
    PersonChanged,
    PinSet,
    Qualified,
)
from store.file.ledger import Row
from store.file.tables.applying import applies


@applies(PersonAdded)
def added(db: sqlite3.Connection, row: Row, event: PersonAdded) -> None:
    db.execute(
        "insert into person values (?, ?, ?, ?, ?, ?, ?, null, null)",
        (event.person, event.badge, event.name, event.role, event.experience, event.from_day,
         event.until_day),
    )  # fmt: skip
    _since(db, event, event.from_day)
    # The shop's first person adds themselves: their first act is an entry of theirs.
    db.execute(
        "update entry set person = ? where person is null and seq = "
        "(select max(seq) from entry) and ? = ?",
        (event.person, event.badge, row.badge),
    )


@applies(PersonChanged)
def changed(db: sqlite3.Connection, row: Row, event: PersonChanged) -> None:
    db.execute(
        "update person set badge = ?, name = ?, role = ?, experience = ?, from_day = ?, "
        "until_day = ? where person = ?",
        (event.badge, event.name, event.role, event.experience, event.from_day, event.until_day,
         event.person),
    )  # fmt: skip
    _since(db, event, event.since)


def _since(db: sqlite3.Connection, event: PersonAdded, day: str) -> None:
    db.execute(
        "insert into person_since values (?, ?, ?, ?) on conflict (person, from_day) do update set "
        "role = excluded.role, experience = excluded.experience",
        (event.person, day, event.role, event.experience),
    )


@applies(PinSet)
def pin_set(db: sqlite3.Connection, row: Row, event: PinSet) -> None:
    db.execute(
        "update person set pin_check = ?, pin_seq = ? where person = ?",
        (event.check, row.seq, event.person),
    )


@applies(Qualified)
def qualified(db: sqlite3.Connection, row: Row, event: Qualified) -> None:
    db.execute(
        "insert into qualification values (?, ?, ?) "
        "on conflict (person, what) do update set until = excluded.until",
        (event.person, event.what, event.until),
    )


@applies(AbsenceSet)
def absent(db: sqlite3.Connection, row: Row, event: AbsenceSet) -> None:
    db.execute(
        "insert into absence (person, since, until, why, seq) values (?, ?, ?, ?, ?)",
        (event.person, event.since, event.until, event.why, row.seq),
    )


@applies(AttendanceCorrected)
def attendance(db: sqlite3.Connection, row: Row, event: AttendanceCorrected) -> None:
    db.execute(
        "insert into attendance values (?, ?, ?) "
        "on conflict (person, day) do update set hours = excluded.hours",
        (event.person, event.day, event.hours),
    )


@applies(DayConfirmed)
def day_confirmed(db: sqlite3.Connection, row: Row, event: DayConfirmed) -> None:
    db.execute(
        "insert into day_confirmed values "
        "(?, ?, ?, (select person from person where badge = ?)) "
        "on conflict (person, day) do update set at = excluded.at, by = excluded.by",
        (event.person, event.day, row.happened_at, row.badge),
    )
    db.executemany(
        "update clock set confirmed = 1 where seq = ?", [(clock,) for clock in event.clocks]
    )


@applies(CustomerKnown)
def customer(db: sqlite3.Connection, row: Row, event: CustomerKnown) -> None:
    db.execute("insert into customer values (?, null)", (event.customer,))


@applies(CustomerErased)
def erased(db: sqlite3.Connection, row: Row, event: CustomerErased) -> None:
    db.execute(
        "update customer set erased_at = ? where customer = ?", (row.happened_at, event.customer)
    )
