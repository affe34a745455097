"""What is to be done in the months after the jobs, by date, what is overdue first."""

from __future__ import annotations

import sqlite3
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime

from store.edges.instants import from_text
from store.file.facts import calendar_of
from store.file.shop import Shop
from store.rules.odometer import in_unit
from store.sums.follow_up_days import Seen, falls_due
from store.sums.working_time import Calendar


@dataclass(frozen=True, slots=True)
class FollowUp:
    """One thing to be done after a job.

    Attributes:
        due: the local day on which it falls due: its day, or the one on which its distance is
            likely to be driven, whichever is first.
        day, distance: as they were set; the distance on the odometer, in its unit.
        since: local day from which it is counted; `counted_from` what that was.
        driven: the newest odometer reading; None where there is none.
        customer, telephone: only where whoever looks may see them.
        state: open, done or dropped.
    """

    job: str
    line: int
    vehicle: str
    plate: str | None
    work: str
    what: str
    who: str
    due: date | None
    day: date | None
    distance: float | None
    unit: str
    driven: float | None
    since: date
    counted_from: str
    state: str
    overdue: bool
    outcome: str | None = None
    done_at: datetime | None = None
    done_by: str | None = None
    customer: str | None = None
    telephone: str | None = None


@dataclass(frozen=True, slots=True)
class FollowUps:
    """What follows, in the order in which it falls due."""

    lines: tuple[FollowUp, ...]
    today: date
    at: datetime = field(compare=False)
    zone: str = "UTC"

    @property
    def overdue(self) -> int:
        """How many should have been done before today."""
        return sum(one.overdue for one in self.lines)


ROWS = (
    "select follow_up.*, label, plate, work, job.vehicle, person.name as done_name from follow_up "
    "join job using (job) join vehicle on vehicle.vehicle = job.vehicle "
    "left join person on person.person = done_by "
)


def follow_ups(shop: Shop, now: datetime, *, names: bool = False) -> FollowUps:
    """Return what is still to be done after all jobs.

    Args:
        names: with names and telephone numbers of customers: whoever looks may see them.

    Raises:
        Trouble: the file cannot be read.
    """
    with shop.reading() as db:
        calendar = calendar_of(db)
        rows = db.execute(ROWS + "where follow_up.state = 'open'").fetchall()
        today = calendar.day_of(now)
        found = told(db, calendar, rows, today, names=names)
        return FollowUps(tuple(sorted(found, key=_order)), today, now, str(calendar.zone))


def one_job(shop: Shop, job: str, now: datetime) -> tuple[FollowUp, ...]:
    """Return everything that was set to follow a job, done or not, by its lines."""
    with shop.reading() as db:
        return follow_ups_of(db, job, now)


def follow_ups_of(db: sqlite3.Connection, job: str, now: datetime) -> tuple[FollowUp, ...]:
    """Return everything that was set to follow a job, done or not, by its lines."""
    calendar = calendar_of(db)
    rows = db.execute(
        ROWS + "where job = ? and follow_up.state != 'withdrawn' order by line", [job]
    ).fetchall()
    return tuple(told(db, calendar, rows, calendar.day_of(now), names=False))


def told(
    db: sqlite3.Connection,
    calendar: Calendar,
    rows: Sequence[sqlite3.Row],
    today: date,
    *,
    names: bool,
) -> list[FollowUp]:
    """Return rows of `ROWS` as values, distances made days."""
    read = _readings(db, calendar, {row["vehicle"] for row in rows})
    customers = _customers(db, {row["job"] for row in rows}) if names else {}
    return [_told(row, read[row["vehicle"]], today, customers.get(row["job"])) for row in rows]


def _order(one: FollowUp) -> tuple[date, str, int]:
    return one.due or date.max, one.job.rjust(9), one.line


Readings = list[tuple[Seen, float, str]]


def _readings(
    db: sqlite3.Connection, calendar: Calendar, vehicles: set[str]
) -> Mapping[str, Readings]:
    found: dict[str, Readings] = defaultdict(list)
    marks = ", ".join("?" * len(vehicles))
    for row in db.execute(
        f"select vehicle, at, value, unit from odometer where vehicle in ({marks}) order by seq",
        sorted(vehicles),
    ):
        day = calendar.day_of(from_text(row["at"]))
        seen = Seen(day, in_unit(row["value"], row["unit"], "km"))
        found[row["vehicle"]].append((seen, row["value"], row["unit"]))
    return found


def _customers(db: sqlite3.Connection, jobs: set[str]) -> dict[str, tuple[str, str | None]]:
    marks = ", ".join("?" * len(jobs))
    return {
        row["job"]: (row["name"], row["telephone"] or None)
        for row in db.execute(
            "select job, name, telephone from job join customer_private using (customer) "
            f"where job in ({marks}) and name != ''",
            sorted(jobs),
        )
    }


def _told(
    row: sqlite3.Row, read: Readings, today: date, customer: tuple[str, str | None] | None
) -> FollowUp:
    since = date.fromisoformat(row["since"])
    day = date.fromisoformat(row["day"]) if row["day"] else None
    unit = read[-1][2] if read else "km"
    target = None if row["distance"] is None else in_unit(row["distance"], unit, "km")
    due = falls_due(day, target, [one[0] for one in read], since)
    return FollowUp(
        job=row["job"], line=row["line"], vehicle=row["label"], plate=row["plate"],
        work=row["work"], what=row["what"], who=row["who"], due=due, day=day,
        distance=row["distance"], unit=unit, driven=read[-1][1] if read else None, since=since,
        counted_from=row["counted_from"], state=row["state"],
        overdue=row["state"] == "open" and due is not None and due < today,
        outcome=row["outcome"], done_at=from_text(row["done_at"]) if row["done_at"] else None,
        done_by=row["done_name"], customer=customer[0] if customer else None,
        telephone=customer[1] if customer else None,
    )  # fmt: skip
