"""The record that goes with the vehicle: everything that one asks in the years after."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass
from datetime import datetime

from store.edges.instants import from_text
from store.file.facts import calendar_of
from store.file.shop import Shop
from store.file.still_open import still_open
from store.trouble import Refused
from store.views.desk.told import comebacks_of
from store.views.follow_ups import follow_ups_of
from store.views.job import card_of
from store.views.job_told import entries_of, findings, with_reasons
from store.views.people_now import people_now
from store.views.record import told as record_told
from store.views.record import work as record_work
from store.views.record.values import Checked, Record, RecordVehicle

ROW = (
    "select job.*, label, vin, plate, engine, gearbox from job "
    "join vehicle on vehicle.vehicle = job.vehicle where job = ?"
)


@dataclass(frozen=True, slots=True)
class _Reader:
    """What a reader gets: names of people outside the shop, and hours with money."""

    names: bool
    hours: bool


def record(
    shop: Shop, job: str, now: datetime, *, names: bool = False, hours: bool = False
) -> Record:
    """Return the record of a job, finished or not.

    Args:
        names: with the names of people outside the shop: whoever reads may see them.
        hours: with labour hours and money.

    Raises:
        Refused: no job has that number.
    """
    with shop.reading() as db:
        row = db.execute(ROW, [job]).fetchone()
        if row is None:
            raise Refused(f"There is no job {job}. See the numbers with `hoistbook floor`.")
        return _record(db, row, now, _Reader(names, hours))


def _record(db: sqlite3.Connection, row: sqlite3.Row, now: datetime, reader: _Reader) -> Record:
    job, calendar = row["job"], calendar_of(db)
    card, told = card_of(db, job, now, people_now(db, now)), entries_of(db, job)
    phases, names = with_reasons(card.phases, told), reader.names
    handed = record_told.handed(db, calendar, job, names=names)
    links = comebacks_of(db, calendar, [job], now)
    shop = db.execute("select name, currency from shop").fetchone()
    over = handed is not None or row["closed_at"] is not None
    return Record(
        shop=shop["name"], job=job, at=now, zone=str(calendar.zone), currency=shop["currency"],
        state=row["state"], work=row["work"], came=from_text(row["arrived_at"] or row["opened_at"]),
        went=handed.at if handed else _at(row["closed_at"]), vehicle=_vehicle(db, row),
        grade=row["grade"], customer=record_told.customer_name(db, job, names=names),
        complaint=row["complaint"], lamps=_lamps(db, job), check=_check(row),
        agreed=record_told.agreed(db, job, names=names, money=reader.hours),
        extras=record_told.extra_work(db, job, names=names, money=reader.hours),
        done=record_work.work_done(db, job, phases, hours=reader.hours),
        ways=record_work.ways_taken(phases, findings(db, job, told)),
        points=record_work.points(db, job, phases, row["version"]),
        parts=record_told.parts_used(db, job), outwork=record_told.outwork(db, job),
        advice=record_told.advice(db, job, names=names), handed=handed,
        follow_ups=follow_ups_of(db, job, now), last_check=record_told.last_check(db, job),
        comeback_of=next((one for one in links if one.job == job), None),
        comebacks=tuple(one for one in links if one.of == job),
        open=() if over else tuple(still_open(db, job, now)),
        labour_h=sum(one.labour_h for one in phases) if reader.hours else None,
        book=row["version"],
    )  # fmt: skip


def _at(text: str | None) -> datetime | None:
    return from_text(text) if text else None


def _vehicle(db: sqlite3.Connection, row: sqlite3.Row) -> RecordVehicle:
    read = db.execute(
        "select value, unit, at from odometer where vehicle = ? and at >= ? "
        "and (? is null or at <= ?) order by seq",
        [row["vehicle"], row["opened_at"], row["closed_at"], row["closed_at"]],
    ).fetchall()
    closed = row["closed_at"]
    came = [(one["value"], one["unit"]) for one in read if closed is None or one["at"] < closed]
    went = [(one["value"], one["unit"]) for one in read if one["at"] == closed]
    first, last = (came[0] if came else None), (went[-1] if went else None)
    return RecordVehicle(
        row["label"], row["vin"], row["plate"], row["engine"], row["gearbox"], first, last
    )


def _lamps(db: sqlite3.Connection, job: str) -> str | None:
    row = db.execute(
        "select lamps from arrival where job = ? order by seq desc limit 1", [job]
    ).fetchone()
    return row["lamps"] if row else None


def _check(row: sqlite3.Row) -> Checked | None:
    if row["check_result"] is None:
        return None
    return Checked(row["check_result"], _at(row["checked_at"]), (), row["check_text"])
