"""Hours of what is quoted: the work as planned, and what its open decisions may make of it.

Worked out of a look, before the file is kept: sums that take long keep nobody from it.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import datetime

from store.edges.events.desk import Quoted
from store.edges.events.route import Figures as Stated
from store.file.books import book_of, book_on
from store.file.facts import calendar_of, setting
from store.file.learned.new_work import Work, estimated, odds_of
from store.file.shop import Shop
from store.rules import routes
from store.rules.book import WorkBook
from store.rules.estimating import Figures
from store.rules.forks import Fork, Question, questions, route_if
from store.trouble import Refused

SAME_H = 0.05
"""Ways whose hours differ by less have one price."""
MOST = 4
"""Other ways than the planned one that a customer is told; the likeliest."""


@dataclass(frozen=True, slots=True)
class Way:
    """One way that is quoted: operations of the work book with what is assumed of the vehicle.

    Attributes:
        text: what the customer is told that it is; "" says the operations' names.
        kits, parts, outwork: money beside the labour, where it is known.
    """

    operations: Sequence[str]
    options: Mapping[str, str] = field(default_factory=dict[str, str])
    text: str = ""
    kits: float | None = None
    parts: float | None = None
    outwork: float | None = None


@dataclass(frozen=True, slots=True)
class WayHours:
    """A way with its labour hours."""

    way: Way
    figures: Figures

    def quoted(self, rate: float | None) -> Quoted:
        """As it goes into the ledger.

        Args:
            rate: money for an hour; None where none was set.
        """
        way, middle = self.way, self.figures.middle
        return Quoted(
            text=way.text, operations=list(way.operations), options=dict(way.options),
            hours=Stated(
                middle=round(middle, 4), cautious=round(self.figures.cautious, 4),
                mean=round(self.figures.mean, 4),
            ),
            labour=None if rate is None else round(rate * middle, 2), kits=way.kits,
            parts=way.parts, outwork=way.outwork,
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Asking:
    """A job's question to the work book."""

    db: sqlite3.Connection
    now: datetime
    book: WorkBook
    family: str
    grade: int
    cautious: float

    def hours(self, route: Sequence[routes.RoutePhase], codes: Sequence[str]) -> Figures:
        work = Work("+".join(codes), self.family, self.grade)
        return estimated(self.db, route, work, self.now, self.cautious).total


def ways_of(
    shop: Shop, now: datetime, job: str, ways: Sequence[Way] | None
) -> tuple[WayHours, ...]:
    """Return what may be quoted for a job, the planned way first.

    Args:
        ways: those that are asked about; None is the chosen work with its open decisions.

    Returns:
        () where the work or the family is not chosen, or there is no such job.

    Raises:
        NoBook: there is no work book.
        Refused: an operation or option that cannot be.
    """
    with shop.reading() as db:
        row = db.execute(
            "select operations, family, options, grade, version from job where job = ?", [job]
        ).fetchone()
        if row is None or not row["family"] or (row["operations"] == "[]" and ways is None):
            return ()
        asking = _asking(db, now, row)
        if ways is not None:
            return tuple(_asked(asking, one) for one in ways)
        return _planned(asking, row, _answered(db, job))


def _asking(db: sqlite3.Connection, now: datetime, row: sqlite3.Row) -> _Asking:
    version = row["version"]
    book = book_on(db, calendar_of(db).day_of(now))[1] if version is None else book_of(db, version)
    return _Asking(db, now, book, row["family"], row["grade"], float(setting(db, "cautious")))


def _answered(db: sqlite3.Connection, job: str) -> set[str]:
    """Codes of the phases that are done: what they asked was answered."""
    found = db.execute("select code from phase where job = ? and state = 'finished'", [job])
    return {row[0] for row in found}


def _asked(asking: _Asking, way: Way) -> WayHours:
    known = routes.chosen(asking.book, way.operations, way.options)
    sold = routes.sold(asking.book, way.operations)
    codes = [one.code for one in sold]
    route = routes.lay(
        asking.book, operations=codes, family=asking.family, options=known, grade=asking.grade
    )
    text = way.text or " + ".join(one.name for one in sold)
    said = Way(codes, known, text, way.kits, way.parts, way.outwork)
    return WayHours(said, asking.hours(route, codes))


def _planned(asking: _Asking, row: sqlite3.Row, done: set[str]) -> tuple[WayHours, ...]:
    operations: list[str] = json.loads(row["operations"])
    named: dict[str, str] = json.loads(row["options"])
    first = _asked(asking, Way(operations, named))
    vehicle = routes.Vehicle(asking.family, asking.grade, first.way.options)
    route = routes.lay(
        asking.book, operations=operations, family=asking.family, options=first.way.options,
        grade=asking.grade,
    )  # fmt: skip
    checks = {one.phase.code for one in route if one.phase.qualifies}
    asked = [one for one in questions(route, named) if one.phase not in done | checks]
    found = [
        pair
        for one in asked
        for pair in _answers(asking, vehicle, first, one)
        if abs(pair[1].figures.middle - first.figures.middle) > SAME_H
    ]
    found.sort(key=lambda pair: -pair[0])
    return (first, *(way for _, way in found[:MOST]))


def _answers(
    asking: _Asking, vehicle: routes.Vehicle, first: WayHours, asked: Question
) -> Iterator[tuple[float, WayHours]]:
    """Odds and hours of each answer; those by which no route can be laid are passed over."""
    codes = list(first.way.operations)
    for answer, odds in zip(asked.answers, odds_of(asking.db, asked), strict=True):
        fork = Fork(odds, answer.sets, asked.phase if answer.ends else None)
        with suppress(Refused):
            route = route_if(asking.book, vehicle, codes, fork)
            options = {**first.way.options, **answer.sets}
            way = Way(codes, options, f"{asked.text} {answer.text}")
            yield odds, WayHours(way, asking.hours(route, codes))
