"""Hires by brute force: minute by minute, draw by draw, every mixture of rates; nothing is shared.

Days are numbers from Monday 12 October 2026 on, instants minutes from that midnight, UTC. Open from
8 to 12 and from 13 to 16, Monday to Friday: seven hours a day.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta

from store.sums.hires.days import ShopDays
from store.sums.hires.needs import NOT, Need
from store.sums.hires.terms import Terms
from store.sums.week_plan import Span, WeekPlan
from store.sums.working_time import Calendar

MONDAY = datetime(2026, 10, 12, tzinfo=UTC)
DAY = 1440
OPENS = 480
HOURS_A_DAY = 7
FIVE = (1, 2, 3, 4, 5)
SHOP = ShopDays(
    Calendar(
        "UTC",
        [
            WeekPlan(
                date(2020, 1, 1),
                (Span(FIVE, time(8), time(16)),),
                (Span(FIVE, time(12), time(13)),),
            )
        ],
    )
)


def is_open(minute: int) -> bool:
    """Whether somebody works in that minute."""
    of_day = minute % DAY
    return minute // DAY % 7 < 5 and (480 <= of_day < 720 or 780 <= of_day < 960)


MINUTES = [minute for minute in range(200 * DAY) if is_open(minute)]


def instant(minute: int) -> datetime:
    """That minute."""
    return MONDAY + timedelta(minutes=minute)


def day_of(number: int) -> date:
    """That day."""
    return (MONDAY + timedelta(days=number)).date()


def number_of(day: date) -> int:
    """Its number."""
    return (day - MONDAY.date()).days


def open_minutes(since: int, until: int) -> int:
    """Open minutes between two, one by one."""
    return max(0, bisect_left(MINUTES, until) - bisect_left(MINUTES, since))


def later(minute: int, work: int) -> int:
    """When so many open minutes have passed; none pass at once."""
    return MINUTES[bisect_left(MINUTES, minute) + work - 1] + 1 if work else minute


def carrier(number: int) -> bool:
    """Whether the carrier comes."""
    return number % 7 < 5


def carriers(number: int, after: int) -> int:
    """The working day so many after one; at 0 the first from it on."""
    while not carrier(number):
        number += 1
    for _ in range(after):
        number += 1
        while not carrier(number):
            number += 1
    return number


@dataclass(frozen=True)
class Draw:
    """One stretch of one draw in minutes; None: not needed."""

    start: int
    end: int


Draws = Sequence[Draw | None]


def need(draws: Draws, job: str = "2417", *, begun: bool = False, captive: bool = False,
         on_lift: bool = True) -> Need:  # fmt: skip
    """The same as the sums take it."""
    starts = [NOT if one is None else instant(one.start).timestamp() for one in draws]
    ends = [NOT if one is None else instant(one.end).timestamp() for one in draws]
    return Need(job, starts, ends, begun, captive, on_lift)


def price(terms: Terms, days: float) -> float:
    """The cheapest of all mixtures, one after another."""
    rates = terms.rates
    days = max(days, rates.minimum_days)
    months = range(1 if rates.month is None else int(days // 30) + 2)
    weeks = range(1 if rates.week is None else int(days // 7) + 2)
    return min(
        m * (rates.month or 0) + w * (rates.week or 0) + max(0, days - 30 * m - 7 * w) * rates.day
        for m in months
        for w in weeks
    )


def days_paid(terms: Terms, came: int, handed: int) -> float:
    """Day by day; it came in the morning."""
    back = terms.house.back_days if terms.house.counts == "arrival" else 0
    half = terms.house.weekend == "half"
    return sum(
        0.5 if half and number % 7 >= 5 else 1.0
        for number in range(came, carriers(handed, back) + 1)
    )


def handed_on(terms: Terms, end: int) -> int:
    """The day for which a hand-over counts when the need is over."""
    cut_off = terms.house.cut_off
    number, of_day = divmod(end, DAY)
    in_time = of_day <= cut_off.hour * 60 + cut_off.minute
    return carriers(number if in_time else number + 1, 0)


@dataclass(frozen=True)
class Spent:
    """Means over the draws."""

    hire: float
    late: float
    waiting: float
    needed: float

    @property
    def total(self) -> float:
        return self.hire + self.late + self.waiting


def spent(
    terms: Terms,
    jobs: Sequence[Draws],
    came: int,
    back: int,
    lift_day: float,
    *,
    here: bool = False,
) -> Spent:
    """What a hire costs that came on the morning of one day and is agreed until another.

    Args:
        jobs: one stretch a draw each. here: it has come already, nobody waits.
    """
    rows = [_one(terms, draw, came, back, lift_day, here) for draw in zip(*jobs, strict=True)]
    sums = [sum(column) / len(rows) for column in zip(*rows, strict=True)]
    return Spent(*sums)


def _one(
    terms: Terms, jobs: Sequence[Draw | None], came: int, back: int, lift_day: float, here: bool
) -> tuple[float, float, float, float]:
    waiting, handed = 0.0, came
    for job in jobs:
        if job is None:
            continue
        wait = 0 if here else open_minutes(job.start, came * DAY + OPENS)
        waiting += wait / 60 / HOURS_A_DAY * lift_day
        handed = max(handed, handed_on(terms, later(job.end, wait)))
    agreed = max(back, came)
    fee = max(0, handed - agreed) * terms.house.late * terms.rates.day
    hire = price(terms, days_paid(terms, came, max(agreed, handed)))
    return hire, fee, waiting, float(any(jobs) and handed > back)


def mixed(
    terms: Terms, jobs: Sequence[Draws], delivery: int, back: int, lift_day: float,
    arrivals: Sequence[float],
) -> Spent:  # fmt: skip
    """The same for a delivery day, over how late it may come."""
    every = [
        (chance, spent(terms, jobs, carriers(delivery, late), back, lift_day))
        for late, chance in enumerate(arrivals)
    ]
    return Spent(
        sum(chance * one.hire for chance, one in every),
        sum(chance * one.late for chance, one in every),
        sum(chance * one.waiting for chance, one in every),
        sum(chance * one.needed for chance, one in every),
    )


def best(
    terms: Terms, jobs: Sequence[Draws], first: int, lift_day: float, arrivals: Sequence[float],
    days: int,
) -> tuple[float, list[tuple[int, int]]]:  # fmt: skip
    """Every pair of working days tried: the least money, and all pairs that cost no more."""
    totals = {
        (delivery, back): mixed(terms, jobs, delivery, back, lift_day, arrivals).total
        for delivery in range(first, first + days)
        for back in range(delivery, first + 2 * days)
        if carrier(delivery) and carrier(back)
    }
    least = min(totals.values())
    return least, [pair for pair, total in totals.items() if total < least + 1e-6]
