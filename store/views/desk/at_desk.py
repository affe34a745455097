"""One job that nobody has agreed to yet, as the forms of the desk and the intake need it."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime

from store.edges.instants import from_text
from store.file.facts import calendar_of
from store.file.privates import customer_of
from store.file.shop import Shop
from store.trouble import Refused
from store.views.desk.told import quotes_of
from store.views.desk.values import QuoteNow

COMES_BACK_DAYS = 365
"""So long after a job was closed the same trouble may be a comeback. Common practice, no source:
the shop's warranty is usually a year."""


@dataclass(frozen=True, slots=True)
class VehicleFacts:
    """What is known of a vehicle. Gross mass in kg.

    Attributes:
        odometer: the last that was read, its unit, and when.
    """

    label: str
    family: str
    vin: str | None
    plate: str | None
    engine: str | None
    gearbox: str | None
    mass_kg: float | None
    odometer: tuple[float, str, datetime] | None


@dataclass(frozen=True, slots=True)
class VisitLine:
    """A job before on the same vehicle. `fresh`: closed so lately that it may come back."""

    job: str
    work: str
    state: str
    closed: date | None
    fresh: bool


@dataclass(frozen=True, slots=True)
class AskedAhead:
    """A decision of the route that may be answered before it is asked, with its answers."""

    about: str
    answers: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class AtDesk:
    """One job before it is agreed.

    Attributes:
        operations: code and name of each.
        customer: name and telephone; None where nobody is known, or whoever asks may not see.
        here: the vehicle is in the house.
        before: jobs before on this vehicle, the newest first.
        ahead: what of its route can be agreed to before it turns up.
    """

    job: str
    state: str
    at: datetime = field(compare=False)
    zone: str
    vehicle: VehicleFacts
    operations: tuple[tuple[str, str], ...]
    family: str
    options: Mapping[str, str]
    grade: int
    complaint: str | None
    customer: tuple[str, str] | None
    here: bool
    check: str | None
    basis: str | None
    quote: QuoteNow | None
    before: tuple[VisitLine, ...]
    ahead: tuple[AskedAhead, ...] = ()


def at_desk(shop: Shop, job: str, now: datetime, *, customers: bool) -> AtDesk:
    """Return one job with its vehicle, what was quoted for it, and what came before.

    Args:
        customers: whoever asks may see names of customers; see `rules.roles.sees_customers`.

    Raises:
        Refused: no job has that number.
    """
    with shop.reading() as db:
        row = db.execute("select * from job where job = ?", [job]).fetchone()
        if row is None:
            raise Refused(f"There is no job {job}. See the numbers with `hoistbook floor`.")
        calendar = calendar_of(db)
        codes = tuple(json.loads(row["operations"]))
        options: dict[str, str] = json.loads(row["options"])
        known = customer_of(db, job) if customers else None
        names, ahead = _from_book(db, codes, row, options, calendar.day_of(now))
        return AtDesk(
            job, row["state"], now, str(calendar.zone),
            _vehicle(db, row["vehicle"]), names, row["family"], options,
            row["grade"], row["complaint"],
            (known.name, known.telephone or "") if known and known.name is not None else None,
            row["arrived_at"] is not None or row["in_at"] is not None, row["check_result"],
            row["basis"], _quote(db, job),
            visits(db, row["vehicle"], calendar.day_of(now), but=job), ahead,
        )  # fmt: skip


def seen_before(
    shop: Shop, text: str, now: datetime
) -> tuple[VehicleFacts, tuple[VisitLine, ...]] | None:
    """Return the vehicle that a plate, VIN or name means, and its jobs; None for a new one."""
    with shop.reading() as db:
        row = db.execute(
            "select vehicle from vehicle where lower(plate) = lower(?1) or lower(vin) = lower(?1) "
            "or lower(label) = lower(?1) order by plate is null, vehicle limit 1",
            [text.strip()],
        ).fetchone()
        if row is None:
            return None
        found = visits(db, row[0], calendar_of(db).day_of(now))
        return (_vehicle(db, row[0]), found) if found else None


def calls_due(shop: Shop) -> dict[str, datetime]:
    """Return when to try a customer again, by job, as the newest try to reach them left it."""
    with shop.reading() as db:
        rows = db.execute(
            "select job, again from call where not withdrawn and seq in "
            "(select max(seq) from call where not withdrawn group by job) and again is not null"
        )
        return {row["job"]: from_text(row["again"]) for row in rows}


def visits(
    db: sqlite3.Connection, vehicle: str, today: date, *, but: str = ""
) -> tuple[VisitLine, ...]:
    """Return the jobs of a vehicle, the newest first, but the one named."""
    calendar = calendar_of(db)
    found: list[VisitLine] = []
    for row in db.execute(
        "select job, work, state, closed_at from job where vehicle = ? and job <> ? "
        "order by number desc",
        [vehicle, but],
    ):
        closed = calendar.day_of(from_text(row["closed_at"])) if row["closed_at"] else None
        fresh = (
            closed is not None and row["state"] == "closed"
            and (today - closed).days <= COMES_BACK_DAYS
        )  # fmt: skip
        found.append(VisitLine(row["job"], row["work"], row["state"], closed, fresh))
    return tuple(found)


def _vehicle(db: sqlite3.Connection, vehicle: str) -> VehicleFacts:
    row = db.execute(
        "select label, family, vin, plate, engine, gearbox, mass_kg from vehicle where vehicle = ?",
        [vehicle],
    ).fetchone()
    read = db.execute(
        "select value, unit, at from odometer where vehicle = ? order by seq desc limit 1",
        [vehicle],
    ).fetchone()
    return VehicleFacts(
        row["label"], row["family"], row["vin"], row["plate"], row["engine"],
        row["gearbox"], row["mass_kg"],
        None if read is None else (read["value"], read["unit"], from_text(read["at"])),
    )  # fmt: skip


def _quote(db: sqlite3.Connection, job: str) -> QuoteNow | None:
    """The newest that waits for an answer."""
    waits = [one for one in quotes_of(db, [job])[job] if one.state in ("open", "thinking")]
    return waits[-1] if waits else None


def _from_book(
    db: sqlite3.Connection, codes: tuple[str, ...], row: sqlite3.Row, options: dict[str, str],
    day: date,
) -> tuple[tuple[tuple[str, str], ...], tuple[AskedAhead, ...]]:  # fmt: skip
    """Names of the operations, and the decisions of their route that nobody has answered."""
    from store.file.books import NoBook, book_on  # brings models that no first paint may wait for
    from store.rules.forks import questions
    from store.rules.routes import lay

    if not codes:
        return (), ()
    try:
        book = book_on(db, day)[1]
        names = tuple(
            (code, book.operations[code].name if code in book.operations else code)
            for code in codes
        )
        route = lay(
            book, operations=codes, family=row["family"], options=options, grade=row["grade"]
        )
    except (NoBook, Refused):
        return tuple((code, code) for code in codes), ()
    laid = {one[0] for one in db.execute("select code from phase where job = ?", [row["job"]])}
    asked = {
        one.text: tuple(answer.text for answer in one.answers if not answer.ends)
        for one in questions(route, options)
        if one.phase not in laid  # the check asks that before anything is agreed
    }
    return names, tuple(AskedAhead(*one) for one in asked.items() if len(one[1]) > 1)
