"""Hours of work that nobody has agreed to yet, as far as they were learned. No array is needed
where nothing was."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime

from store.file.facts import calendar_of
from store.file.learned import labour_part, seen
from store.file.learned.due import LIVE
from store.file.learned.kept import Part, parts
from store.file.learned.moment import employed_on, moment
from store.rules.estimating import BOOK, Figures, of_phase, of_total
from store.rules.forks import Question
from store.rules.routes import RoutePhase

HOURS = {labour_part.NAME: labour_part.VERSION, seen.NAME: seen.VERSION}
"""Parts without which there are no learned hours."""


@dataclass(frozen=True, slots=True)
class Work:
    """What is asked about.

    Attributes:
        template: its operations in the order of the book, joined with '+'.
        badge: who would do it; None where that is open.
    """

    template: str
    family: str
    grade: int
    badge: str | None = None


@dataclass(frozen=True, slots=True)
class AsOf:
    """When it is asked (POSIX seconds), who is employed then, and the shop's cautious quantile."""

    at: float
    employed: frozenset[str]
    cautious: float


@dataclass(frozen=True, slots=True)
class Line:
    """One phase: its hours, where they come from in words, and how many jobs had it before.

    Attributes:
        on_family: how many of these jobs were on this family.
    """

    figures: Figures
    source: str
    finished_before: int
    on_family: int = 0


@dataclass(frozen=True, slots=True)
class Estimated:
    """A route's hours.

    Attributes:
        lines: of each phase of the route.
        source: `book`, or up to which entry had been learned.
        says: where the total comes from, in plain words.
    """

    lines: tuple[Line, ...]
    total: Figures
    source: str
    says: str

    @property
    def learned(self) -> bool:
        """The shop's own past is in it."""
        return self.source != BOOK


def estimated(
    db: sqlite3.Connection,
    route: Sequence[RoutePhase],
    work: Work,
    now: datetime,
    cautious: float,
) -> Estimated:
    """Return the hours of a route: learned ones, else the work book's."""
    known = parts(db, HOURS)
    counts = _counts(db, known)
    if len(known) < len(HOURS) or not counts.records:
        return by_the_book(route, cautious)
    from store.file.learned.estimating import figures, read

    content = parts(db, HOURS, whole=True)[labour_part.NAME].content or b""
    who = employed_on(db, calendar_of(db), now)
    try:
        labour = read(content)
    except ValueError:  # cannot be read: the learner will learn it again
        return by_the_book(route, cautious)
    each, total = figures(labour, route, work, AsOf(now.timestamp(), who, cautious))
    lines = tuple(
        Line(
            found, counts.source(one.phase.code, work.family), counts.jobs(one.phase.code),
            counts.on(one.phase.code, work.family),
        )
        if one.phase.kind == "labour"
        else _line(one, cautious)
        for one, found in zip(route, each, strict=True)
    )  # fmt: skip
    return Estimated(
        lines, total, f"learned at {known[labour_part.NAME].at.seq}", counts.kind(work.template)
    )


def get_ready(db: sqlite3.Connection) -> None:
    """Load what learned hours and dates need, before they are asked for; else that is waited for.

    Nothing is loaded where nothing was learned.
    """
    known = parts(db, HOURS)
    if len(known) == len(HOURS):
        from store.file.learned.estimating import read
        from store.file.learned.own import ShopLearner

        content = parts(db, HOURS, whole=True)[labour_part.NAME].content or b""
        with suppress(ValueError):  # cannot be read: the learner will learn it again
            read(content)
        whole = parts(db, ShopLearner().versions, whole=True)
        if len(whole) == len(ShopLearner().versions):
            with suppress(ValueError):
                ShopLearner().ready(whole)


def odds_of(db: sqlite3.Connection, asked: Question) -> Sequence[float]:
    """Return the odds of each answer to a question, as they are known here."""
    return _counts(db, parts(db, HOURS)).chances(asked)


def finishes_of(
    db: sqlite3.Connection,
    cases: Sequence[Sequence[tuple[float, Sequence[RoutePhase]]]],
    work: Work,
    now: datetime,
) -> list[tuple[float, ...]] | None:
    """Return quantiles of the open hours until work would be finished that is taken now.

    Args:
        cases: what may be assumed; in each the routes that the work may take, with their odds.

    Returns:
        For each case; None where nothing was learned yet, or the shop never opens.
    """
    from store.file.learned.own import VERSIONS, ShopLearner

    known = parts(db, VERSIONS, whole=True)
    if len(known) < len(VERSIONS):
        return None
    try:
        ready = ShopLearner().ready(known)
    except ValueError:  # cannot be read: the learner will learn it again
        return None
    here = moment(db, [row[0] for row in db.execute(LIVE)], now)
    found = ready.new_jobs(here, work, cases)
    return None if found is None else [one.quantiles for one in found]


def by_the_book(route: Sequence[RoutePhase], cautious: float) -> Estimated:
    """Return the work book's hours."""
    total = of_total([_book(one) for one in route if one.phase.kind == "labour"], cautious)
    return Estimated(tuple(_line(one, cautious) for one in route), total, BOOK, BOOK)


def _line(one: RoutePhase, cautious: float) -> Line:
    return Line(of_phase(_book(one), cautious), seen.BOOK_ONLY, 0)


def _book(one: RoutePhase) -> tuple[float, float, float]:
    return (one.book.low, one.book.middle, one.book.high)


def _counts(db: sqlite3.Connection, known: dict[str, Part]) -> seen.Seen:
    if seen.NAME not in known:
        return seen.NOTHING
    found = parts(db, {seen.NAME: seen.VERSION}, whole=True)
    return seen.read(found.get(seen.NAME))
