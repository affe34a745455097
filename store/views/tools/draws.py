"""Needs in draws, as sums take them, as lines tell them, and as the time line fades them."""

from __future__ import annotations

import math
import sqlite3
from bisect import bisect_right
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from functools import lru_cache

from store.sums.hires.needs import NOT, Need, need_of
from store.sums.working_time import Calendar
from store.views.tools.kit_needs import JobNeed
from store.views.tools.values import KitWanted

LEAST = 0.05
"""A stretch that is needed with a smaller chance is passed over."""
AHEAD = timedelta(days=15)
EVERY = timedelta(hours=1)
"""How far ahead, and how often, the chance of need is told."""


@dataclass(frozen=True, slots=True)
class Drawn:
    """One stretch of one job: as it is told, and in draws.

    Attributes:
        finishes: of the job, in the same draws.
        promise: epoch seconds.
    """

    told: KitWanted
    need: Need
    finishes: Sequence[datetime]
    promise: float | None


def drawn(
    db: sqlite3.Connection,
    found: Mapping[str, Sequence[JobNeed]],
    cautious: float,
) -> dict[str, tuple[Drawn, ...]]:
    """Return the stretches by kit, all with as many draws, the first to need it first."""
    many = max((len(one.draws) for each in found.values() for one in each), default=0)
    left, promises = _left(db), _promises(db)
    return {
        kit: tuple(
            _drawn(one, many, cautious, left.get(one.job, ()), promises.get(one.job))
            for one in each
            if one.needed >= LEAST
        )
        for kit, each in found.items()
    }


def _left(db: sqlite3.Connection) -> dict[str, set[str]]:
    """Phases that are not over, by job."""
    found: dict[str, set[str]] = {}
    for job, phase in db.execute(
        "select job, phase from job cross join phase using (job) where phase.state in "
        "('to come', 'under way') and job.state not in ('closed', 'declined', 'turned-away')"
    ):
        found.setdefault(job, set()).add(phase)
    return found


def _promises(db: sqlite3.Connection) -> dict[str, float]:
    rows = db.execute(
        "select job, promise from job where promise is not null "
        "and state not in ('closed', 'declined', 'turned-away')"
    )
    return {row[0]: datetime.fromisoformat(row[1]).timestamp() for row in rows}


def _drawn(
    one: JobNeed, many: int, cautious: float, left: set[str] | tuple[str, ...],
    promise: float | None,
) -> Drawn:  # fmt: skip
    places = _places(len(one.draws), many)
    draws = one.draws if len(one.draws) == many else [one.draws[k] for k in places]
    need = need_of(one.job, draws, begun=one.begun, captive=one.captive)
    phase = next((each for each in one.phases if each in left), one.phases[-1])
    starts, ends = (sorted(at for at in side if at < NOT) for side in (need.start, need.end))
    told = KitWanted(
        one.job, phase, _at(starts, 0.5), _at(ends, 0.5), _at(ends, cautious), one.phases,
        one.begun, one.captive, one.lift, one.needed,
    )  # fmt: skip
    same = len(one.finishes) == many
    finishes = one.finishes if same else [one.finishes[k] for k in places]
    return Drawn(told, need, finishes, promise)


def _places(here: int, many: int) -> range | list[int]:
    """Which of a smaller number of draws stands for each: all of them as often."""
    return range(many) if here == many else [k * here // many for k in range(many)]


def _at(rising: Sequence[float], level: float) -> datetime:
    """A quantile, of the draws in which the kit is needed."""
    place = min(len(rising) - 1, math.floor(level * len(rising)))
    return datetime.fromtimestamp(rising[place], UTC)


def needed_after(needs: Sequence[Need], at: datetime) -> float:
    """Return the chance that a kit is still needed after an instant, by any of some stretches."""
    if not needs:
        return 0.0
    moment = at.timestamp()
    many = len(needs[0].end)
    still = sum(any(moment < need.end[k] < NOT for need in needs) for k in range(many))
    return still / many


def curve(
    needs: Sequence[Need], calendar: Calendar, now: datetime
) -> tuple[tuple[datetime, float], ...]:
    """Return the chance that a kit is in need at instants ahead, in open time: a look an hour."""
    if not needs:
        return ()
    spans = _merged(needs)
    starts = sorted(since for since, _ in spans)
    ends = sorted(until for _, until in spans)
    many = len(needs[0].start)
    found: list[tuple[datetime, float]] = []
    for at, moment in _looks(calendar, now):
        found.append((at, _share(starts, ends, moment, many)))
        if moment > ends[-1]:
            break
    last = next((n for n in range(len(found), 0, -1) if found[n - 1][1] > 0), 0)
    return tuple(found[: last + 1])


@lru_cache(maxsize=2)
def _looks(calendar: Calendar, now: datetime) -> list[tuple[datetime, float]]:
    """Instants ahead in open time, and the same as epoch seconds."""
    return [
        (at, at.timestamp())
        for since, until in calendar.open_spans(now, now + AHEAD)
        for at in (since + n * EVERY for n in range(max(1, math.ceil((until - since) / EVERY))))
    ]


def _share(starts: Sequence[float], ends: Sequence[float], moment: float, many: int) -> float:
    """As many as have begun, less those that are over."""
    inside = bisect_right(starts, moment) - bisect_right(ends, moment)
    return round(inside / many, 4)


def _merged(needs: Sequence[Need]) -> list[tuple[float, float]]:
    """All spans of all draws; within a draw those that touch are one."""
    if len(needs) == 1:
        pairs = zip(needs[0].start, needs[0].end, strict=True)
        return [one for one in pairs if one[0] < NOT]
    made: list[tuple[float, float]] = []
    for k in range(len(needs[0].start)):
        row = sorted((need.start[k], need.end[k]) for need in needs if need.start[k] < NOT)
        at = len(made)
        for since, until in row:
            if len(made) > at and since <= made[-1][1]:
                made[-1] = (made[-1][0], max(made[-1][1], until))
            else:
                made.append((since, until))
    return made
