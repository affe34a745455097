"""The kits of work that nobody has agreed to yet: when, at what cost, and who has them then."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from random import Random
from typing import TypeVar

from store.file.learned.new_work import Estimated
from store.rules.routes import RoutePhase
from store.sums import moving
from store.sums.hires.charge import charge
from store.sums.hires.needs import NOT, Need, need_of
from store.views.asking import Asking, Route
from store.views.tools import kept as tools_kept
from store.views.tools.clash import clashes
from store.views.tools.draws import Drawn, drawn
from store.views.tools.kit_needs import kit_needs
from store.views.tools.money import Reckoning, reckoning
from store.views.tools.read import KitRow, read
from store.views.tools.values import Clash, KitWanted
from store.views.tools.words import tenths, when

Picked = TypeVar("Picked", float, datetime)
THIS = "this job"
"""What work that has no number yet is called."""
DRAWS = 200
"""As many as a need has that is read from the work book."""


@dataclass(frozen=True, slots=True)
class KitLine:
    """A tool kit that the route needs, and for which phases.

    Attributes:
        days: of the calendar for which it is here, as a supplier counts; 0 for one of ours.
        cost: money of the hire and both ways; None where no supplier's terms are known.
        since, until: when it is likely to be needed, by the middle forecast.
        supplier: at whose terms.
        clashes: with jobs that have it then, the ways out with their cost.
        says: the same in words; "" where nobody else has it then.
    """

    kit: str
    phases: tuple[str, ...]
    owned: bool
    days: int = 0
    cost: float | None = None
    since: datetime | None = None
    until: datetime | None = None
    supplier: str | None = None
    clashes: tuple[Clash, ...] = ()
    says: str = ""


@dataclass(frozen=True, slots=True)
class _Need:
    """Where in the route a kit is needed: shares of the way, 0 to 1."""

    phases: tuple[str, ...]
    begin: float
    end: float


def plain_lines(asking: Asking, route: Route, hours: Estimated) -> tuple[KitLine, ...]:
    """Return the kits of a route alone: neither dates nor money."""
    owned = {one.code: one.owned for one in asking.book.kits}
    found = _needs(route, [one.figures.middle for one in hours.lines])
    return tuple(KitLine(kit, need.phases, owned[kit]) for kit, need in found.items())


def kit_lines(
    asking: Asking, route: Route, hours: Estimated, finish_h: Sequence[float]
) -> tuple[KitLine, ...]:
    """Return the kits of a route in the order in which they are needed.

    Args:
        finish_h: quantiles of open hours until the work is done; () takes the labour for them.
    """
    found = _needs(route, [one.figures.middle for one in hours.lines])
    if not found:
        return ()
    known = read(asking.db, asking.now, asking.calendar)
    share = reckoning(asking.db, known)
    rows = {one.code: one for one in known.kits}
    for one in asking.book.kits:
        rows.setdefault(one.code, KitRow(one.code, one.name, one.owned, one.size, one.contains))
    others = drawn(
        asking.db, kit_needs(asking.db, asking.calendar, asking.now, list(found)), asking.cautious
    )
    spread = tuple(finish_h) or tuple(hours.total.quantiles)
    return tuple(
        _line(share, rows[kit], need, _drawn(asking, need, spread), others.get(kit, ()))
        for kit, need in found.items()
    )


def _needs(route: Sequence[RoutePhase], hours: Sequence[float]) -> dict[str, _Need]:
    """By kit, from the beginning of the first phase that needs it to where it is free again."""
    whole = sum(hours) or 1.0
    begins = [sum(hours[:n]) / whole for n in range(len(hours) + 1)]
    at = {one.phase.code: n for n, one in enumerate(route)}
    found: dict[str, _Need] = {}
    for n, one in enumerate(route):
        for need in one.kits:
            last = max(n, at.get(need.captive_to or "", n))
            before = found.get(need.kit)
            found[need.kit] = _Need(
                (*(before.phases if before else ()), str(n + 1)),
                before.begin if before else begins[n],
                max(before.end if before else 0.0, begins[last + 1]),
            )
    return found


def _drawn(asking: Asking, need: _Need, spread: Sequence[float]) -> Drawn:
    """The same way drawn longer and shorter, as the whole of it may be."""
    levels = [(k + 0.5) / DRAWS for k in range(DRAWS)]
    Random(THIS).shuffle(levels)
    hours = [moving.quantile(tuple(spread), one) for one in levels]
    starts = asking.calendar.each_after(asking.now, [need.begin * one for one in hours])
    ends = asking.calendar.each_after(asking.now, [need.end * one for one in hours])
    finishes = asking.calendar.each_after(asking.now, hours)
    told = KitWanted(
        THIS, need.phases[0], sorted(starts)[DRAWS // 2], sorted(ends)[DRAWS // 2],
        sorted(ends)[int(asking.cautious * DRAWS)], need.phases,
    )  # fmt: skip
    draws = zip(starts, ends, strict=True)
    return Drawn(told, need_of(THIS, draws), finishes, None)


def _line(
    share: Reckoning, kit: KitRow, need: _Need, mine: Drawn, others: Sequence[Drawn]
) -> KitLine:
    hires = share.known.hires_of(kit.code)
    both = sorted([*_alike(others), mine], key=lambda one: one.told.since)
    found = tuple(
        one for one in clashes(share, kit, hires, both) if THIS in one.jobs
    )  # fmt: skip
    days, cost, supplier = (0, 0.0, None) if kit.owned else _hired(share, kit, mine)
    return KitLine(
        kit.code, need.phases, kit.owned, days, cost, mine.told.since, mine.told.middle, supplier,
        found, "; ".join(_says(share, one) for one in found),
    )  # fmt: skip


def _alike(others: Sequence[Drawn]) -> list[Drawn]:
    """Other jobs' needs in as many draws as this one's."""
    return [
        Drawn(one.told, _sampled(one.need), _picked(one.finishes), one.promise) for one in others
    ]


def _picked(values: Sequence[Picked]) -> tuple[Picked, ...]:
    return tuple(values[k * len(values) // DRAWS] for k in range(DRAWS))


def _sampled(need: Need) -> Need:
    start, end = _picked(need.start), _picked(need.end)
    return Need(need.job, start, end, need.begun, need.captive, need.on_lift)


def _hired(share: Reckoning, kit: KitRow, mine: Drawn) -> tuple[int, float | None, str | None]:
    """Days, money and supplier of the hire that costs least."""
    told, days = mine.told, share.days
    if not any(start < NOT for start in mine.need.start):
        return 0, None, None
    priced: list[tuple[float, int, float, str]] = []
    for offer in share.offers(kit.code):
        first = days.after(share.known.today, offer.terms.house.lead_days)
        asked, now = share.asked(offer.terms, offer.supplier), share.known.now
        best = tools_kept.windows(asked, [mine.need], first, now).best
        cost = charge(offer.terms, days.opens(best.delivery), best.back, days)
        kept = (best.back - best.delivery).days + 1
        priced.append((best.cost.total, kept, cost.hire + cost.carriage, offer.supplier))
    if not priced:
        calendar = share.known.calendar
        return (calendar.day_of(told.cautious) - calendar.day_of(told.since)).days + 1, None, None
    _, kept, money, supplier = min(priced)
    return kept, money, supplier


def _says(share: Reckoning, clash: Clash) -> str:
    """`taken by 2417 till Thu 13:25, 6 in 10; this job waits 1.2 h, 23`"""
    known = share.known
    other = next(one for one in clash.jobs if one != THIS)
    ways = f"; {clash.ways[0].says}" if clash.ways else ""
    until = when(clash.until, known.now, known.calendar)
    return f"taken by {other} then, till {until}, {tenths(clash.chance)}{ways}"
