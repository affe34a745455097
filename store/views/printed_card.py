"""A job as it goes on paper to the lift: the card, and what the vehicle and the complaint are."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass
from datetime import datetime

from store.file.facts import calendar_of
from store.file.shop import Shop
from store.trouble import Refused
from store.views.job import job_card
from store.views.values import JobCard


@dataclass(frozen=True, slots=True)
class PrintedCard:
    """What a printed card says; no customer is on it.

    Attributes:
        vehicle: what identifies it, by name.
        people: badge and name of everybody who may work on it today.
        entry: the newest entry of the ledger that it knows.
    """

    shop: str
    card: JobCard
    complaint: str | None
    vehicle: tuple[tuple[str, str], ...]
    people: tuple[tuple[str, str], ...]
    entry: int


def printed_card(shop: Shop, job: str, now: datetime) -> PrintedCard:
    """Return what goes on paper of a job.

    Raises:
        Refused: no job has that number.
    """
    card = job_card(shop, job, now, names=False)  # it lies in the vehicle
    with shop.reading() as db:
        row = db.execute(
            "select complaint, plate, vin, engine, gearbox, mass_kg, vehicle.vehicle from job "
            "join vehicle using (vehicle) where job = ?",
            [job],
        ).fetchone()
        if row is None:
            raise Refused(f"There is no job {job}. See the numbers with `hoistbook floor`.")
        today = calendar_of(db).day_of(now).isoformat()
        people = db.execute(
            "select badge, name from person where from_day <= ? and "
            "(until_day is null or until_day >= ?) order by from_day, badge",
            [today, today],
        ).fetchall()
        name = db.execute("select name from shop").fetchone()[0]
        last = db.execute("select max(seq) from ledger").fetchone()[0]
        return PrintedCard(
            name, card, row["complaint"], _vehicle(db, row), tuple(map(tuple, people)), last
        )


def _vehicle(db: sqlite3.Connection, row: sqlite3.Row) -> tuple[tuple[str, str], ...]:
    odometer = db.execute(
        "select value, unit from odometer where vehicle = ? order by seq desc limit 1",
        [row["vehicle"]],
    ).fetchone()
    mass = "" if row["mass_kg"] is None else f"{row['mass_kg']:,.0f} kg"
    distance = "" if odometer is None else f"{odometer['value']:,.0f} {odometer['unit']}"
    known = (
        ("number plate", row["plate"]), ("VIN", row["vin"]), ("engine code", row["engine"]),
        ("gearbox code", row["gearbox"]), ("gross mass", mass), ("odometer", distance),
    )  # fmt: skip
    return tuple((name, str(value)) for name, value in known if value)
