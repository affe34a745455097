"""The hours that a customer agrees to: worked out before the file is kept, frozen in the ledger."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache
from typing import Literal

from store.actions.acting import Acting
from store.edges.events.route import (
    AnsweredAhead,
    EstimateAgreed,
    EstimateChanged,
    Forecast,
    RoutePhase,
)
from store.edges.events.route import Figures as Stated
from store.file.books import book_of, book_on
from store.file.facts import calendar_of, rate_on, setting
from store.file.learned.new_work import Estimated, Line, Work, estimated
from store.file.shop import Shop
from store.rules import routes
from store.rules.estimating import BOOK, Figures, of_phase, of_total
from store.rules.route_check import qualifying
from store.trouble import Trouble

Basis = Literal["fixed price", "ceiling", "time"]


@dataclass(frozen=True, slots=True)
class WorkedOut:
    """A route's hours as they were before the file was kept for writing."""

    route: tuple[routes.RoutePhase, ...]
    cautious: float
    hours: Estimated


def worked_out(
    shop: Shop,
    now: datetime,
    *,
    operations: Sequence[str],
    family: str,
    options: Mapping[str, str],
    grade: int,
    version: int | None = None,
    check: bool = False,
) -> WorkedOut | None:
    """Return the hours of work out of a look: sums that take long keep nobody from the file.

    None where the work cannot be: whoever takes it says so once it is known who asks.

    Args:
        version: of the work book; None is the one that holds on that day.
        check: of the qualifying check alone.
    """
    with suppress(Trouble), shop.reading() as db:
        if version is None:
            book = book_on(db, calendar_of(db).day_of(now))[1]
        else:
            book = book_of(db, version)
        known = routes.chosen(book, operations, options)
        route = routes.lay(book, operations=operations, family=family, options=known, grade=grade)
        if check:
            route = qualifying(route)
        work = Work("+".join(one.code for one in routes.sold(book, operations)), family, grade)
        cautious = float(setting(db, "cautious"))
        return WorkedOut(route, cautious, estimated(db, route, work, now, cautious))
    return None


def hours_of(
    doing: Acting, before: WorkedOut | None, route: tuple[routes.RoutePhase, ...], work: Work
) -> Estimated:
    """Return a route's hours: those worked out before, where the route is still the same."""
    cautious = float(setting(doing.db, "cautious"))
    if before is not None and before.cautious == cautious and before.route == route:
        return before.hours
    return estimated(doing.db, route, work, doing.at, cautious)


def stated(line: Line) -> Stated:
    """Return a phase's estimate as the route has it."""
    found = line.figures
    return Stated(
        middle=round(found.middle, 6), cautious=round(found.cautious, 6), mean=round(found.mean, 6)
    )


def by_the_book(doing: Acting, phase: RoutePhase) -> Estimated:
    """Return the hours of a job of one phase as its own low, middle and high say."""
    cautious = setting(doing.db, "cautious")
    line = Line(of_phase(phase.book, cautious), BOOK, 0)
    return Estimated((line,), of_total([phase.book], cautious), BOOK, BOOK)


@dataclass(frozen=True, slots=True)
class Terms:
    """What was agreed beside the hours.

    Attributes:
        ceiling: the most that the customer pays, with the basis `ceiling`.
        by: who gave the word, as the ledger may say it (`store.actions.privates.word_of`).
        means: how it came.
        quote: number of the quote that was agreed to.
        left_out: what had been quoted and was not agreed.
        ahead: answers given in advance.
        free_hand: money up to which extra work needs no call.
        check: only the qualifying check is sold.
    """

    basis: Basis
    ceiling: float | None = None
    by: str | None = None
    means: str | None = None
    quote: int | None = None
    left_out: tuple[str, ...] = ()
    ahead: tuple[AnsweredAhead, ...] = ()
    free_hand: float | None = None
    check: bool = False


def agree(
    doing: Acting, job: str, numbers: Sequence[str], hours: Estimated, terms: Terms
) -> Figures:
    """Freeze what was agreed; from here on it changes beside it, never itself.

    Args:
        numbers: of the route's phases, with `hours` for each.
    """
    total = hours.total
    rate = rate_on(doing.db, doing.today)
    doing.record(
        EstimateAgreed(
            job=job, basis=terms.basis, ceiling=terms.ceiling,
            money=None if rate is None else round(rate * total.middle, 2), source=hours.source,
            phases={
                number: _forecast(line.figures)
                for number, line in zip(numbers, hours.lines, strict=True)
            },
            total=_forecast(total), sources=_sources(numbers, hours), says=_says(hours),
            by=terms.by, means=terms.means, quote=terms.quote, left_out=list(terms.left_out),
            ahead=list(terms.ahead), free_hand=terms.free_hand, check=terms.check,
        )
    )  # fmt: skip
    doing.record(
        EstimateChanged(
            job=job, middle=round(total.middle, 4), cautious=round(total.cautious, 4),
            cause="qualifying check" if terms.check else hours.says,
        )
    )  # fmt: skip
    return total


def _sources(numbers: Sequence[str], hours: Estimated) -> dict[str, str]:
    """Where each phase's hours come from; said only where something was learned."""
    if not hours.learned:
        return {}
    return {number: line.source for number, line in zip(numbers, hours.lines, strict=True)}


def _says(hours: Estimated) -> str | None:
    return hours.says if hours.learned else None


@lru_cache(maxsize=2048)
def _forecast(figures: Figures) -> Forecast:
    return Forecast(
        mean=round(figures.mean, 4), quantiles=[round(one, 4) for one in figures.quantiles]
    )
