"""A month's money: labour sold and worked, not charged, not billed, hires, parts, extra work."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence

from store.file.month.asked import Extra, extra_in
from store.file.month.bought import Bought, bought_until, came_in
from store.file.month.clocks import Rates, clocks_in, gone_at
from store.file.month.hires import HiredKit, hires_until
from store.file.month.sold import LiveJob, PaidJob, closed_in, declined_in, live_at
from store.sums.month.sold import sold
from store.views.month.down import by_job, clock_way, most_first, summed, total, works
from store.views.month.hires import hired_so_far, hires_of
from store.views.month.look import Look
from store.views.month.spent_values import Money, NotCharged
from store.views.month.way import Figure, Way

WORKED = "Labour of lead and helpers in the month x the shop's rate of the day it began on."
ESTIMATED = "Hours as agreed of the phases finished in the month x the rate of that day."
SOLD = (
    "Labour that customers pay, of jobs whose work ended in the month: a fixed price as agreed, at "
    "the rate of that day; with a ceiling what was worked up to it; on time what was worked."
)
NOT_BILLED = (
    "Jobs that were neither closed nor declined at the month's end: labour so far at its rates, "
    "and parts, outwork and hires so far where their prices are known."
)
AGREED = "Extra work that customers agreed to in the month: as it was asked, else hours x rate."
ASKED = "Extra work asked in the month, whatever was answered."
REFUSED = "Extra work that customers refused in the month."
PARTS = "Parts that came in the month and were not sent back in it, where a price is known."
OUTWORK = "Outwork that came back in the month, where a price is known."


def money_of(look: Look) -> Money:
    """Return the money of a month."""
    rates, names, gone = Rates(look.db), works(look), gone_at(look.db)
    ended = [
        *closed_in(look.db, look.facts, look.span, look.calendar, rates, look.now),
        *declined_in(look.db, gone, look.span, look.calendar, rates, look.now),
    ]
    clocks = clocks_in(look.db, look.calendar, look.span, look.now)
    worked = by_job(look, (one for one in clocks if one.labour), names, rates.of)
    bought = bought_until(look.db, look.span.until)
    hires = hires_until(look.db, look.calendar, look.span, look.now)
    came = came_in(bought, look.span)
    live = live_at(look.db, gone, look.span, look.calendar, look.now)
    extras = extra_in(look.db, look.span)
    return Money(
        labour_worked=summed("money", WORKED, worked),
        labour_estimated=summed("money", ESTIMATED, _estimated(look, rates, names)),
        labour_sold=summed("money", SOLD, _sold(ended)),
        not_charged=_not_charged(look, ended, rates),
        not_billed=summed("money", NOT_BILLED, _not_billed(look, live, bought, hires, rates)),
        supplements=_extra(look, AGREED, extras, rates, "approved"),
        supplements_asked=_extra(look, ASKED, extras, rates, None),
        supplements_refused=_extra(look, REFUSED, extras, rates, "refused"),
        parts=summed("money", PARTS, (_bought(one) for one in came if not one.outwork)),
        outwork=summed("money", OUTWORK, (_bought(one) for one in came if one.outwork)),
        **hires_of(look, hires),
    )  # fmt: skip


def _estimated(look: Look, rates: Rates, names: dict[str, str]) -> tuple[Way, ...]:
    jobs: dict[str, list[Way]] = defaultdict(list)
    for one in look.facts.phases_of(look.span):
        assert one.finished_at is not None
        rate = rates.on(look.calendar.day_of(one.finished_at))
        money = None if rate is None else rate * one.estimate_h
        events = tuple(clock.seq for clock in one.clocks)
        jobs[one.job].append(
            Way(one.name, money, one.job, one.phase, at=one.finished_at, events=events)
        )
    return most_first(
        Way(names.get(job, job), total(one.value for one in ways), job, ways=tuple(ways))
        for job, ways in jobs.items()
    )


def _sold(ended: Sequence[PaidJob]) -> tuple[Way, ...]:
    return most_first(
        Way(one.work, sold(one.paid).money, one.job, at=one.at, events=_events(one))
        for one in ended
        if sold(one.paid).hours or one.paid.worked_h
    )


def _events(one: PaidJob) -> tuple[int, ...]:
    ended = () if one.seq is None else (one.seq,)
    return (*(clock.seq for clock in one.clocks), *ended)


def _not_charged(look: Look, ended: Sequence[PaidJob], rates: Rates) -> tuple[NotCharged, ...]:
    """By cause and price basis, the most hours first; under each its jobs, with their clocks."""
    found: dict[tuple[str, str], list[Way]] = defaultdict(list)
    hours: dict[tuple[str, str], float] = defaultdict(float)
    for one in ended:
        for lost in sold(one.paid).lost:
            key = (lost.cause, one.paid.basis or "none")
            clocks = tuple(
                clock_way(look, each, lambda clock: rates.of(clock, clock.whole_h))
                for each in one.clocks
            )
            found[key].append(
                Way(one.work, lost.money, one.job, at=one.at, events=_events(one), ways=clocks)
            )
            hours[key] += lost.hours
    lines = (
        NotCharged(cause, basis, hours[cause, basis], total(one.value for one in ways),
                   most_first(ways))
        for (cause, basis), ways in found.items()
    )  # fmt: skip
    return tuple(sorted(lines, key=lambda one: -one.hours))


def _not_billed(
    look: Look,
    live: Sequence[LiveJob],
    bought: Sequence[Bought],
    hires: Sequence[HiredKit],
    rates: Rates,
) -> tuple[Way, ...]:
    """Job by job; under each its labour by phase, what was bought and what was hired for it."""
    ways: list[Way] = []
    for job in live:
        lines = [
            *by_job(look, job.clocks, {job.job: "labour"}, rates.of),
            *(_bought(one) for one in bought if one.job == job.job),
            *(hired_so_far(look, one) for one in hires if one.job == job.job),
        ]
        if lines:
            ways.append(Way(job.work, total(one.value for one in lines), job.job,
                            ways=tuple(lines)))  # fmt: skip
    return most_first(ways)


def _bought(one: Bought) -> Way:
    return Way(one.says, one.money, one.job, at=one.at, events=(one.seq,))


def _extra(
    look: Look, explained: str, extras: Sequence[Extra], rates: Rates, state: str | None
) -> Figure:
    """Extra work of the month in some state; None: all that was asked in it."""

    def falls(one: Extra) -> bool:
        if state is None:
            return look.span.holds(one.asked_at)
        answered = one.answered_at
        return one.state == state and answered is not None and look.span.holds(answered)

    return summed("money", explained, _extra_ways(look, filter(falls, extras), rates))


def _extra_ways(look: Look, extras: Iterator[Extra], rates: Rates) -> Iterator[Way]:
    for one in extras:
        rate = rates.on(look.calendar.day_of(one.asked_at))
        money = one.money
        if money is None and rate is not None:
            money = one.hours * rate
        yield Way(one.text, money, one.job, at=one.asked_at, events=one.events)
