"""What a job's hand-over asks for: what is still open, what is counted, what is usual."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass, field, replace
from datetime import datetime

from store.file.at_hand_over import KitToCount, ended, kits_to_count, run_in_text
from store.file.facts import calendar_of
from store.file.shop import Shop
from store.file.still_open import still_open
from store.rules.follow_ups import WARRANTY_KM, WARRANTY_MILES, WARRANTY_MONTHS, ToDo, usual
from store.trouble import Refused


@dataclass(frozen=True, slots=True)
class AtHandOver:
    """A job at its end.

    Attributes:
        still_open: what keeps it from being handed over, a piece of a sentence each.
        kits: to be counted.
        odometer: its last reading, in `unit`; None where there is none.
        lamps: warning lamps and faults stored at arrival.
        run_in: how the work book has it driven at first.
        warranty_months, warranty_distance: the shop's usual ones; None for a small job.
        follow_ups: the usual ones, with that warranty.
        unanswered: advice that nobody has answered yet, by the number of its finding.
    """

    job: str
    vehicle: str
    work: str
    small: bool
    state: str
    still_open: tuple[str, ...]
    kits: tuple[KitToCount, ...]
    odometer: float | None
    unit: str
    lamps: str | None
    run_in: str
    warranty_months: int | None
    warranty_distance: float | None
    follow_ups: tuple[ToDo, ...]
    unanswered: tuple[tuple[int, str], ...]
    at: datetime = field(compare=False)


def at_hand_over(shop: Shop, job: str, now: datetime) -> AtHandOver:
    """Return what the hand-over of a job asks for.

    Raises:
        Refused: no job has that number.
    """
    with shop.reading() as db:
        row = db.execute(
            "select job.*, label from job join vehicle on vehicle.vehicle = job.vehicle "
            "where job = ?",
            [job],
        ).fetchone()
        if row is None:
            raise Refused(f"There is no job {job}. See the numbers with `hoistbook floor`.")
        odometer, unit = _odometer(db, row["vehicle"])
        months = None if row["small"] else WARRANTY_MONTHS
        distance = WARRANTY_KM if unit == "km" else WARRANTY_MILES
        was = replace(ended(db, job), warranty_months=months)
        return AtHandOver(
            job=job, vehicle=row["label"], work=row["work"], small=bool(row["small"]),
            state=row["state"], still_open=tuple(still_open(db, job, now)),
            kits=kits_to_count(db, job), odometer=odometer, unit=unit, lamps=_lamps(db, job),
            run_in=run_in_text(db, job), warranty_months=months,
            warranty_distance=None if months is None else distance,
            follow_ups=usual(was, calendar_of(db).day_of(now)), unanswered=_unanswered(db, job),
            at=now,
        )  # fmt: skip


def _odometer(db: sqlite3.Connection, vehicle: str) -> tuple[float | None, str]:
    row = db.execute(
        "select value, unit from odometer where vehicle = ? order by seq desc limit 1", [vehicle]
    ).fetchone()
    if row is not None:
        return row["value"], row["unit"]
    others = db.execute("select unit from odometer order by seq desc limit 1").fetchone()
    return None, others["unit"] if others else "km"


def _lamps(db: sqlite3.Connection, job: str) -> str | None:
    row = db.execute(
        "select lamps from arrival where job = ? order by seq desc limit 1", [job]
    ).fetchone()
    return row["lamps"] if row else None


def _unanswered(db: sqlite3.Connection, job: str) -> tuple[tuple[int, str], ...]:
    return tuple(
        (row["seq"], row["text"])
        for row in db.execute(
            "select finding.seq, finding.text from finding left join advice on "
            "advice.finding = finding.seq where finding.job = ? and kind = 'advice' "
            "and not withdrawn and answer is null order by finding.seq",
            [job],
        )
    )
