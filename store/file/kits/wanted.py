"""Stretches of phases for which jobs still want a kit, as the learner and the views both read it.

A kit is wanted from the first of some phases in a row to the last of them. One that is fixed on the
open unit is wanted until the phase has ended that frees it, whatever lies between.
"""

from __future__ import annotations

import json
import sqlite3
from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time

from store.edges.instants import from_text
from store.file.kits.now import LIVE, Fixed, fixed_until
from store.sums.working_time import Calendar, at_zone


@dataclass(frozen=True, slots=True)
class Wanted:
    """One stretch of one job that is not over.

    Attributes:
        kit: its code.
        phases: numbers of all phases of the stretch in the order of the route, finished ones too.
        uses: those of them that work with the kit and are not finished.
        frees: those at whose end it is free: all in `uses`, and those until which it is fixed.
        begun_at: when the first that works with it was begun; None where none was.
        captive: it is fixed on the open unit for a part of it.
        comes: the local day on which the vehicle is to come, where it is booked.
    """

    job: str
    kit: str
    phases: tuple[str, ...]
    uses: tuple[str, ...]
    frees: tuple[str, ...]
    begun_at: datetime | None
    captive: bool
    comes: date | None = None


@dataclass(frozen=True, slots=True)
class _Phase:
    job: str
    number: str
    code: str
    version: int | None
    finished: bool
    kits: tuple[str, ...]
    begun_at: str | None
    comes: str | None


def kits_wanted(
    db: sqlite3.Connection, jobs: Collection[str] | None = None
) -> dict[str, tuple[Wanted, ...]]:
    """Return what jobs that go on still want, by number; jobs that want no kit are left out.

    Args:
        jobs: None: all.
    """
    routes = _routes(db, jobs)
    fixed = fixed_until(db, _versions(routes.values()))
    found = {job: tuple(_of_job(route, fixed)) for job, route in routes.items()}
    return {job: each for job, each in found.items() if each}


def _routes(db: sqlite3.Connection, jobs: Collection[str] | None) -> Mapping[str, list[_Phase]]:
    """The phases of jobs that go on and have any phase with a kit; skipped ones left out."""
    asked = "" if jobs is None else f"and job in ({', '.join('?' * len(jobs))}) "
    found: dict[str, list[_Phase]] = defaultdict(list)
    for row in db.execute(
        "select job, phase, code, phase.version, phase.state, kits, begun_at, "
        "case when job.state = 'booked' and arrived_at is null then arrives end from job "
        f"cross join phase using (job) where job.{LIVE} and phase.state != 'skipped' {asked}"
        "and exists (select 1 from phase as one where one.job = job.job and one.kits != '[]' "
        "and one.state != 'skipped') order by +number, position",
        list(jobs or ()),
    ):
        found[row[0]].append(
            _Phase(row[0], row[1], row[2], row[3], row[4] == "finished",
                   tuple(json.loads(row[5])), row[6], row[7])
        )  # fmt: skip
    return found


def _versions(routes: Iterable[Sequence[_Phase]]) -> set[int]:
    return {one.version for each in routes for one in each if one.kits and one.version is not None}


def _of_job(route: Sequence[_Phase], fixed: Fixed) -> Iterator[Wanted]:
    for kit in dict.fromkeys(kit for one in route for kit in one.kits):
        for first, last, ends in _runs(route, kit, fixed):
            found = _wanted(route[first : last + 1], kit, {route[end].number for end in ends})
            if found.frees:
                yield found


def _runs(
    route: Sequence[_Phase], kit: str, fixed: Fixed
) -> Iterator[tuple[int, int, frozenset[int]]]:
    """First and last place of each stretch, and the places until which the kit is fixed."""
    place = {one.code: n for n, one in enumerate(route)}
    first = last = -1
    ends: frozenset[int] = frozenset[int]()
    for n, one in enumerate(route):
        if kit not in one.kits:
            continue
        until = place.get(fixed.get((one.version, one.code, kit), ""), n)
        if first >= 0 and n > last + 1:
            yield first, last, ends
            first, last, ends = -1, -1, frozenset[int]()
        first, last = (n if first < 0 else first), max(last, n, until)
        ends |= {until} if until > n else frozenset[int]()
    if first >= 0:
        yield first, last, ends


def _wanted(run: Sequence[_Phase], kit: str, ends: Collection[str]) -> Wanted:
    begun = [one.begun_at for one in run if kit in one.kits and one.begun_at is not None]
    left = [one for one in run if not one.finished]
    return Wanted(
        run[0].job, kit, tuple(one.number for one in run),
        tuple(one.number for one in left if kit in one.kits),
        tuple(one.number for one in left if kit in one.kits or one.number in ends),
        from_text(min(begun)) if begun else None, bool(ends),
        date.fromisoformat(run[0].comes) if run[0].comes else None,
    )  # fmt: skip


def until_here(calendar: Calendar, now: datetime, wanted: Wanted) -> float:
    """Return the open hours until the day on which the vehicle is to come; 0: it is here."""
    if wanted.comes is None:
        return 0.0
    day = at_zone(wanted.comes, time(), calendar.zone)
    return calendar.working_h(now, max(now, day))
