"""Expected costs of hires by brute force: every draw, every pair of days, walked by hand.

Nothing of the program's sums is used: days are Monday to Friday, 07:30 to 16:30 with a break from
12:00 to 12:45, and money is counted day by day as the terms are written.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from functools import cache
from zoneinfo import ZoneInfo

from store.sums.hires.terms import Terms

ZONE = ZoneInfo("Europe/Amsterdam")
SPANS = ((time(7, 30), time(12)), (time(12, 45), time(16, 30)))
DAY_H = 8.25
DAY = timedelta(days=1)

Draw = tuple[datetime, datetime]


def works(day: date) -> bool:
    """A carrier comes that day."""
    return day.weekday() < 5


def next_day(day: date, count: int) -> date:
    """So many working days on."""
    while count > 0 or not works(day):
        day += DAY
        count -= works(day)
    return day


def local(day: date, clock: time) -> datetime:
    """A time of a day."""
    return datetime.combine(day, clock, ZONE)


def open_h(since: datetime, until: datetime) -> float:
    """Open hours between two instants."""
    total, day = 0.0, since.astimezone(ZONE).date()
    while local(day, time(0)) < until:
        if works(day):
            for start, end in SPANS:
                begin, stop = max(local(day, start), since), min(local(day, end), until)
                total += max(0.0, (stop - begin).total_seconds())
        day += DAY
    return total / 3600


def later(at: datetime, hours: float) -> datetime:
    """The instant so many open hours on."""
    if hours <= 1e-9:
        return at
    day = at.astimezone(ZONE).date()
    while True:
        for start, end in SPANS if works(day) else ():
            begin, stop = max(local(day, start), at), local(day, end)
            room = (stop - begin).total_seconds() / 3600
            if room > 0:
                if hours <= room + 1e-9:
                    return begin + timedelta(hours=hours)
                hours -= room
        day += DAY


def handed(end: datetime, cut: time) -> date:
    """The day for which a hand-over after the work counts."""
    at = end.astimezone(ZONE)
    day = at.date() if at.time() <= cut else at.date() + DAY
    while not works(day):
        day += DAY
    return day


def rent(terms: Terms, came: date, back: date) -> float:
    """Money for the days: as many weeks as are cheapest, the rest by the day."""
    rates = terms.rates
    days = max((back - came).days + 1, rates.minimum_days)
    weeks = range(days // 7 + 2) if rates.week is not None else range(1)
    return min(one * (rates.week or 0) + max(0, days - 7 * one) * rates.day for one in weeks)


@dataclass(frozen=True)
class Case:
    """One draw of need, and one day on which the kit comes: its share, and what follows."""

    share: float
    day: date
    wait_h: float
    over: date | None
    """The day for which a hand-over counts once the work is done; None: nobody needs it."""


def case(terms: Terms, share: float, day: date, here: datetime, draw: Draw) -> Case:
    """What follows if a kit is here at an instant."""
    since, until = draw
    if since >= until:
        return Case(share, day, 0.0, None)
    wait, over = _over(terms.house.cut_off, here, since, until)
    return Case(share, day, wait, over)


@cache
def _over(cut: time, here: datetime, since: datetime, until: datetime) -> tuple[float, date]:
    """Hours of waiting, and the day of the hand-over."""
    wait = open_h(since, here) if since < here else 0.0
    return wait, handed(later(until, wait), cut)


def cost(terms: Terms, cases: Sequence[Case], back: date, lift_day: float) -> float:
    """Expected money if the day agreed is `back`, or the next day after the kit came."""
    total = 0.0
    for one in cases:
        agreed = max(back, next_day(one.day, 0))
        last = agreed if one.over is None else max(agreed, one.over)
        fee = (last - agreed).days * terms.house.late * terms.rates.day
        spent = rent(terms, one.day, last) + 2 * terms.rates.carriage + fee
        total += one.share * (spent + one.wait_h / DAY_H * lift_day)
    return total


def cheapest_return(
    terms: Terms, draws: Sequence[Draw], came: datetime, first: date, days: int = 25
) -> dict[date, float]:
    """What each working day to go back costs, for a kit that is here."""
    day = came.astimezone(ZONE).date()
    whole = [(came, until if since < until else came) for since, until in draws]
    cases = [case(terms, 1 / len(draws), day, came, draw) for draw in whole]
    backs = [first + n * DAY for n in range(days) if works(first + n * DAY)]
    return {back: cost(terms, cases, back, 0.0) for back in backs}


def cheapest_pair(
    terms: Terms, draws: Sequence[Draw], ready: date, arrivals: Sequence[float], lift_day: float,
    days: int = 25,
) -> dict[tuple[date, date], float]:  # fmt: skip
    """What each pair of a delivery and a return day costs."""
    span = [ready + n * DAY for n in range(days) if works(ready + n * DAY)]
    found: dict[tuple[date, date], float] = {}
    for delivery in span[:9]:
        cases = [
            case(terms, odds / len(draws), day, local(day, SPANS[0][0]), draw)
            for delay, odds in enumerate(arrivals)
            for day in (next_day(delivery, delay),)
            for draw in draws
        ]
        backs = [back for back in span if back >= delivery]
        found.update({(delivery, back): cost(terms, cases, back, lift_day) for back in backs})
    return found
