"""The way down of figures that are made of clocks: job, phase, clock."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence

from store.sums.month.hours import ClockIn, Span
from store.views.month.look import Look
from store.views.month.way import Figure, Unit, Way

Worth = Callable[[ClockIn], float | None]


def hours(clock: ClockIn) -> float:
    """What a clock is worth where hours are told."""
    return clock.hours


def works(look: Look) -> dict[str, str]:
    """Return what each job is, in words, by its number."""
    return {row[0]: row[1] for row in look.db.execute("select job, work from job")}


def by_job(
    look: Look, clocks: Iterable[ClockIn], names: dict[str, str], worth: Worth = hours
) -> tuple[Way, ...]:
    """Return clocks on jobs by job, by phase, one by one; the most first."""
    jobs: dict[str, list[ClockIn]] = defaultdict(list)
    for one in clocks:
        if one.job is not None:
            jobs[one.job].append(one)
    ways = (
        Way(names.get(job, job), total(map(worth, each)), job, ways=_phases(look, each, worth))
        for job, each in jobs.items()
    )
    return most_first(ways)


def _phases(look: Look, clocks: Sequence[ClockIn], worth: Worth) -> tuple[Way, ...]:
    phases: dict[str | None, list[ClockIn]] = defaultdict(list)
    for one in clocks:
        phases[one.phase].append(one)
    return tuple(
        Way(
            each[0].phase_name or "", total(map(worth, each)), each[0].job, phase,
            ways=tuple(clock_way(look, one, worth) for one in each),
        )
        for phase, each in phases.items()
    )  # fmt: skip


def clock_way(look: Look, clock: ClockIn, worth: Worth = hours) -> Way:
    """Return one clock; whose it is only where the reader may know."""
    seen = look.sees(clock.badge)
    says = clock.name if seen else "a clock"
    badge = clock.badge if seen else None
    return Way(
        says, worth(clock), clock.job, clock.phase, badge, clock.since, events=(clock.seq,)
    )  # fmt: skip


def total(values: Iterable[float | None]) -> float | None:
    """Return a sum; None where one of them is not known."""
    found = 0.0
    for one in values:
        if one is None:
            return None
        found += one
    return found


def most_first(ways: Iterable[Way]) -> tuple[Way, ...]:
    """Return ways with the largest first."""
    return tuple(sorted(ways, key=lambda one: -(one.value or 0.0)))


def summed(unit: Unit, explained: str, ways: Iterable[Way]) -> Figure:
    """Return the sum of ways; unknown where one of them is."""
    lines = tuple(ways)
    return Figure(total(one.value for one in lines), unit, explained, lines)


def open_h(look: Look, spans: Iterable[Span]) -> float:
    """Return the shop's open hours in spans."""
    return sum(look.calendar.working_h(start, end) for start, end in spans)
