"""A vehicle over its visits: who it is, how far it came, what was done, measured and advised."""

from __future__ import annotations

import json
import sqlite3
from collections import defaultdict
from collections.abc import Sequence
from datetime import datetime

from store.edges.instants import from_text
from store.file.facts import calendar_of
from store.file.shop import Shop
from store.trouble import Refused
from store.views.desk.told import comebacks_of, labour_of, marks, maybe
from store.views.vehicle_values import AdviceOpen, Measured, VehicleHistory, Visit

MEANT = (
    "select vehicle.* from vehicle where lower(plate) = lower(?1) or lower(vin) = lower(?1) "
    "or lower(label) = lower(?1) or vehicle = (select vehicle from job where job = ?1) "
    "order by vehicle"
)
VISITS = (
    "select job.job, number, work, complaint, state, opened_at, closed_at, comeback.of, "
    "(select value from odometer where odometer.vehicle = job.vehicle and at >= opened_at "
    "and at <= coalesce(closed_at, at) order by seq limit 1) as value, "
    "(select unit from odometer where odometer.vehicle = job.vehicle and at >= opened_at "
    "and at <= coalesce(closed_at, at) order by seq limit 1) as unit "
    "from job left join comeback using (job) where vehicle = ? order by number desc"
)
MEASURED = (
    "select signature.job, spec ->> '$.text' as text, readings, in_limits from signature "
    "join step using (job, phase, step) join phase using (job, phase) join book_step on "
    "book_step.version = phase.version and book_step.phase = phase.code "
    "and book_step.code = step.code where signature.job in ({}) and not void "
    "and readings != '{{}}' order by seq"
)
ADVICE = (
    "select finding.job, text, hours, finding.at, answer from finding "
    "left join advice on advice.finding = finding.seq where finding.job in ({}) "
    "and kind = 'advice' and not withdrawn and coalesce(answer, '') != 'agreed' "
    "order by finding.seq"
)


def vehicle(shop: Shop, text: str, now: datetime) -> VehicleHistory:
    """Return what is known of a vehicle.

    Args:
        text: its number plate, VIN, what people call it, or the number of one of its jobs.

    Raises:
        Refused: there is none, or several are called so.
    """
    with shop.reading() as db:
        row = _meant(db, text.strip())
        calendar = calendar_of(db)
        visits = db.execute(VISITS, [row["vehicle"]]).fetchall()
        jobs = [one["job"] for one in visits]
        labour: dict[str, float] = defaultdict(float)
        for (job, _), hours in labour_of(db, calendar, jobs, now).items():
            labour[job] += hours
        done, measured = _done(db, jobs), _measured(db, jobs)
        links = comebacks_of(db, calendar, jobs, now)
        return VehicleHistory(
            vehicle=row["vehicle"], label=row["label"], family=row["family"], vin=row["vin"],
            plate=row["plate"], engine=row["engine"], gearbox=row["gearbox"],
            mass_kg=row["mass_kg"], odometers=_odometers(db, row["vehicle"]),
            visits=tuple(
                _visit(one, labour[one["job"]], done[one["job"]], measured[one["job"]])
                for one in visits
            ),
            comebacks=links, advice=_advice(db, jobs), at=now,
        )  # fmt: skip


def _meant(db: sqlite3.Connection, text: str) -> sqlite3.Row:
    found: list[sqlite3.Row] = db.execute(MEANT, [text]).fetchall()
    if not found:
        raise Refused(
            f"No vehicle is called {text or 'nothing'}. Give its plate, VIN, name, or a job of it."
        )
    if len(found) == 1:
        return found[0]
    named = [one for one in found if text.casefold() in _keys(one)]
    if len(named) == 1:
        return named[0]
    listed = ", ".join(sorted(_newest_job(db, one["vehicle"]) for one in found))
    raise Refused(f"{len(found)} vehicles are called {text}. Give a plate, or a job: {listed}.")


def _keys(row: sqlite3.Row) -> set[str]:
    return {one.casefold() for one in (row["plate"], row["vin"]) if one}


def _newest_job(db: sqlite3.Connection, ident: str) -> str:
    found = db.execute(
        "select job from job where vehicle = ? order by number desc limit 1", [ident]
    ).fetchone()
    return str(found[0]) if found else "none yet"


def _visit(
    row: sqlite3.Row, labour_h: float, done: Sequence[str], measured: Sequence[Measured]
) -> Visit:
    return Visit(
        number=row["job"], work=row["work"], complaint=row["complaint"], state=row["state"],
        opened_at=from_text(row["opened_at"]), closed_at=maybe(row["closed_at"]),
        odometer=(row["value"], row["unit"]) if row["value"] is not None else None,
        labour_h=labour_h, done=tuple(done), measured=tuple(measured), comeback_of=row["of"],
    )  # fmt: skip


def _odometers(db: sqlite3.Connection, ident: str) -> tuple[tuple[datetime, float, str], ...]:
    rows = db.execute(
        "select at, value, unit from odometer where vehicle = ? order by seq desc", [ident]
    )
    return tuple((from_text(row["at"]), row["value"], row["unit"]) for row in rows)


def _done(db: sqlite3.Connection, jobs: Sequence[str]) -> dict[str, list[str]]:
    found: dict[str, list[str]] = defaultdict(list)
    for row in db.execute(
        f"select job, name from phase where job in ({marks(jobs)}) and state = 'finished' "
        "order by job, position",
        list(jobs),
    ):
        found[row["job"]].append(row["name"])
    return found


def _measured(db: sqlite3.Connection, jobs: Sequence[str]) -> dict[str, list[Measured]]:
    found: dict[str, list[Measured]] = defaultdict(list)
    for row in db.execute(MEASURED.format(marks(jobs)), list(jobs)):
        readings = tuple(json.loads(row["readings"]).items())
        found[row["job"]].append(Measured(row["text"], readings, bool(row["in_limits"])))
    return found


def _advice(db: sqlite3.Connection, jobs: Sequence[str]) -> tuple[AdviceOpen, ...]:
    return tuple(
        AdviceOpen(row["job"], row["text"], row["hours"], from_text(row["at"]), row["answer"])
        for row in db.execute(ADVICE.format(marks(jobs)), list(jobs))
    )
