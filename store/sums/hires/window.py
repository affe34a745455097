"""When to have a hired kit here, and until when, at the least expected cost.

In draw k the kit comes on the morning of day A, the delivery day or so many working days later. A
job that starts at s before that waits, and its end e moves by as many open hours:

    wait      w = max(0, open hours from s to the opening on A)
    end       e' = e + w, in open hours
    handed    H = first working day with e' before its cut-off, of the last job; not before A
    cost      charge(A .. max(R, H)) + carriage both ways
              + late day rate max(0, H - max(R, A))                   calendar days begun
              + c sum(w) / h                                          of jobs on a lift

R the return day agreed, c what a waiting lift costs a shop day, h the open hours of a shop day. The
kit is handed over on the return day, or when the last job has done with it, if that is later: until
the day agreed it is booked out and paid. Because the days charged couple both ends, every pair of
delivery and return day is priced; the newsvendor's quantile is what is left where the delivery is
fixed, each day costs the same and no minimum bites (Arrow, Harris and Marschak, Econometrica 19
(1951)).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from store.sums.hires.charge import late_fee
from store.sums.hires.ground import FARTHEST, SHORTEST, Ground
from store.sums.hires.needs import NOT, Need
from store.sums.hires.table import LIFT_DAY, ON_TIME, Asked, Cost, Table, laid

__all__ = ["LIFT_DAY", "ON_TIME", "Asked", "Cost", "Pair", "Window", "best_window",
           "by_return_day", "with_waiting"]  # fmt: skip

WEEK_ON = 5
"""Working days after the last start, on which a delivery is tried too."""
PENNIES = 6
"""Decimals: what differs by less costs the same."""
MOST = 60
"""Working days from the first start on, on which a delivery is tried."""


@dataclass(frozen=True, slots=True)
class Pair:
    """A delivery day and a return day, and what they are expected to cost.

    Attributes:
        needed: chance that the kit is still needed after the cut-off of the return day.
    """

    delivery: date
    back: date
    needed: float
    cost: Cost


@dataclass(frozen=True, slots=True)
class Window:
    """What each pair of days costs, as far as a person checks it.

    Attributes:
        best: the pair with the least expected cost; of equal ones the one with the least
            waiting, then the later delivery, then the earlier return.
        by_back: with the best delivery day: every return day, rising.
        by_delivery: with the best return day: every delivery day, rising.
    """

    best: Pair
    by_back: tuple[Pair, ...]
    by_delivery: tuple[Pair, ...]

    @property
    def day_more(self) -> float | None:
        """What going back one working day later costs more; None: it is the last one."""
        return self._aside(1)

    @property
    def day_less(self) -> float | None:
        """What going back one working day earlier costs more; None: it is the first one."""
        return self._aside(-1)

    def _aside(self, days: int) -> float | None:
        at = self.by_back.index(self.best) + days
        if not 0 <= at < len(self.by_back):
            return None
        return self.by_back[at].cost.total - self.best.cost.total


def best_window(asked: Asked, needs: Sequence[Need], first: date) -> Window:
    """Price every pair of a delivery day and a return day for a kit that is not here yet.

    Args:
        needs: stretches that one hire is to serve, draws alike. Jobs wait for the kit, not for each
            other: move the one that uses it later (`needs.moved`). What a job that goes on
            has waited already counts too: leave it out (`needs.from_now`).
        first: the first day on which it can come; a supplier's lead time from now.

    Raises:
        ValueError: no need in any draw, or draws that differ in number.
        NeverOpens: the shop has no working day.
    """
    first = asked.days.on_or_after(first)
    table = laid(asked, needs, first, _latest(asked, needs, first))
    deliveries = _deliveries(table.ground, len(asked.arrivals))
    totals = {at: table.totals(at) for at in deliveries}
    waited = {at: round(table.waited(at), PENNIES) for at in deliveries}
    delivery, back = min(
        ((at, day) for at in deliveries for day in range(at, len(totals[at]))),
        key=lambda pair: (
            round(totals[pair[0]][pair[1]], PENNIES),
            waited[pair[0]],
            -pair[0],
            pair[1],
        ),
    )
    return Window(
        _pair(table, delivery, back),
        tuple(_pair(table, delivery, day) for day in _backs(table, delivery)),
        tuple(_pair(table, at, back) for at in deliveries if at <= back),
    )


def by_return_day(
    asked: Asked, needs: Sequence[Need], came: datetime, now: datetime, due: date | None = None
) -> Window:
    """Price every return day from now on for a kit that is here, or is to come at an instant.

    Args:
        needs: stretches still ahead or running; none: nobody needs it any more.
        came: when it came, or is to come.
        now: nothing is handed over before.
        due: the day agreed; days begun after it until now cost the fee whatever is done. A later
            return day is taken as agreed with the supplier: it costs its days and no fee.

    Returns:
        One delivery day; `hire` is of the whole hire, what is spent already taken in.

    Raises:
        ValueError: draws that differ in number.
        NeverOpens: the shop has no working day.
    """
    shop = asked.days
    if came > now:
        return _to_come(asked, needs, shop.on_or_after(shop.calendar.day_of(came)))
    first = shop.handed(now, asked.terms.house.cut_off)
    table = laid(asked, needs, first, first, came)
    begun = 0.0 if due is None else late_fee(asked.terms, due, shop.calendar.day_of(now))
    rows = [_pair(table, 0, day) for day in _backs(table, 0)]
    local = shop.calendar.day_of(came)
    return _cheapest([_of_here(row, local, begun) for row in rows])


def with_waiting(window: Window, money: float) -> Window:
    """The same, with so much more for lifts that wait whatever the days are."""

    def row(pair: Pair) -> Pair:
        return replace(pair, cost=pair.cost.plus(Cost(0.0, 0.0, 0.0, money)))

    rows = (tuple(map(row, each)) for each in (window.by_back, window.by_delivery))
    return Window(row(window.best), *rows)


def _to_come(asked: Asked, needs: Sequence[Need], day: date) -> Window:
    """Every return day for a kit that is asked for a day."""
    latest = asked.days.after(day, len(asked.arrivals))
    table = laid(asked, needs, day, latest)
    return _cheapest([_pair(table, 0, back) for back in _backs(table, 0)])


def _cheapest(rows: Sequence[Pair]) -> Window:
    best = min(rows, key=lambda row: (round(row.cost.total, PENNIES), row.back))
    return Window(best, tuple(rows), (best,))


def _of_here(row: Pair, came: date, begun: float) -> Pair:
    return replace(row, delivery=came, cost=replace(row.cost, late=row.cost.late + begun))


def _pair(table: Table, delivery: int, back: int) -> Pair:
    days = table.ground.days
    cost, needed = table.cost(delivery, back)
    return Pair(days[delivery], days[back], needed, cost)


def _backs(table: Table, delivery: int) -> range:
    """Return days of a delivery day, until the kit is needed in no draw; a few at least."""
    last = len(table.ground.days) - 1
    over = next((day for day in range(delivery, last) if not table.cost(delivery, day)[1]), last)
    return range(delivery, min(last, max(over, delivery + SHORTEST)) + 1)


def _latest(asked: Asked, needs: Sequence[Need], first: date) -> date:
    """The last day on which a kit that is delivered for the latest start comes."""
    shop = asked.days
    starts = [start for need in needs for start in need.start if start < NOT]
    if not starts:
        raise ValueError("nobody needs the kit in any draw")
    start = datetime.fromtimestamp(max(starts), shop.calendar.zone).date()
    latest = min(max(first, start), first + timedelta(days=FARTHEST))
    return shop.after(latest, len(asked.arrivals) + WEEK_ON)


def _deliveries(ground: Ground, spare: int) -> range:
    """Days worth a try: none so early that it is here in time however late it comes.

    What a hire costs never falls with days added before, so that earlier ones cannot win; a later
    one can, where it spares a week-end.
    """
    begin, end = ground.starts_between()
    begin = max(0, begin - spare)
    return range(begin, min(end + WEEK_ON, begin + MOST, len(ground.days) - 1) + 1)
