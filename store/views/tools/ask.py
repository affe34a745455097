"""What is to be asked for: when it should come, how long to keep it, at whose terms."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from store.edges.instants import for_zone
from store.file.kits.terms import Offer
from store.sums.hires.charge import charge
from store.sums.hires.ways import LongOrShort
from store.sums.hires.window import Pair, Window
from store.views.tools import kept as tools_kept
from store.views.tools.draws import Drawn
from store.views.tools.hires import SPOKEN, WORTH
from store.views.tools.money import Reckoning
from store.views.tools.running import TABLE
from store.views.tools.unpriced import ask_without_money
from store.views.tools.values import Advice, DayCost, Way
from store.views.tools.words import money, when, whole


@dataclass(frozen=True, slots=True)
class Asking:
    """A kit that is to be hired for some stretches, at one supplier's."""

    reckoning: Reckoning
    kit: str
    offer: Offer

    @property
    def ready(self) -> date:
        """The first day on which it can come."""
        known, lead = self.reckoning.known, self.offer.terms.house.lead_days
        return self.reckoning.days.after(known.today, lead)

    def window(self, needs: Sequence[Drawn]) -> Window:
        """What each pair of days costs."""
        asked = self.reckoning.asked(self.offer.terms, self.offer.supplier)
        now = self.reckoning.known.now
        return tools_kept.windows(asked, [one.need for one in needs], self.ready, now)

    def both(self, first: Drawn, second: Drawn) -> LongOrShort:
        """One hire over two stretches, or one for each."""
        asked = self.reckoning.asked(self.offer.terms, self.offer.supplier)
        now = self.reckoning.known.now
        return tools_kept.long_short(asked, first.need, second.need, self.ready, now)

    def ask_by(self, delivery: date) -> datetime:
        """Until when it is asked for at the latest: the end of the day a lead time before."""
        known, shop = self.reckoning.known, self.reckoning.days
        day, lead = delivery, self.offer.terms.house.lead_days
        while day > known.today and shop.after(day, lead) > delivery:
            day -= timedelta(days=1)
        while day > known.today and not shop.works(day):
            day -= timedelta(days=1)
        return known.calendar.shifts_of(day)[-1][1] if shop.works(day) else known.now

    def back_by(self, day: date) -> datetime:
        """The cut-off of a day."""
        return self.reckoning.days.cut_off(day, self.offer.terms.house.cut_off)

    def opens(self, day: date) -> datetime:
        """When what is delivered on a day is here."""
        return self.reckoning.days.opens(day)


@dataclass(frozen=True, slots=True)
class _Choice:
    """A window that is asked for, and the jobs that it is for."""

    asking: Asking
    window: Window
    jobs: tuple[str, ...]
    other: Way | None = None
    why: str = ""


def asks(reckoning: Reckoning, kit: str, needs: Sequence[Drawn]) -> Iterator[Advice]:
    """Yield what is to be asked for, the first first.

    Args:
        needs: stretches for which no kit is here or coming, in the order of their starts.
    """
    left: list[Drawn] = list(needs)
    while left:
        first = left[0]
        offers = [Asking(reckoning, kit, one) for one in reckoning.offers(kit)]
        own = [one for one in left if one.told.job == first.told.job]
        rest = [one for one in left if one.told.job != first.told.job]
        if not offers:
            yield ask_without_money(reckoning, kit, first)
            left = rest
            continue
        choice = min((_chosen(one, own, rest) for one in offers), key=_cost)
        yield _advice(choice)
        left = [one for one in rest if one.told.job not in choice.jobs]


def _cost(choice: _Choice) -> float:
    return choice.window.best.cost.total


def _chosen(asking: Asking, own: Sequence[Drawn], rest: Sequence[Drawn]) -> _Choice:
    """One job's stretches alone, or with those of the next job that needs it."""
    job = own[0].told.job
    if len(own) > 1:
        return _long_or_short(asking, own[0], own[1], job)
    if rest:
        both = asking.both(own[0], rest[0])
        if both.saved < -WORTH:
            other = rest[0].told.job
            return _Choice(
                asking, both.long, (job, other), _short(asking, both),
                f"one hire for {job} and {other} saves {whole(-both.saved)} against two",
            )  # fmt: skip
        return _Choice(asking, both.short[0], (job,))
    return _Choice(asking, asking.window(own), (job,))


