"""A month's lifts: worked, held, dead and empty hours, what they earned; and work booked ahead."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from datetime import UTC, datetime

from store.file.attended import days_between
from store.file.month.asked import booked_ahead
from store.file.month.clocks import Rates, clocks_in, gone_at, holds_in
from store.file.month.lifts import LiftIn, StayIn, lifts_in
from store.sums.month.hours import ClockIn, divided
from store.sums.month.lifts import Stood, lift_time
from store.sums.spans import Stretch, common, merged, without
from store.views.month.down import most_first
from store.views.month.look import Look
from store.views.month.spent_values import LiftHours, Lifts
from store.views.month.way import Figure, Way

AHEAD = (
    "Hours as agreed of jobs agreed and not begun / hours worked on jobs a shop day of the month:"
)

Stretches = Mapping[str, Sequence[Stretch]]


def lifts_of(look: Look) -> Lifts:
    """Return every lift's worked, held and dead hours, and how far ahead the shop is booked."""
    span, gone = look.span, gone_at(look.db)
    clocks = [
        one for one in clocks_in(look.db, look.calendar, span, look.now) if one.job is not None
    ]
    worked: dict[str, list[Stretch]] = defaultdict(list)
    for one in clocks:
        worked[one.job or ""] += _stretches(one)
    held: dict[str, list[Stretch]] = defaultdict(list)
    for hold in holds_in(look.db, span, gone):
        held[hold.job].append((hold.since.timestamp(), hold.until.timestamp()))
    open_ = [
        (start.timestamp(), end.timestamp())
        for start, end in look.calendar.open_spans(span.since, span.until)
    ]
    earning = _earning(look, clocks)
    found = [
        _lift(look, one, open_, worked, held, earning) for one in lifts_in(look.db, span, gone)
    ]
    labour_h = sum(one.hours for one in clocks if one.labour)
    return Lifts(tuple(found), _ahead(look, gone, labour_h))


def _lift(
    look: Look,
    lift: LiftIn,
    open_: Sequence[Stretch],
    worked: Stretches,
    held: Stretches,
    earning: Mapping[str, Sequence[tuple[ClockIn, float | None]]],
) -> LiftHours:
    here = common(open_, [lift.here])
    stays = _by_job(lift.stays)
    stood = [
        Stood(job, [one.stretch for one in each], worked.get(job, ()), held.get(job, ()))
        for job, each in stays.items()
    ]
    time = lift_time(here, lift.out, stood)
    ways = [_stood(job, each, here) for job, each in stays.items()]
    in_service = without(here, merged(lift.out))
    days = len({look.calendar.day_of(_instant(start)) for start, _ in in_service})
    earned = _earned(stood, earning)
    return LiftHours(
        lift.code, time.open_h, time.worked_h, time.held_h, time.dead_h, time.empty_h, time.out_h,
        most_first(one for one in ways if one.value), earned, days,
        divided(earned, days) if earned is not None else None,
    )  # fmt: skip


def _stood(job: str, stays: Sequence[StayIn], here: Sequence[Stretch]) -> Way:
    """The open hours for which a job stood there."""
    hours = sum(end - start for start, end in common(here, merged(one.stretch for one in stays)))
    return Way(stays[0].work, hours / 3600, job, events=tuple(one.seq for one in stays))


def _by_job(stays: Iterable[StayIn]) -> dict[str, list[StayIn]]:
    found: dict[str, list[StayIn]] = defaultdict(list)
    for one in stays:
        found[one.job].append(one)
    return dict(found)


def _earning(
    look: Look, clocks: Iterable[ClockIn]
) -> dict[str, list[tuple[ClockIn, float | None]]]:
    """Labour that earns, by job, with the rate of its day: none of a comeback the shop pays."""
    rates = Rates(look.db)
    free = {row[0] for row in look.db.execute("select job from comeback where pays = 'shop'")}
    found: dict[str, list[tuple[ClockIn, float | None]]] = defaultdict(list)
    for one in clocks:
        if one.labour and one.job is not None and one.job not in free:
            found[one.job].append((one, rates.on(one.day)))
    return dict(found)


def _earned(
    stood: Iterable[Stood], earning: Mapping[str, Sequence[tuple[ClockIn, float | None]]]
) -> float | None:
    """Hours worked on what stood there x the rates of their days; None where one lacks."""
    total = 0.0
    for job in stood:
        stays = merged(job.stays)
        for clock, rate in earning.get(job.job, ()):
            hours = sum(end - start for start, end in common(_stretches(clock), stays)) / 3600
            if hours and rate is None:
                return None
            total += hours * (rate or 0.0)
    return total


def _ahead(look: Look, gone: Mapping[str, tuple[datetime, int]], labour_h: float) -> Figure:
    """Shop days that the work booked would take at the month's own pace."""
    days = [
        day
        for day in days_between(look.span.first, look.calendar.day_of(look.span.until))
        if day <= look.span.last and look.calendar.shifts_of(day)
    ]
    a_day = divided(labour_h, len(days))
    booked = booked_ahead(look.db, gone, look.span.until)
    hours = sum(one.hours for one in booked)
    if not a_day:
        return Figure(None, "days", f"{AHEAD} nothing was worked to go by.")
    ways = (Way(one.work, one.hours / a_day, one.job, events=(one.seq,)) for one in booked)
    return Figure(
        hours / a_day, "days", f"{AHEAD} {hours:.1f} / {a_day:.1f}.", most_first(ways)
    )  # fmt: skip


def _stretches(clock: ClockIn) -> list[Stretch]:
    return [(start.timestamp(), end.timestamp()) for start, end in clock.spans]


def _instant(at: float) -> datetime:
    return datetime.fromtimestamp(at, UTC)
