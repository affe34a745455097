"""What work would take that nobody has agreed to yet: no event, nothing written."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from store.file.books import book_on
from store.file.facts import calendar_of, rate_on, setting
from store.file.shop import Shop
from store.rules import routes
from store.rules.estimating import Figures, of_phase, of_total


@dataclass(frozen=True, slots=True)
class EstimateLine:
    """One phase of the route. Hours of labour, wall hours of standing, open hours of outwork."""

    phase: str
    code: str
    name: str
    kind: str
    on_lift: bool
    serves: tuple[str, ...]
    book_h: float
    figures: Figures
    source: str
    finished_before: int


@dataclass(frozen=True, slots=True)
class KitLine:
    """A tool kit that the route needs, and for which phases."""

    kit: str
    phases: tuple[str, ...]
    owned: bool


@dataclass(frozen=True, slots=True)
class Estimate:
    """The route with its hours. `labour_money` at the shop's rate; None where none is set."""

    route: tuple[EstimateLine, ...]
    total: Figures
    saves_h: float
    kits: tuple[KitLine, ...]
    labour_money: float | None
    currency: str
    options: tuple[tuple[str, str], ...]
    version: int
    promise: tuple[tuple[float, datetime], ...]


def estimate(
    shop: Shop,
    now: datetime,
    *,
    operations: Sequence[str],
    family: str,
    options: Mapping[str, str] | None = None,
    grade: int = 2,
) -> Estimate:
    """Return what operations would take on a vehicle of this family.

    Raises:
        NoBook: there is no work book.
        Refused: unknown operation, option or family.
    """
    with shop.reading() as db:
        calendar = calendar_of(db)
        day = calendar.day_of(now)
        version, book = book_on(db, day)
        known = routes.chosen(book, operations, options or {})
        route = routes.lay(book, operations=operations, family=family, options=known, grade=grade)
        cautious = setting(db, "cautious")
        total = of_total([_book(one) for one in route if one.phase.kind == "labour"], cautious)
        rate = rate_on(db, day)
        saves = routes.shared_saving_h(
            book, operations=operations, family=family, options=known, grade=grade
        )
        return Estimate(
            tuple(_line(n, one, cautious) for n, one in enumerate(route, 1)), total, saves,
            _kits(route, {kit.code: kit.owned for kit in book.kits}),
            None if rate is None else round(rate * total.middle, 2),
            db.execute("select currency from shop").fetchone()[0], tuple(sorted(known.items())),
            version, (),
        )  # fmt: skip


def _book(one: routes.RoutePhase) -> tuple[float, float, float]:
    return (one.book.low, one.book.middle, one.book.high)


def _line(number: int, one: routes.RoutePhase, cautious: float) -> EstimateLine:
    return EstimateLine(
        str(number), one.phase.code, one.phase.name, one.phase.kind, routes.on_lift(one.phase),
        one.serves, one.book.middle, of_phase(_book(one), cautious), "book", 0,
    )  # fmt: skip


def _kits(route: Sequence[routes.RoutePhase], owned: Mapping[str, bool]) -> tuple[KitLine, ...]:
    found: dict[str, list[str]] = {}
    for number, one in enumerate(route, 1):
        for need in one.kits:
            found.setdefault(need.kit, []).append(str(number))
    return tuple(KitLine(kit, tuple(phases), owned[kit]) for kit, phases in found.items())
