"""What work would take that nobody has agreed to yet: no event, nothing written."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from store.file.books import book_on
from store.file.facts import calendar_of, rate_on, setting
from store.file.learned import new_work
from store.file.learned.new_work import Line, Work, finishes_of
from store.file.shop import Shop
from store.rules import routes
from store.rules.estimating import Figures
from store.rules.forks import questions
from store.sums import moving
from store.sums.working_time import Calendar
from store.views import likely
from store.views.asking import Asking, Route
from store.views.estimate_kits import KitLine, kit_lines, plain_lines
from store.views.extras import Extra, extras
from store.views.tools.values import Clash
from store.views.what_if import Ends, ForkLine, Way, case_of, what_if, with_finishes

__all__ = ["Estimate", "EstimateLine", "Extra", "ForkLine", "KitLine", "Way", "estimate"]

PROMISES = (0.5, 0.6, 0.7, 0.8, 0.9, 0.95)
"""Chances at which a promise is offered."""
Depth = Literal["book", "hours", "dates", "whole"]
"""The work book's hours alone; learned hours; these with dates; and with what may change them."""
DATED = ("dates", "whole")
"""With dates; kits then have their days, their money, and whoever else has them."""


@dataclass(frozen=True, slots=True)
class EstimateLine:
    """One phase of the route. Hours of labour, wall hours of standing, open hours of outwork.

    Attributes:
        finished_before: jobs in which it was done here; `on_family`: those on this family.
    """

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
    on_family: int = 0


@dataclass(frozen=True, slots=True)
class Estimate:
    """The route with its hours. `labour_money` at the shop's rate; None where none is set.

    Attributes:
        says: where the hours come from, in plain words.
        promise: chances, and by when the work would be done with each of them.
        finish_h: quantiles of the shop's open hours until then; () where that is not known.
        forks: decisions of the route whose answer changes hours.
        unknown: what nobody said of the vehicle and no phase decides, and changes hours or tools.
        extras: other work that is cheaper while this is open.
        by: a day that was asked about, and the chance that the work is done then.
    """

    route: tuple[EstimateLine, ...]
    total: Figures
    saves_h: float
    kits: tuple[KitLine, ...]
    labour_money: float | None
    currency: str
    options: tuple[tuple[str, str], ...]
    version: int
    promise: Ends
    forks: tuple[ForkLine, ...] = ()
    says: str = ""
    finish_h: tuple[float, ...] = ()
    unknown: tuple[ForkLine, ...] = ()
    extras: tuple[Extra, ...] = ()
    by: tuple[datetime, float | None] | None = None

    @property
    def kits_money(self) -> float:
        """What hiring comes to, as far as suppliers' terms are known."""
        return sum(one.cost or 0.0 for one in self.kits)

    @property
    def clashes(self) -> tuple[Clash, ...]:
        """With jobs that have a kit when this work would need it."""
        return tuple(clash for one in self.kits for clash in one.clashes)


def get_ready(shop: Shop) -> None:
    """Load what an estimate will need; whoever has it asked soon waits less."""
    with shop.reading() as db:
        new_work.get_ready(db)


def estimate(
    shop: Shop,
    now: datetime,
    *,
    operations: Sequence[str],
    family: str,
    options: Mapping[str, str] | None = None,
    grade: int = 2,
    badge: str | None = None,
    depth: Depth = "whole",
    by: datetime | None = None,
) -> Estimate:
    """Return what operations would take on a vehicle of this family.

    Args:
        badge: who would do it; None where that is open.
        depth: how much is worked out; less is there sooner.
        by: a day that is asked about.

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
        codes = tuple(one.code for one in routes.sold(book, operations))
        asking = Asking(
            db, now, calendar, book, codes, routes.Vehicle(family, grade, known), options or {},
            Work("+".join(codes), family, grade, badge), setting(db, "cautious"),
            learned=depth != "book",
        )  # fmt: skip
        found = asking.hours(route)
        rate = rate_on(db, day)
        saves = routes.shared_saving_h(
            book, operations=operations, family=family, options=known, grade=grade
        )
        ahead = _ahead(asking, route, depth)
        return Estimate(
            tuple(
                _line(n, one, hours)
                for n, (one, hours) in enumerate(zip(route, found.lines, strict=True), 1)
            ),
            found.total, saves,
            kit_lines(asking, route, found, ahead.finish_h) if depth in DATED
            else plain_lines(asking, route, found),
            None if rate is None else round(rate * found.total.middle, 2),
            db.execute("select currency from shop").fetchone()[0], tuple(sorted(known.items())),
            version, ahead.promise, ahead.forks, found.says, ahead.finish_h, ahead.unknown,
            extras(asking, route) if depth == "whole" else (),
            None if by is None else (by, keeping(calendar, now, ahead.finish_h, by)),
        )  # fmt: skip


def keeping(
    calendar: Calendar, now: datetime, finish_h: Sequence[float], by: datetime
) -> float | None:
    """Return the chance that work asked about now is done by a day; None where nobody knows."""
    return likely.chance(calendar, now, tuple(finish_h), by) if finish_h else None


def _line(number: int, one: routes.RoutePhase, hours: Line) -> EstimateLine:
    return EstimateLine(
        str(number), one.phase.code, one.phase.name, one.phase.kind, routes.on_lift(one.phase),
        one.serves, one.book.middle, hours.figures, hours.source, hours.finished_before,
        hours.on_family,
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Ahead:
    """When it may be done, and what may still change it."""

    promise: Ends = ()
    finish_h: tuple[float, ...] = ()
    forks: tuple[ForkLine, ...] = ()
    unknown: tuple[ForkLine, ...] = ()


def _ahead(asking: Asking, route: Route, depth: Depth) -> _Ahead:
    """Dates of the work as it stands and of each way that it may go, all walked in one go."""
    if depth not in DATED:
        return _Ahead()
    as_it_stands = case_of(asking, questions(route, asking.named))
    opened = what_if(asking, route) if depth == "whole" else []
    cases = [as_it_stands, *(case for _, ways in opened for case in ways)]
    hours = finishes_of(asking.db, cases, asking.work, asking.now)
    lines = [line for line, _ in opened]
    if hours is not None:
        ends = iter([_ends(asking, one) for one in hours[1:]])
        lines = [with_finishes(one, [next(ends) for _ in one.ways]) for one in lines]
    return _Ahead(
        () if hours is None else _ends(asking, hours[0]),
        () if hours is None else hours[0],
        tuple(one for one in lines if one.phase is not None),
        tuple(one for one in lines if one.phase is None),
    )


def _ends(asking: Asking, hours: Sequence[float]) -> Ends:
    return tuple(
        (
            chance,
            likely.hand_over(asking.calendar.after(asking.now, moving.quantile(hours, chance))),
        )
        for chance in PROMISES
    )
