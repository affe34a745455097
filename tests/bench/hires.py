"""How long the tables of special tools take, against a plain look at every pair in the same run.

    python -m tests.bench.hires [--draws 512]

Processor time of this process. The baseline prices every pair of days draw by draw, as the tables
would be without sums from the last day back; it must find the same cost.
"""

from __future__ import annotations

import argparse
import random
from datetime import UTC, date, datetime, time

from store.sums.hires.charge import Hiring
from store.sums.hires.clash import Ends, overlap, ways_out
from store.sums.hires.days import ShopDays
from store.sums.hires.ground import Ground
from store.sums.hires.lateness import Seen, arrivals
from store.sums.hires.needs import NOT, Need, need_of
from store.sums.hires.or_buy import Own, Uses, hire_or_buy
from store.sums.hires.terms import House, Rates, Terms
from store.sums.hires.ways import going_on, long_or_short
from store.sums.hires.window import Asked, Window, best_window, by_return_day
from store.sums.week_plan import Span, WeekPlan
from store.sums.working_time import Calendar
from tests.bench.helping import timed

FIVE = (1, 2, 3, 4, 5)
NOW = datetime(2026, 10, 14, 9, 40, tzinfo=UTC)
CAME = datetime(2026, 10, 12, 7, tzinfo=UTC)
READY = date(2026, 10, 16)
PAUSE = Span(FIVE, time(12), time(12, 45))
WEEK = WeekPlan(date(2020, 1, 1), (Span(FIVE, time(8), time(16, 30)),), (PAUSE,))
CALENDAR = Calendar("Europe/London", [WEEK])


def main() -> None:
    """Print the table."""
    asked = argparse.ArgumentParser()
    asked.add_argument("--draws", type=int, default=512)
    draws, dice = asked.parse_args().draws, random.Random(1)
    first, second = drawn("2417", 24, draws, dice), drawn("2433", 30, draws, dice)
    terms = Terms(Rates(31, 120, 350, 3, 15), House(weekend="half"))
    shop = Asked(ShopDays(CALENDAR), terms, arrivals(Seen(20, 3, 4, 20, 1), 2))
    found, _ = timed(lambda: best_window(shop, [first], READY))
    least, base = timed(lambda: plainly(shop, first, found), 1)
    assert abs(least + found.best.cost.carriage - found.best.cost.total) < 1e-6
    print(f"{'every pair, draw by draw':44}{base:9.1f} ms")
    said("every pair of one job", base, timed(lambda: best_window(shop, [first], READY))[1])
    both = [first, second]
    said("every pair of two jobs", base, timed(lambda: best_window(shop, both, READY))[1])
    said("return days of a kit that is here", base,
         timed(lambda: by_return_day(shop, [first], CAME, NOW))[1])  # fmt: skip
    said("ways to go on, with another job", base,
         timed(lambda: going_on(shop, [first], CAME, NOW, other=second))[1])  # fmt: skip
    said("one long or two short", base,
         timed(lambda: long_or_short(shop, first, second, READY))[1])  # fmt: skip
    said("a clash and its ways out", base, timed(lambda: clash(shop.days, first, second))[1])
    kit = Uses(9, 1, 110, 40), Own(900, 40, 8)
    said("hire or buy", base, timed(lambda: hire_or_buy(*kit))[1])


def drawn(job: str, after_h: float, draws: int, dice: random.Random) -> Need:
    """Starts about so many open hours from now on, for about two shop days."""
    starts = [CALENDAR.after(NOW, after_h * dice.lognormvariate(0, 0.4)) for _ in range(draws)]
    return need_of(
        job, [(at, CALENDAR.after(at, 14 * dice.lognormvariate(0, 0.5))) for at in starts]
    )


def clash(days: ShopDays, first: Need, second: Need) -> None:
    """As two needs are looked at."""
    if overlap(days, first, second).chance:
        ends = Ends(first.end, max(first.end)), Ends(second.end, max(second.end))
        ways_out(days, (first, second), ends, lift_day=150, second_kit=100)


def plainly(asked: Asked, need: Need, found: Window) -> float:
    """The least money of all pairs of the days that are in question, without carriage."""
    ground = Ground(asked.days, [need], READY, asked.terms.house.cut_off, found.by_back[-1].back)
    last = ground.days.index(found.by_back[-1].back) + 1
    handed = {at: handed_on(asked, need, ground, at) for at in range(last + len(asked.arrivals))}
    waits = {at: ground.waits(at, on_lift=True) * asked.lift_day for at in handed}
    hiring = Hiring(asked.terms, asked.days)

    def spent(came: int, back: int) -> float:
        agreed = ground.days[max(came, back)]
        fee = asked.terms.house.late * asked.terms.rates.day
        return waits[came] + sum(
            hiring.money(ground.days[came], max(day, agreed)) + fee * max(0, (day - agreed).days)
            for day in handed[came]
        ) / len(handed[came])

    deliveries = [ground.days.index(row.delivery) for row in found.by_delivery]
    return min(
        sum(chance * spent(at + late, back) for late, chance in enumerate(asked.arrivals))
        for at in deliveries
        for back in range(at, last)
    )


def handed_on(asked: Asked, need: Need, ground: Ground, came: int) -> list[date]:
    """The day of the hand-over in each draw, by the calendar itself."""
    opens, days = asked.days.opens(ground.days[came]), asked.days
    found: list[date] = []
    for start, end in zip(need.start, need.end, strict=True):
        over = datetime.fromtimestamp(end, UTC) if end < NOT else opens
        begin = datetime.fromtimestamp(start, UTC) if start < NOT else opens
        if begin < opens:
            over = CALENDAR.after(over, CALENDAR.working_h(begin, opens))
        found.append(max(ground.days[came], days.handed(over, asked.terms.house.cut_off)))
    return found


def said(what: str, base: float, ms: float) -> None:
    """Print one line: how many times quicker than the baseline."""
    print(f"{what:44}{ms:9.1f} ms{base / ms:8.1f} times as quick")


if __name__ == "__main__":
    main()
