"""When a job wants its kits where no forecast says it: the work book's ranges, through the route.

The phases are walked one after another at their middle hours, without any wait; the whole is then
stretched as the job's finish is spread, or its labour where that is not known either. So all that
is slow is slow together.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from random import Random

from store.edges.instants import from_text
from store.file.hours_left import left_of
from store.file.kits.wanted import Wanted, until_here
from store.file.labour import phase_labour_h
from store.file.learned.kept import Forecast
from store.file.learned.kept_needs import DRAWS, StretchDrawn
from store.file.route_now import PhaseRow, phases_of
from store.sums import book_range, moving
from store.sums.working_time import Calendar


@dataclass(frozen=True, slots=True)
class ByBook:
    """Stretches and finishes in open hours from now, as a kept forecast has them."""

    stretches: tuple[StretchDrawn, ...]
    finishes: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class _Walk:
    """Open hours from now until each phase left begins and ends; low, middle and high labour."""

    begins: float
    phases: dict[str, tuple[float, float]]
    labour: tuple[float, float, float]

    @property
    def end(self) -> float:
        return max((end for _, end in self.phases.values()), default=self.begins)


def needs_by_book(
    db: sqlite3.Connection,
    calendar: Calendar,
    now: datetime,
    wanted: Sequence[Wanted],
    known: Forecast | None = None,
) -> ByBook:
    """Return what the work book makes of a job's stretches.

    Args:
        wanted: of one job, one at least.
        known: what was forecast of the whole job, where it was.

    Raises:
        NeverOpens: the shop stays closed.
    """
    walk = _walked(db, calendar, now, wanted[0])
    times = _stretches(calendar, now, walk, known, wanted[0].job)
    first = walk.begins
    return ByBook(
        tuple(_drawn(one, walk, times) for one in wanted),
        tuple(first + (walk.end - first) * one for one in times),
    )


def _drawn(wanted: Wanted, walk: _Walk, times: Sequence[float]) -> StretchDrawn:
    start = min(walk.phases[one][0] for one in wanted.uses or wanted.frees) - walk.begins
    end = max(walk.phases[one][1] for one in wanted.frees) - walk.begins
    return StretchDrawn(
        wanted.phases,
        tuple(walk.begins + start * one for one in times),
        tuple(walk.begins + end * one for one in times),
    )


def _stretches(
    calendar: Calendar, now: datetime, walk: _Walk, known: Forecast | None, job: str
) -> list[float]:
    """By how much each draw is longer than the middle, in an order that is the job's own."""
    levels = [(k + 0.5) / DRAWS for k in range(DRAWS)]
    Random(job).shuffle(levels)
    whole = walk.end - walk.begins
    if known is not None and known.finish is not None and whole > 0:
        passed = calendar.working_h(min(known.made_at, now), now)
        left = moving.left(known.finish.quantiles, passed)
        return [max(0.0, moving.quantile(left, one) - walk.begins) / whole for one in levels]
    if walk.labour[1] <= 0:
        return [1.0] * DRAWS
    return [book_range.quantile(walk.labour, one) / walk.labour[1] for one in levels]


def _walked(db: sqlite3.Connection, calendar: Calendar, now: datetime, wanted: Wanted) -> _Walk:
    at = begins = until_here(calendar, now, wanted)
    found: dict[str, tuple[float, float]] = {}
    ranges: list[tuple[float, float, float]] = []
    for one in phases_of(db, wanted.job):
        if one.state not in ("to come", "under way"):
            continue
        if one.kind == "labour":
            worked = phase_labour_h(db, calendar, wanted.job, one.phase, now)
            ranges.append(left_of(one, worked))
            end = at + ranges[-1][1]
        else:
            end = _without_labour(calendar, now, one, at)
        found[one.phase] = at, end
        at = end
    labour = book_range.total([one for one in ranges if one[1] > 0])
    return _Walk(begins, found, labour)


def _without_labour(calendar: Calendar, now: datetime, phase: PhaseRow, at: float) -> float:
    """When a standing, by the wall clock, or an outwork ends that begins after so many hours."""
    begins = from_text(phase.begun_at) if phase.begun_at else calendar.after(now, at)
    ends = (
        begins + timedelta(hours=phase.middle_h)
        if phase.kind == "standing"
        else calendar.after(begins, phase.middle_h)
    )
    return max(at, calendar.working_h(now, max(now, ends)))
