"""Dates of special tools: when they come, when they go back, when their calibration runs out."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any, Literal

from store.edges.instants import from_text, to_text
from store.file.kits.terms import valid_until
from store.sums.working_time import Calendar
from store.views.tools.hired import hires_out

BEFORE = timedelta(hours=2)
"""So long before the carrier's cut-off a calendar speaks up once more."""
KEPT = timedelta(days=60)
"""So long a hire that is over is still said to be cancelled: a calendar has read it by then."""
ENTRIES = (
    "select json_extract(payload, '$.hire') as hire, count(*) from ledger where kind in "
    "('hire-asked', 'hire-received', 'hire-extended', 'hire-given', 'hire-sent-back', "
    "'hire-taken-back') group by hire"
)
GONE = (
    "select asked.payload as asked from ledger as gone join ledger as asked on "
    "asked.kind = 'hire-asked' and json_extract(asked.payload, '$.hire') = "
    "json_extract(gone.payload, '$.hire') where gone.kind = 'hire-taken-back' "
    "and gone.happened_at > ? and json_extract(gone.payload, '$.hire') not in "
    "(select hire from hire) order by gone.seq"
)


@dataclass(frozen=True, slots=True)
class KitDate:
    """One date of a kit. Fields as `dates.Dated` has them."""

    kind: Literal["hire", "delivery", "calibration"]
    thing: str
    when: datetime | date
    title: str
    note: str = ""
    sequence: int = 0
    cancelled: bool = False


def kit_dates(db: sqlite3.Connection, now: datetime) -> Iterator[KitDate]:
    """Yield what comes, goes back and runs out; and what did not come to it, as cancelled."""
    told = {row[0]: row[1] - 1 for row in db.execute(ENTRIES)}
    yield from _open(db, told)
    yield from _over(db, now, told)
    yield from _called_off(db, now, told)
    yield from _running_out(db)


def _open(db: sqlite3.Connection, told: Mapping[str, int]) -> Iterator[KitDate]:
    for one in hires_out(db):
        job, nth = f"job {one.job}" if one.job else "", told.get(one.hire, 0)
        if not one.here and one.expected is not None:
            title = f"Kit {one.name} comes from {one.supplier}"
            yield KitDate("delivery", f"delivery-{one.hire}", one.expected, title, job, nth)
        if one.due is not None:
            title = f"Kit {one.name} goes back to {one.supplier}"
            yield KitDate("hire", f"hire-{one.hire}", one.due, title, job, nth)
        if one.here and one.valid_until is not None:
            title = f"Kit {one.name}, hired: its calibration or inspection runs out"
            yield KitDate("calibration", f"calibration-{one.hire}", one.valid_until, title, job)


def _over(db: sqlite3.Connection, now: datetime, told: Mapping[str, int]) -> Iterator[KitDate]:
    """Sent back before their day: a calendar that was told of it takes it away."""
    for row in db.execute(
        "select hire, coalesce(name, hire.kit) as name, supplier, due from hire "
        "left join kit on kit.code = hire.kit where sent_at is not null and due > sent_at "
        "and sent_at > ? order by due, hire",
        [to_text(now - KEPT)],
    ):
        title = f"Kit {row['name']} went back to {row['supplier']}"
        nth = told.get(row["hire"], 0)
        when = from_text(row["due"])
        yield KitDate("hire", f"hire-{row['hire']}", when, title, "", nth, cancelled=True)


def _called_off(
    db: sqlite3.Connection, now: datetime, told: Mapping[str, int]
) -> Iterator[KitDate]:
    names = {row["code"]: row["name"] for row in db.execute("select code, name from kit")}
    for row in db.execute(GONE, [to_text(now - KEPT)]):
        asked: dict[str, Any] = json.loads(row["asked"])
        name, hire = names.get(asked["kit"], asked["kit"]), asked["hire"]
        title = f"Kit {name} is not hired from {asked['supplier']}"
        for kind, field in (("delivery", "expected"), ("hire", "due")):
            if asked.get(field):
                yield KitDate(
                    "hire" if kind == "hire" else "delivery", f"{kind}-{hire}",
                    from_text(asked[field]), title, "", told.get(hire, 0), cancelled=True,
                )  # fmt: skip


def _running_out(db: sqlite3.Connection) -> Iterator[KitDate]:
    entries = {
        row[0]: row[1] - 1 for row in db.execute("select kit, count(*) from kit_date group by kit")
    }
    dated = valid_until(db)
    for row in db.execute("select code, name from kit where owned order by code"):
        if row["code"] in dated:
            yield KitDate(
                "calibration", f"calibration-{row['code']}", dated[row["code"]],
                f"Kit {row['name']}: its calibration or inspection runs out", "",
                entries[row["code"]],
            )  # fmt: skip


def alarms_of(one: KitDate, calendar: Calendar) -> tuple[timedelta | datetime, ...]:
    """Return when a calendar speaks up: the evening before, and shortly before the cut-off."""
    if one.kind != "hire" or one.cancelled or not isinstance(one.when, datetime):
        return ()
    day = calendar.day_of(one.when)
    for back in range(1, 15):
        shifts = calendar.shifts_of(day - timedelta(days=back))
        if shifts:
            return (shifts[-1][1], BEFORE)
    return (BEFORE,)
