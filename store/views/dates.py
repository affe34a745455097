"""Every date that the shop owes or is owed: for a calendar elsewhere. No customer's name in it."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from typing import Literal
from zoneinfo import ZoneInfo

from store.edges.instants import from_text
from store.file.facts import calendar_of
from store.file.shop import Shop
from store.rules.lift_fit import Inspection
from store.sums.working_time import at_zone
from store.views.dates_of_kits import alarms_of, kit_dates
from store.views.follow_ups import ROWS, told

Kind = Literal[
    "promise", "arrival", "inspection", "follow-up", "hire", "delivery", "calibration", "outwork",
    "chase",
]  # fmt: skip
LIVE = "state not in ('closed', 'declined', 'turned-away')"
BEFORE: dict[Kind, timedelta] = {"promise": timedelta(hours=2)}
"""So long before its time a calendar speaks up."""


@dataclass(frozen=True, slots=True)
class Dated:
    """One date.

    Attributes:
        thing: names it for ever within the shop.
        when: an instant in UTC, or a local day.
        alarm: so long before; None stays silent.
        alarms: more of them, so long before or at an instant.
        sequence: how often it was moved or changed since it was first said.
        cancelled: it is not so any more.
    """

    kind: Kind
    thing: str
    when: datetime | date
    title: str
    note: str = ""
    alarm: timedelta | None = None
    alarms: tuple[timedelta | datetime, ...] = ()
    sequence: int = 0
    cancelled: bool = False


@dataclass(frozen=True, slots=True)
class Dates:
    """All of them, in the order of time. `shop` is the shop's own id."""

    shop: str
    name: str
    at: datetime = field(compare=False)
    dates: tuple[Dated, ...] = ()


def dates(shop: Shop, now: datetime) -> Dates:
    """Return promises, arrivals, inspections, follow-ups, hires and outwork that are to come.

    Raises:
        Trouble: the file cannot be read.
    """
    with shop.reading() as db:
        row = db.execute("select shop, name from shop").fetchone()
        found = [
            *_promises(db), *_arrivals(db), *_inspections(db), *_follow_ups(db, now),
            *_kits(db, now), *_outwork(db),
        ]  # fmt: skip
        zone = calendar_of(db).zone
    found.sort(key=lambda one: (_place(one, zone), one.thing))
    return Dates(row["shop"], row["name"], now, tuple(found))


def _place(one: Dated, zone: ZoneInfo) -> datetime:
    """Where it stands in the order: a day before its instants."""
    return one.when if isinstance(one.when, datetime) else at_zone(one.when, time(), zone)


def _promises(db: sqlite3.Connection) -> Iterator[Dated]:
    for row in db.execute(
        f"select job, promise, label, work from job join vehicle using (vehicle) where {LIVE} "
        "and promise is not null"
    ):
        yield Dated(
            "promise", f"promise-{row['job']}", from_text(row["promise"]),
            f"{row['job']} promised: {row['label']}", row["work"], BEFORE["promise"],
        )  # fmt: skip


def _arrivals(db: sqlite3.Connection) -> Iterator[Dated]:
    for row in db.execute(
        "select job, arrives, label, work from job join vehicle using (vehicle) "
        f"where {LIVE} and state = 'booked' and arrives is not null and arrived_at is null"
    ):
        yield Dated(
            "arrival", f"arrival-{row['job']}", date.fromisoformat(row["arrives"]),
            f"{row['job']} comes: {row['label']}", row["work"],
        )  # fmt: skip


def _inspections(db: sqlite3.Connection) -> Iterator[Dated]:
    for row in db.execute(
        "select place, code, inspected, months, interval_source from place "
        "where kind = 'lift' and inspected is not null"
    ):
        last = date.fromisoformat(row["inspected"])
        due = Inspection(last, row["months"], row["interval_source"]).due
        yield Dated(
            "inspection", f"inspection-{row['place']}-{due}", due,
            f"Lift {row['code']}: inspection due", row["interval_source"],
        )  # fmt: skip


def _follow_ups(db: sqlite3.Connection, now: datetime) -> Iterator[Dated]:
    calendar = calendar_of(db)
    rows = db.execute(ROWS + "where follow_up.state = 'open'").fetchall()
    for one in told(db, calendar, rows, calendar.day_of(now), names=False):
        if one.due is not None:
            yield Dated(
                "follow-up", f"follow-up-{one.job}-{one.line}", one.due,
                f"{one.job} {one.what}", f"{one.vehicle}; {one.who}",
            )  # fmt: skip


def _kits(db: sqlite3.Connection, now: datetime) -> Iterator[Dated]:
    """Kits that come, go back or run out of date, with the alarms of those that go back."""
    calendar = calendar_of(db)
    for one in kit_dates(db, now):
        yield Dated(
            one.kind, one.thing, one.when, one.title, one.note,
            alarms=alarms_of(one, calendar), sequence=one.sequence, cancelled=one.cancelled,
        )  # fmt: skip


def _outwork(db: sqlite3.Connection) -> Iterator[Dated]:
    for row in db.execute(
        "select seq, job, phase, what, firm, promised_now, chase from outwork where back_at is null"
    ):
        where = f"{row['job']}.{row['phase']}"
        if row["promised_now"]:
            yield Dated(
                "outwork", f"outwork-{row['seq']}", from_text(row["promised_now"]),
                f"{where} back from {row['firm']}", row["what"],
            )  # fmt: skip
        if row["chase"]:
            yield Dated(
                "chase", f"chase-{row['seq']}", date.fromisoformat(row["chase"]),
                f"{where} ask {row['firm']} how far it is", row["what"],
            )  # fmt: skip
