"""The hours that a customer agrees to: worked out before the file is kept, frozen in the ledger."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache
from typing import Literal

from store.actions.acting import Acting
from store.edges.events import EstimateAgreed, EstimateChanged, Forecast, RoutePhase
from store.edges.events import Figures as Stated
from store.file.books import book_on
from store.file.facts import calendar_of, rate_on, setting
from store.file.learned.new_work import Estimated, Line, Work, estimated
from store.file.shop import Shop
from store.rules import routes
from store.rules.estimating import BOOK, Figures, of_phase, of_total
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
) -> WorkedOut | None:
    """Return the hours of work out of a look: sums that take long keep nobody from the file.

    None where the work cannot be: whoever takes it says so once it is known who asks.
    """
    with suppress(Trouble), shop.reading() as db:
        _, book = book_on(db, calendar_of(db).day_of(now))
        known = routes.chosen(book, operations, options)
        route = routes.lay(book, operations=operations, family=family, options=known, grade=grade)
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


def agree(
    doing: Acting,
    job: str,
    added: Sequence[RoutePhase],
    hours: Estimated,
    terms: tuple[Basis, float | None],
) -> Figures:
    """Freeze what was agreed; from here on it changes beside it, never itself.

    Args:
        added: the route's phases, with `hours` for each.
        terms: price basis and ceiling.
    """
    total = hours.total
    rate = rate_on(doing.db, doing.today)
    doing.record(
        EstimateAgreed(
            job=job, basis=terms[0], ceiling=terms[1],
            money=None if rate is None else round(rate * total.middle, 2), source=hours.source,
            phases={
                one.phase: _forecast(line.figures)
                for one, line in zip(added, hours.lines, strict=True)
            },
            total=_forecast(total), sources=_sources(added, hours), says=_says(hours),
        )
    )  # fmt: skip
    doing.record(
        EstimateChanged(
            job=job, middle=round(total.middle, 4), cautious=round(total.cautious, 4),
            cause=hours.says,
        )
    )  # fmt: skip
    return total


def _sources(added: Sequence[RoutePhase], hours: Estimated) -> dict[str, str]:
    """Where each phase's hours come from; said only where something was learned."""
    if not hours.learned:
        return {}
    return {one.phase: line.source for one, line in zip(added, hours.lines, strict=True)}


def _says(hours: Estimated) -> str | None:
    return hours.says if hours.learned else None


@lru_cache(maxsize=2048)
def _forecast(figures: Figures) -> Forecast:
    return Forecast(
        mean=round(figures.mean, 4), quantiles=[round(one, 4) for one in figures.quantiles]
    )
