"""The sign of jobs that have not come in: ready, or what lacks; and what a card says of it."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime

from store.file.facts import calendar_of
from store.file.ready_now import NOT_IN, facts_of
from store.file.shop import Shop
from store.rules.readiness import Lack, LackKind, Ready, lacking
from store.sums.working_time import Calendar
from store.trouble import Refused
from store.views.jobs import job_value, parts_of
from store.views.lacking import ready_of, with_lacks
from store.views.lifts import lanes_of, lifts_of
from store.views.loading import live_jobs, load
from store.views.people_now import people_now
from store.views.values import Job

__all__ = [
    "Lack", "LackKind", "Ready", "known_lacks", "not_in", "readiness", "unready_of",
    "waiting_jobs", "with_ready",
]  # fmt: skip


def not_in(jobs: Sequence[Job]) -> list[Job]:
    """Return those that have not come in yet."""
    return [one for one in jobs if one.state in NOT_IN and one.in_since is None]


def known_lacks(
    db: sqlite3.Connection, jobs: Sequence[Job], now: datetime, calendar: Calendar
) -> Mapping[str, tuple[Lack, ...]]:
    """Return what of checks, word, parts, kits and people lacks, by number of the job.

    Small jobs, and those that are in, lack nothing of it. The number of queries does not grow
    with the jobs.
    """
    numbers = [one.number for one in not_in(jobs) if not one.small]
    found = facts_of(db, numbers, now, calendar) if numbers else {}
    return {job: lacking(facts, now, calendar.zone) for job, facts in found.items()}


def readiness(db: sqlite3.Connection, jobs: Sequence[Job], now: datetime) -> dict[str, Ready]:
    """Return the sign of each job that has not come in, by number, out of an open look."""
    calendar = calendar_of(db)
    known = known_lacks(db, jobs, now, calendar)
    lifts = lifts_of(db, calendar.day_of(now))
    return {one.number: ready_of(one, lifts, known.get(one.number, ())) for one in not_in(jobs)}


def with_ready(db: sqlite3.Connection, job: Job, now: datetime) -> Job:
    """Return a job with its sign, where it has not come in."""
    ready = readiness(db, [job], now).get(job.number)
    return job if ready is None else replace(job, ready=ready, lacks=ready.words)


def unready_of(db: sqlite3.Connection, job: str) -> tuple[str, ...]:
    """Return what a job lacked when it came in all the same; nothing where it was ready."""
    row = db.execute("select unready from job where job = ?", [job]).fetchone()
    return () if row is None or row[0] is None else tuple(json.loads(row[0]))


def waiting_jobs(shop: Shop, now: datetime, job: str | None = None) -> tuple[Job, ...]:
    """Return the jobs that have not come in, with their signs, the longest waiting first.

    Args:
        job: this one only.

    Raises:
        Refused: no job has that number, or it has come in.
    """
    with shop.reading() as db:
        people, calendar = people_now(db, now), calendar_of(db)
        loaded = load(db, live_jobs(db), now, people)
        jobs = [job_value(parts_of(loaded, head)) for head in loaded.heads]
        lanes = lanes_of(db, {one.place: one for one in jobs if one.place}, calendar.day_of(now))
        wanted = [one for one in not_in(jobs) if job in (None, one.number)]
        found = with_lacks(wanted, lanes, known_lacks(db, wanted, now, calendar))
        if job is not None and not found:
            raise Refused(_why_none(db, job))
        return found


def _why_none(db: sqlite3.Connection, job: str) -> str:
    row = db.execute("select state from job where job = ?", [job]).fetchone()
    if row is None:
        return f"There is no job {job}. See the numbers with `hoistbook floor`."
    return f"{job} is {row['state'].replace('-', ' ')}: it waits for nothing before it comes in."
