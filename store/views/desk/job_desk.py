"""What the desk knows of one job: identity, arrival, check, quotes, the customer's word."""

from __future__ import annotations

import sqlite3
from datetime import datetime

from store.file.privates import customer_of
from store.sums.working_time import Calendar
from store.views.desk.check import checks_of
from store.views.desk.told import a_day, agreement_of, comebacks_of, maybe, quotes_of
from store.views.desk.values import JobDesk

HEAD = (
    "select job.*, vin, plate, engine, gearbox from job join vehicle using (vehicle) where job = ?"
)
ARRIVAL = "select lamps, photographs from arrival where job = ? order by seq desc limit 1"
ODOMETER = (
    "select value, unit from odometer join job using (vehicle) where job = ? "
    "order by odometer.seq desc limit 1"
)


def job_desk(db: sqlite3.Connection, calendar: Calendar, job: str, now: datetime) -> JobDesk:
    """Return what the desk knows of a job that is there."""
    row = db.execute(HEAD, [job]).fetchone()
    arrival = db.execute(ARRIVAL, [job]).fetchone()
    odometer = db.execute(ODOMETER, [job]).fetchone()
    links = comebacks_of(db, calendar, [job], now)
    customer = customer_of(db, job)
    return JobDesk(
        arrives=a_day(row["arrives"]), arrived_at=maybe(row["arrived_at"]),
        lamps=arrival["lamps"] if arrival else None,
        photographs=arrival["photographs"] if arrival else None,
        complaint=row["complaint"],
        odometer=(odometer["value"], odometer["unit"]) if odometer else None,
        vin=row["vin"], plate=row["plate"], engine=row["engine"], gearbox=row["gearbox"],
        check=checks_of(db, calendar, [job], now).of(db, row),
        quotes=tuple(quotes_of(db, [job]).get(job, ())), agreement=agreement_of(db, job),
        comeback_of=next((one for one in links if one.job == job), None),
        comebacks=tuple(one for one in links if one.of == job),
        customer=customer.name if customer else None,
        telephone=(customer.telephone or None) if customer else None,
    )  # fmt: skip
