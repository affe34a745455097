"""Quotes, agreements and comebacks of many jobs out of one look."""

from __future__ import annotations

import json
import sqlite3
from collections import defaultdict
from collections.abc import Sequence
from datetime import date, datetime
from typing import Any

from store.edges.instants import from_text
from store.file.labour import clock_labour_h
from store.file.privates import said_by
from store.sums.working_time import Calendar
from store.views.desk.values import Agreement, AnswerAhead, Comeback, QuoteNow, WayNow

QUOTE = (
    "select quote.*, name from quote join person on person.person = quote.by "
    "where job in ({}) order by job, quote"
)
CLOCK = (
    "select job, phase, since, until, breaks_worked from clock "
    "where job in ({}) and part != 'learner'"
)


def marks(jobs: Sequence[str]) -> str:
    """Return a placeholder for each job."""
    return ", ".join("?" * len(jobs))


def quotes_of(db: sqlite3.Connection, jobs: Sequence[str]) -> dict[str, list[QuoteNow]]:
    """Return the quotes of jobs, oldest first."""
    found: dict[str, list[QuoteNow]] = defaultdict(list)
    for row in db.execute(QUOTE.format(marks(jobs)), list(jobs)):
        found[row["job"]].append(_quote(db, row))
    return found


def _quote(db: sqlite3.Connection, row: sqlite3.Row) -> QuoteNow:
    return QuoteNow(
        number=row["quote"], at=from_text(row["at"]), who=row["name"], rough=bool(row["rough"]),
        ways=tuple(_way(one) for one in json.loads(row["ways"])["ways"]), state=row["state"],
        basis=row["basis"], ceiling=row["ceiling"], promise=maybe(row["promise"]),
        means=row["means"], until=a_day(row["until"]), extras=tuple(json.loads(row["extras"])),
        answered_at=maybe(row["answered_at"]), why=row["why"],
        answered_by=said_by(db, row["answered_by"]),
    )  # fmt: skip


def _way(one: dict[str, Any]) -> WayNow:
    return WayNow(
        one["text"], tuple(one["operations"]), tuple(sorted(one["options"].items())),
        one["hours"]["middle"], one["hours"]["cautious"], one.get("labour"), one.get("kits"),
        one.get("parts"), one.get("outwork"),
    )  # fmt: skip


def maybe(text: str | None) -> datetime | None:
    """Return an instant of the file."""
    return from_text(text) if text else None


def a_day(text: str | None) -> date | None:
    """Return a local day of the file."""
    return date.fromisoformat(text) if text else None


def labour_of(
    db: sqlite3.Connection, calendar: Calendar, jobs: Sequence[str], now: datetime
) -> dict[tuple[str, str], float]:
    """Return the labour of lead and helpers by job and phase, hours."""
    found: dict[tuple[str, str], float] = defaultdict(float)
    for row in db.execute(CLOCK.format(marks(jobs)), list(jobs)):
        found[row["job"], row["phase"]] += clock_labour_h(
            calendar, row["since"], row["until"], bool(row["breaks_worked"]), now
        )
    return found


def agreement_of(db: sqlite3.Connection, job: str) -> Agreement | None:
    """Return the customer's word on a job; None until it was given."""
    row = db.execute(
        "select estimate.*, job.free_hand from job join estimate on estimate.seq = agreed_seq "
        "where job.job = ?",
        [job],
    ).fetchone()
    if row is None:
        return None
    more: dict[str, Any] = json.loads(row["more"])
    return Agreement(
        at=from_text(row["at"]), basis=row["basis"], ceiling=row["ceiling"], money=row["money"],
        by=said_by(db, row["by"]), means=row["means"], quote=row["quote"],
        left_out=tuple(more.get("left_out", ())), free_hand=row["free_hand"],
        ahead=tuple(
            AnswerAhead(one["about"], one["answer"], one.get("money"))
            for one in more.get("ahead", ())
        ),
    )  # fmt: skip


def comebacks_of(
    db: sqlite3.Connection, calendar: Calendar, jobs: Sequence[str], now: datetime
) -> tuple[Comeback, ...]:
    """Return what links jobs to the ones that they come back from, or that came back from them."""
    rows = db.execute(
        f"select * from comeback where job in ({marks(jobs)}) or of in ({marks(jobs)}) order by at",
        [*jobs, *jobs],
    ).fetchall()
    labour: dict[str, float] = defaultdict(float)
    for (job, _), hours in labour_of(db, calendar, [row["job"] for row in rows], now).items():
        labour[job] += hours
    return tuple(
        Comeback(
            row["job"], row["of"], row["phase"], row["cause"], row["fault"], row["pays"],
            from_text(row["at"]), labour[row["job"]],
        )
        for row in rows
    )  # fmt: skip
