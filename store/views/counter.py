"""What one needs at the counter before work is agreed: what is sold, to which vehicles, on what."""

from __future__ import annotations

import sqlite3
from collections import Counter as Tally
from dataclasses import dataclass, field
from datetime import datetime

from store.file.facts import setting
from store.file.shop import Shop
from store.rules.book import Option, WorkBook
from store.sums.working_time import Calendar
from store.views.floor import floor
from store.views.values import Finish, Lane

VEHICLES = 2000
"""Vehicles that are offered again: those that were here last."""


@dataclass(frozen=True, slots=True)
class SoldLine:
    """An operation of the work book, and what it asks of a vehicle."""

    code: str
    name: str
    options: tuple[Option, ...]


@dataclass(frozen=True, slots=True)
class FamilyLine:
    """A family that was here, in words as far as the book has them, in how many jobs."""

    key: str
    words: str
    jobs: int


@dataclass(frozen=True, slots=True)
class VehicleLine:
    """A vehicle that was here. Gross mass in kg, where it is known."""

    label: str
    plate: str
    family: str
    mass_kg: float | None


@dataclass(frozen=True, slots=True)
class LiftLine:
    """A lift, and when it may be free; `out` is finish of the job on it, None where free."""

    code: str
    kind: str
    rated_kg: float
    in_service: bool
    out_reason: str | None
    job: str | None
    out: Finish | None


@dataclass(frozen=True, slots=True)
class KitName:
    """A tool kit of the work book."""

    code: str
    name: str
    owned: bool


@dataclass(frozen=True, slots=True)
class Counter:
    """The counter at one look.

    Attributes:
        has_book: there is a work book to sell from.
        waiting: jobs that wait for a lift.
        small_h: usual hours of a small job.
        seq: the newest entry of the ledger: what is worked out may have moved with it.
    """

    shop: str
    zone: str
    at: datetime = field(compare=False)
    calendar: Calendar = field(compare=False)
    has_book: bool = False
    sold: tuple[SoldLine, ...] = ()
    families: tuple[FamilyLine, ...] = ()
    vehicles: tuple[VehicleLine, ...] = ()
    lifts: tuple[LiftLine, ...] = ()
    kits: tuple[KitName, ...] = ()
    waiting: int = 0
    small_h: float = 1.0
    seq: int = 0


def counter(shop: Shop, now: datetime) -> Counter:
    """Return what can be chosen at the counter.

    Raises:
        Trouble: the file cannot be read.
    """
    here = floor(shop, now)
    with shop.reading() as db:
        book = _book(db, here.calendar, now)
        return Counter(
            here.shop, str(here.calendar.zone), now, here.calendar, book is not None,
            () if book is None else tuple(
                SoldLine(one.code, one.name, one.options) for one in book.operations.values()
            ),
            _families(db, book), _vehicles(db), tuple(_lift(one) for one in here.lanes),
            () if book is None else tuple(KitName(k.code, k.name, k.owned) for k in book.kits),
            len(here.waiting), float(setting(db, "small job hours")),
            db.execute("select coalesce(max(seq), 0) from ledger").fetchone()[0],
        )  # fmt: skip


def in_words(book: WorkBook | None, family: str) -> str:
    """Return a family in the words of the book: `petrol four, manual, front driven`."""
    parts = family.split("-")
    if book is None or len(parts) != 3:
        return ""
    lists = (book.families.get(name, {}) for name in ("engine", "gearbox", "axles"))
    return ", ".join(words.get(part, part) for words, part in zip(lists, parts, strict=True))


def _book(db: sqlite3.Connection, calendar: Calendar, now: datetime) -> WorkBook | None:
    from store.file.books import NoBook, book_on  # brings models that no first paint may wait for

    try:
        return book_on(db, calendar.day_of(now))[1]
    except NoBook:
        return None


def _families(db: sqlite3.Connection, book: WorkBook | None) -> tuple[FamilyLine, ...]:
    """Those of all jobs, here and imported, the commonest first."""
    jobs: Tally[str] = Tally()
    for sql in (
        "select family, count(*) from job where family <> '' group by family",
        "select variant, count(distinct job) from past_phase group by variant",
    ):
        for family, many in db.execute(sql):
            jobs[family] += many
    return tuple(
        FamilyLine(family, in_words(book, family), many)
        for family, many in sorted(jobs.items(), key=lambda one: (-one[1], one[0]))
    )


def _vehicles(db: sqlite3.Connection) -> tuple[VehicleLine, ...]:
    rows = db.execute(
        "select job.vehicle, label, coalesce(plate, ''), vehicle.family, mass_kg from job "
        "cross join vehicle using (vehicle) order by number desc"
    )
    found: dict[str, VehicleLine] = {}
    while len(found) < VEHICLES and (row := rows.fetchone()) is not None:
        found.setdefault(row[0], VehicleLine(*row[1:]))
    rows.close()
    return tuple(found.values())


def _lift(lane: Lane) -> LiftLine:
    job = lane.job
    return LiftLine(
        lane.lift, lane.kind, lane.rated_kg, lane.in_service, lane.out_reason,
        job.number if job else None, job.finish if job else None,
    )  # fmt: skip
