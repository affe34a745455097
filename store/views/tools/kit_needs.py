"""When each kit is wanted, by which job, from when until when: joint draws of the forecast."""

from __future__ import annotations

import math
import sqlite3
from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from operator import lt

from store.file.kits.wanted import Wanted, kits_wanted
from store.file.learned.kept import Forecast, forecasts
from store.file.learned.kept_needs import KitNeed, StretchDrawn, kept_needs
from store.sums.hires.moved_draws import stands
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
    wanted, kept = kits_wanted(db), kept_needs(db)
    if kits is not None:
        wanted = {job: each for job, each in wanted.items() if any(one.kit in kits for one in each)}
    look = _Look(db, calendar, now, _lifts(db))
    known = forecasts(db, [job for job in wanted if job not in kept])
    found: dict[str, list[JobNeed]] = defaultdict(list)
    for job, each in wanted.items():
        rows = _of_one_making(kept.get(job, {}).values())
        for kit, need in look.needs(each, rows, known.get(job)):
            if kits is None or kit in kits:
                found[kit].append(need)
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


Told = tuple[str, JobNeed]
"""A kit's code, and a need of it."""


@dataclass(frozen=True, slots=True)
class _Look:
    """What all jobs of one look share; `lifts` by job."""

    db: sqlite3.Connection
    calendar: Calendar
    now: datetime
    lifts: Mapping[str, str]

    def needs(
        self, wanted: Sequence[Wanted], rows: Mapping[str, KitNeed], known: Forecast | None
    ) -> list[Told]:
        """One job's stretches: as they were forecast, the others by the work book."""
        pairs = [(one, _drawn(one, rows)) for one in wanted]
        drawn = [(one, hours) for one, hours in pairs if hours is not None]
        rest = [one for one, hours in pairs if hours is None]
        found: list[Told] = []
        if drawn:
            found += self._kept(drawn, rows[drawn[0][0].kit])
        if rest:
            made = needs_by_book(self.db, self.calendar, self.now, rest, known)
            by_book = list(zip(rest, made.stretches, strict=True))
            found += self._told(self.now, by_book, made.finishes, None)
        return found

    def _kept(self, drawn: Sequence[_Pair], made: KitNeed) -> list[Told]:
        """Draws as they are kept, moved to now."""
        passed = self.calendar.working_h(min(made.made_at, self.now), self.now)
        there = [(at.draw, at.later) for at in stands(_next(drawn, made.finishes), passed)]
        moved = [
            (one, StretchDrawn(one.phases, _moved(hours.starts, there), _moved(hours.ends, there)))
            for one, hours in drawn
        ]
        return self._told(made.made_at, moved, _moved(made.finishes, there), made.made_at)

    def _told(
        self,
        since: datetime,
        drawn: Sequence[_Pair],
        finishes: Sequence[float],
        made_at: datetime | None,
    ) -> list[Told]:
        """The same as instants: open hours through the calendar."""
        over = tuple(self.calendar.each_after(since, finishes))
        return [
            (one.kit, JobNeed(one.job, one.phases, self.lifts.get(one.job),
                              one.begun_at is not None, one.captive,
                              self._instants(since, one, hours), over, made_at))
            for one, hours in drawn
        ]  # fmt: skip

    def _instants(
        self, since: datetime, wanted: Wanted, hours: StretchDrawn
    ) -> tuple[tuple[datetime, datetime], ...]:
        ends = self.calendar.each_after(since, hours.ends)
        if wanted.begun_at is None:
            return tuple(zip(self.calendar.each_after(since, hours.starts), ends, strict=True))
        needed = map(lt, hours.starts, hours.ends)
        begun = wanted.begun_at
        return tuple(
            [(begun if in_it else end, end) for in_it, end in zip(needed, ends, strict=True)]
        )


_Pair = tuple[Wanted, StretchDrawn]


def _moved(hours: Sequence[float], there: Sequence[tuple[int, float]]) -> tuple[float, ...]:
    return tuple([hours[draw] + later for draw, later in there])


def _next(drawn: Sequence[_Pair], finishes: Sequence[float]) -> list[float]:
    """(draws) hours until the first of what is known not to have happened yet."""
    columns: list[Sequence[float]] = [finishes]
    for wanted, one in drawn:
        still = one.ends if wanted.begun_at is not None else one.starts
        needed = map(lt, one.starts, one.ends)
        columns.append([at if in_it else math.inf for at, in_it in zip(still, needed, strict=True)])
    return [min(draw) for draw in zip(*columns, strict=True)]
