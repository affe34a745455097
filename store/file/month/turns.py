"""What came late, and which jobs were held for what, one after another: rows of yes and no."""

from __future__ import annotations

import sqlite3
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from store.edges.instants import from_text, to_text
from store.file.kits.hires_past import days_late
from store.sums.hires.days import ShopDays
from store.sums.working_time import Calendar

LONG_H = 1.0
"""Working hours from which on a job was held: shorter ones are a walk to the shelf."""

HIRES = (
    "select supplier, kit, job, expected, received_at from hire where expected is not null "
    "and received_at < ? order by received_at, hire"
)
HOLDS = (
    "select job, reason, hold.since, coalesce(hold.until, job.closed_at) from hold "
    "join job using (job) where job.state = 'closed' and job.closed_at < ? order by hold.seq"
)


@dataclass(frozen=True, slots=True)
class Delivery:
    """A hired kit that came. `days`: working days after the one on which it was to come."""

    supplier: str
    kit: str
    job: str | None
    at: datetime
    days: int


def deliveries(db: sqlite3.Connection, calendar: Calendar, until: datetime) -> list[Delivery]:
    """Return what came before an instant, of which somebody had said when, by time."""
    shop = ShopDays(calendar)
    found: list[Delivery] = []
    for row in db.execute(HIRES, [to_text(until)]):
        came = from_text(row["received_at"])
        late = days_late(shop, row["expected"], came)
        found.append(Delivery(row["supplier"], row["kit"], row["job"], came, late))
    return found


def held_for(db: sqlite3.Connection, calendar: Calendar, until: datetime) -> dict[str, set[str]]:
    """Return the closed jobs that were held for each reason, an hour of work at least."""
    found: dict[str, set[str]] = defaultdict(set)
    for job, reason, since, ended in db.execute(HOLDS, [to_text(until)]):
        if calendar.working_h(from_text(since), from_text(ended)) >= LONG_H:
            found[reason].add(job)
    return dict(found)


def by_supplier(these: Sequence[Delivery]) -> dict[str, list[Delivery]]:
    """Return deliveries by supplier, in order."""
    found: dict[str, list[Delivery]] = defaultdict(list)
    for one in these:
        found[one.supplier].append(one)
    return dict(found)