def _long_or_short(asking: Asking, first: Drawn, second: Drawn, job: str) -> _Choice:
    """Two stretches of one job: kept between them, or sent back and hired again."""
    both = asking.both(first, second)
    if both.saved > WORTH:
        long = both.long.best
        way = Way("ask", f"one long hire: {_days(asking, long)}", long.cost.total,
                  asking.back_by(long.back), asking.opens(long.delivery))  # fmt: skip
        again = asking.opens(both.short[1].best.delivery)
        known = asking.reckoning.known
        why = (
            f"two short hires save {whole(both.saved)} against one long; the second from "
            f"{when(again, known.now, known.calendar)}"
        )
        return _Choice(asking, both.short[0], (job,), way, why)
    why = f"one long hire saves {whole(-both.saved)} against two short ones"
    return _Choice(asking, both.long, (job,), _short(asking, both), why)


def _short(asking: Asking, both: LongOrShort) -> Way:
    first, second = (each.best for each in both.short)
    says = f"two short hires: {_days(asking, first)}, then {_days(asking, second)}"
    return Way("ask", says, both.short_total, asking.back_by(second.back),
               asking.opens(first.delivery))  # fmt: skip


def _days(asking: Asking, pair: Pair) -> str:
    """`2 days from Thu 08:00: 38 and carriage 15`"""
    known = asking.reckoning.known
    comes = asking.opens(pair.delivery)
    cost = charge(asking.offer.terms, comes, pair.back, asking.reckoning.days)
    paid = max(cost.days, asking.offer.terms.rates.minimum_days)
    least = f" (at least {paid:g} paid)" if paid > cost.days else ""
    days = f"{cost.days:g} {'day' if cost.days == 1 else 'days'}"
    since = when(comes, known.now, known.calendar)
    carriage = f" and carriage {money(cost.carriage)}" if cost.carriage else ""
    return f"{days} from {since}: {money(cost.hire)}{carriage}{least}"


def _advice(choice: _Choice) -> Advice:
    asking, best = choice.asking, choice.window.best
    known = asking.reckoning.known
    by, job = asking.ask_by(best.delivery), choice.jobs[0] if len(choice.jobs) == 1 else None
    ask = known.calendar.day_of(by)
    later = "" if ask <= known.today else f"; ask by {when(by, known.now, known.calendar)[:-6]}"
    wait = f"; a lift waits, {whole(best.cost.waiting)}" if best.cost.waiting >= WORTH else ""
    until, zone = asking.back_by(best.back), known.calendar.zone
    command = (
        "hire", "ask", asking.kit, "--supplier", asking.offer.supplier,
        *(("--job", job) if job is not None else ()),
        "--expected", for_zone(asking.opens(best.delivery), zone), "--due", for_zone(until, zone),
    )  # fmt: skip
    way = Way("ask", f"{_days(asking, best)}{wait}{later}", best.cost.total, until,
              asking.opens(best.delivery), command=command)  # fmt: skip
    aside = _aside(choice.window)
    why = "; ".join(one for one in (choice.why, aside) if one)
    instead = choice.other.cost if choice.other is not None else _next(choice.window)
    return Advice(
        asking.kit, way, instead, why, (way, *((choice.other,) if choice.other else ())),
        _table(asking, choice.window), None, job or choice.jobs[0], by, asking.offer.supplier,
        1 - best.needed,
    )  # fmt: skip


def _next(window: Window) -> float | None:
    """What the next best day to go back costs."""
    more = [one for one in (window.day_less, window.day_more) if one is not None]
    return window.best.cost.total + min(more) if more else None


def _aside(window: Window) -> str:
    """What one day more or less costs."""
    costs = (("less", window.day_less), ("more", window.day_more))
    said = [
        f"one day {word} costs {whole(cost)} more"
        for word, cost in costs
        if cost is not None and cost >= SPOKEN
    ]
    return ", ".join(said)


def _table(asking: Asking, window: Window) -> tuple[DayCost, ...]:
    """Return days around the best, then other delivery days with the best return day."""
    at = window.by_back.index(window.best)
    first = max(0, min(at - 2, len(window.by_back) - TABLE))
    rows = [*window.by_back[first : first + TABLE]]
    place = window.by_delivery.index(window.best) if window.best in window.by_delivery else 0
    aside = window.by_delivery[max(0, place - 1) : place + 2]
    rows += [row for row in aside if row.delivery != window.best.delivery]
    return tuple(
        DayCost(row.back, asking.back_by(row.back), row.needed, row.cost.hire, row.cost.carriage,
                row.cost.late, row.cost.waiting, asking.opens(row.delivery))
        for row in rows
    )  # fmt: skip
