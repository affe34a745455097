"""Special tools: where each kit is, who needs it when, and what is hired."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime

from store.file.books import book_of
from store.file.facts import calendar_of
from store.file.kits_now import Use, uses_of
from store.file.shop import Shop
from store.sums.working_time import Calendar
from store.views.hired import hires_out
from store.views.jobs import job_value, parts_of
from store.views.loading import Loaded, live_jobs, load
from store.views.parts_values import HireOut
from store.views.people_now import people_now
from store.views.values import Job


@dataclass(frozen=True, slots=True)
class KitWanted:
    """A phase that a kit is needed for, from when and until when by the forecast.

    Attributes:
        middle: until then at the middle forecast; `cautious`: stretched as the job's finish is.
    """

    job: str
    phase: str
    since: datetime
    middle: datetime
    cautious: datetime


@dataclass(frozen=True, slots=True)
class KitNow:
    """One kit of the work book. `state` in words: free, in use on 2417.4, on hand, asked for."""

    code: str
    name: str
    owned: bool
    state: str
    needed_by: tuple[KitWanted, ...] = ()
    hires: tuple[HireOut, ...] = ()


@dataclass(frozen=True, slots=True)
class Tools:
    """All kits, in the order of their codes."""

    at: datetime = field(compare=False)
    calendar: Calendar = field(compare=False)
    kits: tuple[KitNow, ...] = ()


def tools(shop: Shop, now: datetime) -> Tools:
    """Return every kit with where it is and who needs it.

    Raises:
        Trouble: the file cannot be read.
    """
    with shop.reading() as db:
        calendar = calendar_of(db)
        loaded = load(db, live_jobs(db), now, people_now(db, now))
        return Tools(now, calendar, _kits(db, _wanted(db, loaded)))


def kits_now(shop: Shop) -> tuple[KitNow, ...]:
    """Return every kit with where it is, without who needs it when.

    Raises:
        Trouble: the file cannot be read.
    """
    with shop.reading() as db:
        return _kits(db, {})


def _kits(db: sqlite3.Connection, wanted: Mapping[str, list[KitWanted]]) -> tuple[KitNow, ...]:
    rows = db.execute("select code, name, owned from kit order by code").fetchall()
    uses, hires = uses_of(db, [row["code"] for row in rows]), hires_out(db)
    return tuple(_kit(row, wanted.get(row["code"], ()), uses, hires) for row in rows)


def _kit(
    row: sqlite3.Row, wanted: Sequence[KitWanted], uses: Sequence[Use], hires: Sequence[HireOut]
) -> KitNow:
    own = tuple(one for one in hires if one.kit == row["code"])
    busy = [one for one in uses if one.kit == row["code"]]
    return KitNow(
        row["code"], row["name"], bool(row["owned"]), _state(bool(row["owned"]), busy, own),
        tuple(sorted(wanted, key=lambda one: (one.since, one.job))), own,
    )  # fmt: skip


def _state(owned: bool, uses: Sequence[Use], hires: Sequence[HireOut]) -> str:
    if uses:
        word = "fixed on" if uses[0].captive else "in use on"
        return f"{word} {uses[0].job}.{uses[0].phase}"
    if owned:
        return "free"
    if not hires:
        return "not hired"
    here = [one for one in hires if one.received_at is not None]
    if not here:
        return "asked for"
    return "on hand" if all(one.complete for one in here) else "on hand, not complete"


def _wanted(db: sqlite3.Connection, loaded: Loaded) -> Mapping[str, list[KitWanted]]:
    found: dict[str, list[KitWanted]] = {}
    for head in loaded.heads:
        rows = loaded.phases[head.job]
        if not any(one.kits != "[]" for one in rows):
            continue
        job = job_value(parts_of(loaded, head))
        for code, phase, until in _needs(db, loaded, head.job, head.version):
            one = _wanting(loaded.calendar, loaded.now, job, phase, until)
            if one is not None:
                found.setdefault(code, []).append(one)
    return found


def _needs(
    db: sqlite3.Connection, loaded: Loaded, job: str, version: int | None
) -> list[tuple[str, str, str]]:
    """Kit, phase that needs it, and the phase at whose end it is free again."""
    if version is None:
        return []
    book = book_of(db, version).phases
    numbers = {one.code: one for one in loaded.phases[job] if one.state != "skipped"}
    found: list[tuple[str, str, str]] = []
    for row in numbers.values():
        held = {one.kit: one.captive_to for one in book[row.code].kits} if row.code in book else {}
        for code, captive_to in held.items():
            last = numbers.get(captive_to or "", row)
            if f'"{code}"' in row.kits and last.state in ("to come", "under way"):
                found.append((code, row.phase, last.phase))
    return found


def _wanting(
    calendar: Calendar, now: datetime, job: Job, phase: str, last: str
) -> KitWanted | None:
    ahead = [one for one in job.ahead if one.phase in (phase, last)]
    if not ahead:
        return None
    began = [one.since for one in job.past if one.phase == phase]
    until = max(one.until for one in ahead)
    since = min(began) if began else min(one.since for one in ahead)
    return KitWanted(job.number, phase, since, until, _stretched(calendar, now, job, until))


def _stretched(calendar: Calendar, now: datetime, job: Job, until: datetime) -> datetime:
    """A moment of the middle forecast, put off as much as the job's finish is."""
    if job.finish is None or job.finish.middle <= now:
        return until
    whole = calendar.working_h(now, job.finish.middle)
    if whole <= 0 or until <= now:
        return until
    share = calendar.working_h(now, job.finish.cautious) / whole
    return max(until, calendar.after(now, calendar.working_h(now, until) * share))
