"""Who needs which kit from when until when, by the forecasts of their jobs."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping
from datetime import datetime

from store.file.kits_wanted import Wanted, kits_wanted
from store.sums.working_time import Calendar
from store.views.jobs import job_value, parts_of
from store.views.loading import JobHead, Loaded
from store.views.tools_values import KitWanted
from store.views.values import Job


def wanted(db: sqlite3.Connection, loaded: Loaded) -> Mapping[str, tuple[KitWanted, ...]]:
    """Return who needs each kit, the first to need it first, by the forecasts as kept."""
    found: dict[str, list[KitWanted]] = {}
    stretches = kits_wanted(db)
    for head in loaded.heads:
        if head.job not in stretches:
            continue
        job = job_value(parts_of(loaded, head))
        for stretch in stretches[head.job]:
            one = _wanted(loaded.calendar, loaded.now, job, head, stretch)
            if one is not None:
                found.setdefault(stretch.kit, []).append(one)
    return {
        kit: tuple(sorted(these, key=lambda one: (one.since, one.job, one.phase)))
        for kit, these in found.items()
    }


def _wanted(
    calendar: Calendar, now: datetime, job: Job, head: JobHead, stretch: Wanted
) -> KitWanted | None:
    ahead = [one for one in job.ahead if one.phase in stretch.phases]
    if not ahead:
        return None
    until = max(one.until for one in ahead if one.phase in stretch.frees)
    since = stretch.begun_at or min(one.since for one in ahead if one.phase in stretch.uses)
    lift = head.place if head.place_kind == "lift" else None
    return KitWanted(
        job.number, stretch.frees[0], since, until, _put_off(calendar, now, job, until),
        stretch.phases, stretch.begun_at is not None, stretch.captive, lift,
    )  # fmt: skip


def _put_off(calendar: Calendar, now: datetime, job: Job, until: datetime) -> datetime:
    """A moment of the middle forecast, put off as much as the job's finish is."""
    if job.finish is None or job.finish.middle <= now:
        return until
    whole = calendar.working_h(now, job.finish.middle)
    if whole <= 0 or until <= now:
        return until
    share = calendar.working_h(now, job.finish.cautious) / whole
    return max(until, calendar.after(now, calendar.working_h(now, until) * share))
