"""When each kit is wanted, by which job, from when until when: joint draws of the forecast."""

from __future__ import annotations

import math
import sqlite3
from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from store.file.kits_wanted import Wanted, kits_wanted
from store.file.learned.kept import Forecast, forecasts
from store.file.learned.kept_needs import KitNeed, StretchDrawn, kept_needs
from store.sums.moved_draws import stands
from store.sums.working_time import Calendar
from store.views.needs_by_book import needs_by_book


@dataclass(frozen=True, slots=True)
class JobNeed:
    """One stretch of phases of one job that wants one kit.

    Draw k of every need is of the same dice: how fast the shop is to be is the same in it for all
    jobs, and for stretches of one job everything is.

    Attributes:
        phases: their numbers, in the order of the route, finished ones of the stretch too.
        lift: on which the job stands now; None where on none.
        begun: the kit is in use there now; then every draw's start is when it began.
        captive: it is fixed on the open unit for a part of the stretch and cannot leave before.
        draws: since and until. One in which since is until: the kit is not needed after all, as an
            open decision may turn out; leave it out.
        finishes: of the whole job, in the same draws.
        made_at: when the forecast behind it was made; None: by the work book's ranges.
    """

    job: str
    phases: tuple[str, ...]
    lift: str | None
    begun: bool
    captive: bool
    draws: tuple[tuple[datetime, datetime], ...]
    finishes: tuple[datetime, ...]
    made_at: datetime | None

    @property
    def needed(self) -> float:
        """Share of the draws in which the kit is needed."""
        return sum(since < until for since, until in self.draws) / len(self.draws)


def kit_needs(
    db: sqlite3.Connection, calendar: Calendar, now: datetime, kits: Collection[str] | None = None
) -> dict[str, tuple[JobNeed, ...]]:
    """Return who wants which kit when, by the kit's code, the first to want it first.

    Args:
        kits: codes of those that are asked about; None: all.

    Raises:
        NeverOpens: the shop stays closed.
    """
    wanted, kept, lifts = kits_wanted(db), kept_needs(db), _lifts(db)
    if kits is not None:
        asked = {job for job, each in wanted.items() if any(one.kit in kits for one in each)}
        wanted = {job: each for job, each in wanted.items() if job in asked}
    found: dict[str, list[JobNeed]] = defaultdict(list)
    known = forecasts(db, [job for job in wanted if job not in kept])
    for job, each in wanted.items():
        rows = _of_one_making(kept.get(job, {}).values())
        told = [one for one in each if _drawn(one, rows) is not None]
        rest = [one for one in each if one not in told]
        whole = _kept(calendar, now, told, rows, lifts.get(job)) if told else []
        if rest:
            whole += _by_book(db, calendar, now, rest, known.get(job), lifts.get(job))
        for one, need in whole:
            if kits is None or one.kit in kits:
                found[one.kit].append(need)
    return {kit: tuple(sorted(found[kit], key=_middle)) for kit in sorted(found)}


def _middle(need: JobNeed) -> tuple[datetime, str]:
    return sorted(since for since, _ in need.draws)[len(need.draws) // 2], need.job


def _lifts(db: sqlite3.Connection) -> dict[str, str]:
    rows = db.execute(
        "select job, code from job_place join place using (place) where kind = 'lift' "
        "and part = 'body'"
    )
    return {row[0]: row[1] for row in rows}


def _of_one_making(rows: Iterable[KitNeed]) -> dict[str, KitNeed]:
    """By kit, those that were made last, with one and the same dice."""
    each = list(rows)
    if not each:
        return {}
    newest = max(each, key=lambda one: (one.seq, one.made_at))
    return {one.kit: one for one in each if one.made_at == newest.made_at
            and one.finishes == newest.finishes}  # fmt: skip


def _drawn(wanted: Wanted, rows: Mapping[str, KitNeed]) -> StretchDrawn | None:
    """What was forecast of a stretch; None where it is another one since, or of another route."""
    if wanted.kit not in rows:
        return None
    each = rows[wanted.kit].stretches
    return next((one for one in each if one.phases == wanted.phases), None)


def _kept(
    calendar: Calendar,
    now: datetime,
    wanted: Sequence[Wanted],
    rows: Mapping[str, KitNeed],
    lift: str | None,
) -> list[tuple[Wanted, JobNeed]]:
    """Draws as they are kept, of one job, moved to now."""
    made = rows[wanted[0].kit]
    each = [one for wants in wanted if (one := _drawn(wants, rows)) is not None]
    passed = calendar.working_h(min(made.made_at, now), now)
    there = [(at.draw, at.later) for at in stands(_next(wanted, each, made.finishes), passed)]
    moved = _Hours(
        [_moved(one.starts, there) for one in each],
        [_moved(one.ends, there) for one in each],
        _moved(made.finishes, there),
    )
    return _told(calendar, made.made_at, wanted, moved, lift, made.made_at)


def _moved(hours: Sequence[float], there: Sequence[tuple[int, float]]) -> tuple[float, ...]:
    return tuple([hours[draw] + later for draw, later in there])


def _next(
    wanted: Sequence[Wanted], each: Sequence[StretchDrawn], finishes: Sequence[float]
) -> list[float]:
    """(draws) hours until the first of what is known not to have happened yet."""
    columns: list[Sequence[float]] = [finishes]
    for wants, one in zip(wanted, each, strict=True):
        ends = one.ends if wants.begun_at is not None else one.starts
        columns.append(
            [hours if start < end else math.inf
             for hours, start, end in zip(ends, one.starts, one.ends, strict=True)]
        )  # fmt: skip
    return [min(draw) for draw in zip(*columns, strict=True)]


def _by_book(
    db: sqlite3.Connection,
    calendar: Calendar,
    now: datetime,
    wanted: Sequence[Wanted],
    known: Forecast | None,
    lift: str | None,
) -> list[tuple[Wanted, JobNeed]]:
    made = needs_by_book(db, calendar, now, wanted, known)
    hours = _Hours(
        [one.starts for one in made.stretches], [one.ends for one in made.stretches], made.finishes
    )
    return _told(calendar, now, wanted, hours, lift, None)


@dataclass(frozen=True, slots=True)
class _Hours:
    """Open hours from one instant on: starts and ends of each stretch, and the job's finish."""

    starts: list[tuple[float, ...]]
    ends: list[tuple[float, ...]]
    finishes: tuple[float, ...]


def _told(
    calendar: Calendar,
    since: datetime,
    wanted: Sequence[Wanted],
    hours: _Hours,
    lift: str | None,
    made_at: datetime | None,
) -> list[tuple[Wanted, JobNeed]]:
    """The same as instants: open hours through the calendar."""
    finishes = tuple(calendar.each_after(since, hours.finishes))
    found: list[tuple[Wanted, JobNeed]] = []
    for n, one in enumerate(wanted):
        ends = calendar.each_after(since, hours.ends[n])
        starts = (
            calendar.each_after(since, hours.starts[n])
            if one.begun_at is None
            else [one.begun_at] * len(ends)
        )
        found.append(
            (one, JobNeed(one.job, one.phases, lift, one.begun_at is not None, one.captive,
                          tuple(zip(starts, ends, strict=True)), finishes, made_at))
        )  # fmt: skip
    return found
