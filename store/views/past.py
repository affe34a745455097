"""A job's past along time: worked, held, standing, and from where on it took longer."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from datetime import datetime

from store.edges.instants import from_text
from store.file.labour import clock_labour_h
from store.file.route_now import PhaseRow
from store.sums.clock_labour import counts_to
from store.sums.working_time import Calendar
from store.views.loading import ClockRow, HoldRow
from store.views.values import PastKind, Stretch


def labour_by_phase(
    calendar: Calendar, clocks: Sequence[ClockRow], now: datetime, *, learner: bool = False
) -> dict[str, float]:
    """Return labour hours by phase number: of lead and helpers, or of learners."""
    found: dict[str, float] = defaultdict(float)
    for one in clocks:
        if (one.part == "learner") == learner:
            found[one.phase] += clock_labour_h(
                calendar, one.since, one.until, one.breaks_worked, now
            )
    return found


def stretches(
    calendar: Calendar,
    phases: Sequence[PhaseRow],
    clocks: Sequence[ClockRow],
    holds: Sequence[HoldRow],
    now: datetime,
) -> tuple[Stretch, ...]:
    """Return the pieces of a job's past, in the order of their beginning."""
    found = _worked(calendar, phases, clocks, now)
    for one in holds:
        since = from_text(one.since)
        until = from_text(one.until) if one.until else max(now, since)
        found.append(Stretch("held", one.phase, since, until, going_on=one.until is None))
    for phase in phases:
        if phase.kind != "labour" and phase.begun_at and phase.state != "skipped":
            since = from_text(phase.begun_at)
            until = from_text(phase.finished_at) if phase.finished_at else max(now, since)
            kind: PastKind = "standing" if phase.kind == "standing" else "outwork"
            found.append(
                Stretch(kind, phase.phase, since, until, going_on=phase.finished_at is None)
            )
    return tuple(sorted(found, key=lambda one: (one.since, one.until, one.phase or "")))


def _worked(
    calendar: Calendar, phases: Sequence[PhaseRow], clocks: Sequence[ClockRow], now: datetime
) -> list[Stretch]:
    estimate = {one.phase: one.middle_h for one in phases}
    sofar: dict[str, float] = defaultdict(float)
    found: list[Stretch] = []
    for one in clocks:
        if one.part == "learner":
            continue
        since = from_text(one.since)
        end = from_text(one.until) if one.until else counts_to(calendar, since, now)[0]
        end = max(end, since)
        hours = clock_labour_h(calendar, one.since, one.until, one.breaks_worked, now)
        over = _over_from(calendar, since, hours, sofar[one.phase], estimate.get(one.phase, 0.0))
        sofar[one.phase] += hours
        found.append(Stretch("worked", one.phase, since, end, one.until is None, over))
    return found


def _over_from(
    calendar: Calendar, since: datetime, hours: float, before: float, estimate: float
) -> datetime | None:
    if before >= estimate:
        return since
    if before + hours <= estimate or not calendar.is_open(since):
        return None
    return calendar.after(since, estimate - before)
