"""How long a job stands, and how long its parts are away at a firm."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from store.learn.dates.lengths import HALF_LIFE_H, Law, Lengths, Prior, log_length
from store.learn.dates.priors import TENTH
from store.learn.dates.route import Step
from store.learn.dates.seen import AwayLasted

STANDS_H, STANDS_SD = 4.0, 0.8
"""Middle wall hours of a standing that no book names, and log standard deviation."""
STANDING_WORTH = 0.5
OUTWORK_H, OUTWORK_TENTH_H = 30.0, 70.0
OUTWORK_SD = math.log(OUTWORK_TENTH_H / OUTWORK_H) / TENTH
ROUTE_WORTH, FIRM_WORTH, ALL_WORTH, OUTWORK_SPREAD_WORTH = 1.0, 2.0, 2.0, 4.0
FOR_EVER_H = 1e9
"""Half-life of what does not fade."""


@dataclass(slots=True)
class Away:
    """Lengths by phase of an operation and by firm.

    Attributes:
        standing: wall hours, by operation and phase.
        routes: outwork in open hours, by operation and phase.
        firms: the same by firm.
        outwork: all of it.
        ended, beside: how many are over, and in how many work went on further down the route.
    """

    standing: dict[str, Lengths] = field(default_factory=dict[str, Lengths])
    routes: dict[str, Lengths] = field(default_factory=dict[str, Lengths])
    firms: dict[str, Lengths] = field(default_factory=dict[str, Lengths])
    outwork: Lengths = field(default_factory=Lengths)
    ended: int = 0
    beside: int = 0

    def blocks(self) -> bool:
        """Whether work mostly waits for the end of a standing or an outwork, as a route says."""
        return 2 * self.beside <= self.ended

    def learn(self, seen: AwayLasted, reading: float) -> None:
        """Take in one that is over."""
        value, key = log_length(seen.hours), route_key(seen.step)
        self.ended += 1
        self.beside += seen.beside
        if seen.step.kind == "standing":
            self.standing.setdefault(key, Lengths()).add(value, reading, FOR_EVER_H)
            return
        self.outwork.add(value, reading)
        self.routes.setdefault(key, Lengths()).add(value, reading, FOR_EVER_H)
        if seen.firm:
            self.firms.setdefault(seen.firm, Lengths()).add(value, reading)

    def standing_law(self, step: Step, reading: float) -> Law:
        """Wall hours of a standing."""
        middle = math.log(step.book_h if step.book_h > 0 else STANDS_H)
        seen = self.standing.get(route_key(step), Lengths())
        return seen.own_law(middle, STANDS_SD, STANDING_WORTH, reading, FOR_EVER_H)

    def outwork_law(self, step: Step, reading: float) -> Law:
        """Open hours of an outwork: the route's own, and where it is known the firm's.

        Each is shrunk to all outwork; the two are weighed by how many cases stand behind them.
        """
        usual = Prior(math.log(OUTWORK_H), OUTWORK_SD, ALL_WORTH, OUTWORK_SPREAD_WORTH)
        every = self.outwork.law(usual, reading)
        route = self.routes.get(route_key(step), Lengths()).law(
            Prior(every.m, every.s, ROUTE_WORTH, OUTWORK_SPREAD_WORTH), reading, FOR_EVER_H
        )
        if not step.firm:
            return route
        firm = self.firms.get(step.firm, Lengths()).law(
            Prior(every.m, every.s, FIRM_WORTH, OUTWORK_SPREAD_WORTH), reading, HALF_LIFE_H
        )
        n = route.n + firm.n
        m = (route.n * route.m + firm.n * firm.m) / n
        return Law(m, (route.n * route.s + firm.n * firm.s) / n, n)


def route_key(step: Step) -> str:
    """The phase of its operation; a line feed is in no name."""
    return f"{step.operation}\n{step.phase}"
