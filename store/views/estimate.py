"""What work would take that nobody has agreed to yet: no event, nothing written."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from store.file.books import book_on
from store.file.facts import calendar_of, rate_on, setting
from store.file.learned.new_work import Line, Work, estimated, finish_of, odds_of
from store.file.shop import Shop
from store.rules import routes
from store.rules.book import WorkBook
from store.rules.estimating import Figures
from store.rules.forks import Fork, Question, forks, questions, route_if
from store.sums import moving
from store.sums.working_time import Calendar
from store.trouble import Refused
from store.views.likely import hand_over

PROMISES = (0.5, 0.6, 0.7, 0.8, 0.9)
"""Chances at which a promise is offered."""
SAME_H = 0.005
"""Routes whose hours differ by less are no fork."""


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
class Way:
    """What an answer to a decision would make of the work: its odds and its labour together.

    Attributes:
        more, less: names of phases that it would add and take away.
    """

    code: str
    text: str
    odds: float
    total: Figures
    more: tuple[str, ...]
    less: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ForkLine:
    """A decision in a phase of the route whose answer changes hours."""

    phase: str
    text: str
    ways: tuple[Way, ...]


@dataclass(frozen=True, slots=True)
class Estimate:
    """The route with its hours. `labour_money` at the shop's rate; None where none is set.

    Attributes:
        says: where the hours come from, in plain words.
        promise: chances, and by when the work would be done with each of them.
    """

    route: tuple[EstimateLine, ...]
    total: Figures
    saves_h: float
    kits: tuple[KitLine, ...]
    labour_money: float | None
    currency: str
    options: tuple[tuple[str, str], ...]
    version: int
    promise: tuple[tuple[float, datetime], ...]
    forks: tuple[ForkLine, ...] = ()
    says: str = ""


@dataclass(frozen=True, slots=True)
class _Asked:
    """The question, with what the file says to it."""

    db: sqlite3.Connection
    now: datetime
    calendar: Calendar
    book: WorkBook
    operations: tuple[str, ...]
    vehicle: routes.Vehicle
    named: Mapping[str, str]
    work: Work
    cautious: float

    def route_if(self, fork: Fork) -> tuple[routes.RoutePhase, ...] | None:
        """The route as an answer would make it; None where none can be laid so."""
        try:
            return route_if(self.book, self.vehicle, self.operations, fork)
        except Refused:
            return None


def estimate(
    shop: Shop,
    now: datetime,
    *,
    operations: Sequence[str],
    family: str,
    options: Mapping[str, str] | None = None,
    grade: int = 2,
    badge: str | None = None,
) -> Estimate:
    """Return what operations would take on a vehicle of this family.

    Args:
        badge: who would do it; None where that is open.

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
        asked = _Asked(
            db, now, calendar, book, codes, routes.Vehicle(family, grade, known), options or {},
            Work("+".join(codes), family, grade, badge), setting(db, "cautious"),
        )  # fmt: skip
        found = estimated(db, route, asked.work, now, asked.cautious)
        rate = rate_on(db, day)
        saves = routes.shared_saving_h(
            book, operations=operations, family=family, options=known, grade=grade
        )
        return Estimate(
            tuple(
                _line(n, one, hours)
                for n, (one, hours) in enumerate(zip(route, found.lines, strict=True), 1)
            ),
            found.total, saves, _kits(route, {kit.code: kit.owned for kit in book.kits}),
            None if rate is None else round(rate * found.total.middle, 2),
            db.execute("select currency from shop").fetchone()[0], tuple(sorted(known.items())),
            version, _promises(asked, route), _forks(asked, route), found.says,
        )  # fmt: skip


def _line(number: int, one: routes.RoutePhase, hours: Line) -> EstimateLine:
    return EstimateLine(
        str(number), one.phase.code, one.phase.name, one.phase.kind, routes.on_lift(one.phase),
        one.serves, one.book.middle, hours.figures, hours.source, hours.finished_before,
    )  # fmt: skip


def _kits(route: Sequence[routes.RoutePhase], owned: Mapping[str, bool]) -> tuple[KitLine, ...]:
    found: dict[str, list[str]] = {}
    for number, one in enumerate(route, 1):
        for need in one.kits:
            found.setdefault(need.kit, []).append(str(number))
    return tuple(KitLine(kit, tuple(phases), owned[kit]) for kit, phases in found.items())


def _promises(
    asked: _Asked, route: Sequence[routes.RoutePhase]
) -> tuple[tuple[float, datetime], ...]:
    """By when the work would be done, over the routes that it may take."""
    ways = forks(questions(route, asked.named), lambda one: odds_of(asked.db, one))
    laid = [(one.odds, found) for one in ways if (found := asked.route_if(one)) is not None]
    hours = finish_of(asked.db, laid, asked.work, asked.now)
    if hours is None:
        return ()
    return tuple(
        (chance, hand_over(asked.calendar.after(asked.now, moving.quantile(hours, chance))))
        for chance in PROMISES
    )


def _forks(asked: _Asked, route: Sequence[routes.RoutePhase]) -> tuple[ForkLine, ...]:
    numbers = {one.phase.code: str(n) for n, one in enumerate(route, 1)}
    found: list[ForkLine] = []
    for one in questions(route, asked.named):
        ways = _ways(asked, route, one)
        if any(abs(way.total.middle - ways[0].total.middle) > SAME_H for way in ways):
            found.append(ForkLine(numbers[one.phase], one.text, ways))
    return tuple(found)


def _ways(asked: _Asked, route: Sequence[routes.RoutePhase], question: Question) -> tuple[Way, ...]:
    """Each answer with what it would make of the work; everything else as it is assumed."""
    names = {one.phase.code: one.phase.name for one in route}
    ways: list[Way] = []
    for answer, odds in zip(question.answers, odds_of(asked.db, question), strict=True):
        then = asked.route_if(Fork(odds, answer.sets, question.phase if answer.ends else None))
        if then is None:
            continue
        codes = [one.phase.code for one in then]
        total = estimated(asked.db, then, asked.work, asked.now, asked.cautious).total
        ways.append(
            Way(
                answer.code, answer.text, odds, total,
                tuple(one.phase.name for one in then if one.phase.code not in names),
                tuple(name for code, name in names.items() if code not in codes),
            )
        )  # fmt: skip
    return tuple(ways)
