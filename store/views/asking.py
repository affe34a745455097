"""A question about work that nobody has agreed to, and the hours of the routes it may take."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime

from store.file.learned.new_work import Estimated, Work, by_the_book, estimated, odds_of
from store.rules import routes
from store.rules.book import WorkBook
from store.rules.estimating import Figures
from store.rules.forks import Fork, Question, route_if
from store.sums.working_time import Calendar
from store.trouble import Refused

Route = tuple[routes.RoutePhase, ...]


@dataclass(frozen=True, slots=True)
class Asking:
    """The question, with what the file says to it.

    Attributes:
        operations: their codes in the order of the book.
        vehicle: with the options that hold until something else is found.
        named: options that somebody said.
        learned: what was learned here is asked too, not the work book alone.
    """

    db: sqlite3.Connection
    now: datetime
    calendar: Calendar
    book: WorkBook
    operations: tuple[str, ...]
    vehicle: routes.Vehicle
    named: Mapping[str, str]
    work: Work
    cautious: float
    learned: bool = True
    _known: dict[object, Estimated] = field(default_factory=dict[object, Estimated], repr=False)
    _odds: dict[tuple[str, str], Sequence[float]] = field(
        default_factory=dict[tuple[str, str], Sequence[float]], repr=False
    )

    def hours(self, route: Route) -> Estimated:
        """Hours of a route for this work; of the same route only once."""
        key = (
            self.work.template,
            tuple((one.phase.code, one.book, one.learned, one.serves) for one in route),
        )
        found = self._known.get(key)
        if found is None:
            found = self._known[key] = (
                estimated(self.db, route, self.work, self.now, self.cautious)
                if self.learned
                else by_the_book(route, self.cautious)
            )
        return found

    def total(self, route: Route) -> Figures:
        """Labour of a route together."""
        return self.hours(route).total

    def odds(self, asked: Question) -> Sequence[float]:
        """Odds of each answer to a question, as they are known here."""
        key = asked.phase, asked.step
        if key not in self._odds:
            self._odds[key] = odds_of(self.db, asked)
        return self._odds[key]

    def route_if(self, fork: Fork) -> Route | None:
        """The route as an answer would make it; None where none can be laid so."""
        try:
            return route_if(self.book, self.vehicle, self.operations, fork)
        except Refused:
            return None

    def saying(self, more: Mapping[str, str]) -> Asking:
        """The same question with more said of the vehicle."""
        vehicle = replace(self.vehicle, options={**self.vehicle.options, **more})
        return replace(self, vehicle=vehicle, named={**self.named, **more})

    def selling(self, codes: Sequence[str]) -> Asking | None:
        """The same question about other operations; None where they cannot be."""
        sold = routes.sold(self.book, codes)
        own = {option.code for one in sold for option in one.options}
        named = {code: value for code, value in self.named.items() if code in own}
        try:
            known = routes.chosen(self.book, codes, named)
        except Refused:
            return None
        names = tuple(one.code for one in sold)
        return replace(
            self, operations=names, vehicle=replace(self.vehicle, options=known), named=named,
            work=replace(self.work, template="+".join(names)),
        )  # fmt: skip


def more_and_less(route: Route, then: Route) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Names of the phases that another route adds and leaves out."""
    here = {one.phase.code for one in route}
    there = {one.phase.code for one in then}
    return (
        tuple(one.phase.name for one in then if one.phase.code not in here),
        tuple(one.phase.name for one in route if one.phase.code not in there),
    )


def kits_of(route: Route) -> tuple[str, ...]:
    """Codes of the kits that a route needs, in its order."""
    return tuple(dict.fromkeys(need.kit for one in route for need in one.kits))
