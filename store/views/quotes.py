"""Quotes of some months, and what became of them: quoted, agreed and worked hours side by side."""

from __future__ import annotations

import sqlite3
from collections import defaultdict
from collections.abc import Sequence
from datetime import date, datetime
from typing import Literal

from store.edges.instants import to_text
from store.file.facts import calendar_of, day_bounds
from store.file.shop import Shop
from store.views.desk.told import labour_of, quotes_of
from store.views.desk.values import Outcome, Outcomes, QuoteNow

JOBS = (
    "select job.job, number, work, state, estimate.money, estimate_change.middle_h, "
    "(select why from quote as last where last.job = job.job and last.why is not null "
    "order by last.quote desc limit 1) as why from job "
    "left join estimate on estimate.seq = agreed_seq "
    "left join estimate_change on estimate_change.seq = agreed_seq + 1 "
    "where job.job in (select job from quote where at >= ?) order by number"
)
Became = Literal["agreed", "declined", "turned away", "open"]


def quotes_and_outcomes(shop: Shop, now: datetime, months: int = 12) -> Outcomes:
    """Return the jobs that were quoted in so many months, with what became of them.

    A range told by voice alone is no quote: such a job is listed, but not counted as one.

    Raises:
        Trouble: the file cannot be read.
    """
    with shop.reading() as db:
        calendar = calendar_of(db)
        since = months_before(calendar.day_of(now), months)
        start = day_bounds(since, calendar.zone)[0]
        rows = db.execute(JOBS, [to_text(start)]).fetchall()
        jobs = [row["job"] for row in rows]
        quotes = quotes_of(db, jobs)
        worked: dict[str, float] = defaultdict(float)
        for (job, _), hours in labour_of(db, calendar, jobs, now).items():
            worked[job] += hours
        found = tuple(_outcome(row, quotes[row["job"]], worked[row["job"]]) for row in rows)
    return _together(since, found)


def months_before(day: date, months: int) -> date:
    """Return the first day of the month that lies so many months before a day's own."""
    whole = day.year * 12 + day.month - 1 - months
    return date(whole // 12, whole % 12 + 1, 1)


def _outcome(row: sqlite3.Row, quotes: Sequence[QuoteNow], worked_h: float) -> Outcome:
    rough = [one for one in quotes if one.rough]
    given = [one for one in quotes if not one.rough]
    last = given[-1] if given else None
    agreed = row["middle_h"] is not None
    return Outcome(
        job=row["job"], work=row["work"], at=(last or quotes[-1]).at, became=_became(row),
        rough_h=rough[0].ways[0].middle_h if rough else None,
        quoted_h=last.ways[0].middle_h if last else None,
        quoted_money=last.ways[0].money if last else None,
        agreed_h=row["middle_h"], agreed_money=row["money"] if agreed else None,
        worked_h=worked_h if row["state"] == "closed" else None, why=row["why"],
    )  # fmt: skip


def _became(row: sqlite3.Row) -> Became:
    if row["state"] == "declined":
        return "declined"
    if row["state"] == "turned-away":
        return "turned away"
    return "agreed" if row["middle_h"] is not None else "open"


def _together(since: date, rows: tuple[Outcome, ...]) -> Outcomes:
    quoted = [one for one in rows if one.quoted_h is not None]
    count = {name: sum(one.became == name for one in quoted) for name in ("agreed", "open")}
    whole = [
        (one.quoted_h, one.agreed_h, one.worked_h)
        for one in quoted
        if one.quoted_h is not None and one.agreed_h is not None and one.worked_h is not None
    ]
    return Outcomes(
        since, rows, len(quoted), count["agreed"],
        len(quoted) - count["agreed"] - count["open"], count["open"], len(whole),
        sum(one[0] for one in whole), sum(one[1] for one in whole), sum(one[2] for one in whole),
    )  # fmt: skip
