"""The desk at one look: what is asked, booked, here, quoted and waits, and what lately ended."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from store.edges.instants import from_text, to_text
from store.file.facts import calendar_of
from store.file.kits.now import LIVE
from store.file.shop import Shop
from store.views.desk.check import Checks, Stage, checks_of, next_step
from store.views.desk.told import a_day, marks, maybe, quotes_of
from store.views.desk.values import Desk, DeskRow, QuoteNow

STATES = ("enquiry", "booked", "arrived", "quoted", "waiting")
"""In the order of a job's life."""
GONE = ("declined", "turned-away")
LATELY = timedelta(days=30)
MOST_GONE = 60
ROW = (
    "select job.*, vehicle.label, vehicle.plate, vehicle.vin, place.code as code, "
    "customer_private.name as customer_name, telephone, comeback.of as comeback_of, "
    "(select max(at) from booking where booking.job = job.job) as booked_at, "
    "(select max(at) from quote where quote.job = job.job and not rough) as quoted_at, "
    "ended.seq as ended, ended.happened_at as ended_at, ended.payload ->> '$.why' as why "
    "from job join vehicle using (vehicle) "
    "left join ledger as ended on ended.seq = gone_seq "
    "left join job_place on job_place.job = job.job and part = 'body' "
    "left join place using (place) "
    "left join customer_private on customer_private.customer = job.customer "
    "left join comeback on comeback.job = job.job where {}"
)


@dataclass(frozen=True, slots=True)
class _Look:
    """What one look has read for all rows."""

    db: sqlite3.Connection
    today: date
    quotes: Mapping[str, list[QuoteNow]]
    checks: Checks
    names: bool


def desk(shop: Shop, now: datetime, *, names: bool = False) -> Desk:
    """Return everything that is not on its way through the workshop yet.

    Args:
        names: with names and telephone numbers of customers: whoever looks may see them
            (`store.rules.roles.sees_customers`).

    Raises:
        Trouble: the file cannot be read.
    """
    with shop.reading() as db:
        calendar = calendar_of(db)
        live = _live(db)
        gone = _gone(db, now)
        jobs = [row["job"] for row in (*live, *gone)]
        look = _Look(
            db, calendar.day_of(now), quotes_of(db, jobs), checks_of(db, calendar, jobs, now), names
        )
        rows = sorted((_row(look, row) for row in live), key=_order)
        return Desk(
            at=now, calendar=calendar,
            currency=db.execute("select currency from shop").fetchone()[0],
            rows=tuple(rows), gone=tuple(_row(look, row) for row in gone),
        )  # fmt: skip


def _live(db: sqlite3.Connection) -> list[sqlite3.Row]:
    where = f"job.{LIVE} and job.state in ({marks(STATES)})"
    return db.execute(ROW.format(where), list(STATES)).fetchall()


def _gone(db: sqlite3.Connection, now: datetime) -> list[sqlite3.Row]:
    """What ended without work in the last month, newest first."""
    where = "job.state in ('declined', 'turned-away') order by gone_seq desc limit ?"
    rows = db.execute(ROW.format(where), [MOST_GONE]).fetchall()
    since = to_text(now - LATELY)
    return [row for row in rows if row["ended_at"] >= since]


def _order(row: DeskRow) -> tuple[int, str, datetime, str]:
    day = row.arrives.isoformat() if row.arrives and row.state == "booked" else ""
    return STATES.index(row.state), day, row.since, row.number


def _row(look: _Look, row: sqlite3.Row) -> DeskRow:
    quotes = look.quotes.get(row["job"], [])
    quote = quotes[-1] if quotes else None
    check = look.checks.of(look.db, row)
    here = row["arrived_at"] is not None or row["code"] is not None
    operations = tuple(json.loads(row["operations"]))
    chosen = bool(row["small"] or (operations and row["family"]))
    over = row["state"] in GONE
    arrives = a_day(row["arrives"])
    step, late = ("", False) if over else next_step(
        Stage(row["state"], chosen, arrives, here, check, quote, look.today)
    )  # fmt: skip
    return DeskRow(
        number=row["job"], vehicle=row["label"], plate=row["plate"], vin=row["vin"],
        work=row["work"], complaint=row["complaint"], operations=operations,
        family=row["family"], options=tuple(sorted(json.loads(row["options"]).items())),
        grade=row["grade"], small=bool(row["small"]), state=row["state"],
        since=from_text(row["ended_at"]) if over else _since(row),
        arrives=arrives, arrived_at=maybe(row["arrived_at"]), next=step, late=late, check=check,
        quote=quote, promise=maybe(row["promise"]), place=row["code"],
        customer=row["customer_name"] if look.names else None,
        telephone=(row["telephone"] or None) if look.names else None,
        comeback_of=row["comeback_of"], why=row["why"] if over else None,
    )  # fmt: skip


def _since(row: sqlite3.Row) -> datetime:
    at = {
        "booked": row["booked_at"], "arrived": row["arrived_at"], "quoted": row["quoted_at"],
        "waiting": row["queue_at"],
    }.get(row["state"])  # fmt: skip
    return from_text(at or row["opened_at"])


def sees_names(shop: Shop, badge: str | None) -> bool:
    """Tell whether a badge is shown the names of customers; nobody's is not."""
    from store.rules.roles import sees_customers

    if badge is None:
        return False
    with shop.reading() as db:
        row = db.execute("select role from person where badge = ?", [badge.upper()]).fetchone()
    return row is not None and sees_customers(row["role"])
