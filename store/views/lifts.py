"""The lifts as they are today: what is on them, and whether they may raise anything."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping
from datetime import date

from store.edges.instants import from_text
from store.file.facts import setting
from store.rules.lift_fit import Inspection, lift_fit
from store.views.lacking import LiftNow
from store.views.values import Job, Lane


def lanes_of(db: sqlite3.Connection, by_place: Mapping[str, Job], today: date) -> tuple[Lane, ...]:
    """Return the lifts in the shop's order, with the jobs on them.

    Args:
        by_place: jobs by the code of the place where their body is.
    """
    refuses = bool(setting(db, "overdue lift refused"))
    rows = db.execute(
        "select code, lift_kind, rated_kg, in_service, out_reason, inspected, months, "
        "interval_source, looked_over, (select max(stay.until) from stay where stay.place = "
        "place.place and part = 'body') as free_since from place where kind = 'lift' "
        "order by position"
    )
    return tuple(_lane(row, by_place.get(row["code"]), today, refuses) for row in rows)


def _lane(row: sqlite3.Row, job: Job | None, today: date, refuses: bool) -> Lane:
    inspection = None
    if row["inspected"]:
        inspection = Inspection(
            date.fromisoformat(row["inspected"]), row["months"], row["interval_source"]
        )
    fit = lift_fit(
        lift=row["code"], rated_kg=row["rated_kg"], in_service=True, inspection=inspection,
        overdue_refuses=refuses, mass_kg=1.0, today=today,
        looked_over=date.fromisoformat(row["looked_over"]) if row["looked_over"] else None,
    )  # fmt: skip
    warnings = fit.warnings if fit.refused is None else (fit.refused, *fit.warnings)
    return Lane(
        lift=row["code"], kind=row["lift_kind"], rated_kg=row["rated_kg"],
        in_service=bool(row["in_service"]), out_reason=row["out_reason"], warnings=warnings,
        job=job, inspection_due=inspection.due if inspection else None,
        raises=bool(row["in_service"]) and fit.refused is None,
        free_since=from_text(row["free_since"]) if row["free_since"] and job is None else None,
    )  # fmt: skip


def lifts_of(db: sqlite3.Connection, today: date) -> tuple[LiftNow, ...]:
    """Return the lifts as far as readiness asks."""
    taken = {row[0] for row in db.execute("select code from job_place join place using (place)")}
    return tuple(
        LiftNow(one.raises, one.rated_kg, one.lift not in taken) for one in lanes_of(db, {}, today)
    )
