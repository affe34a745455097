"""The work book of a simulated shop: hours by phase and family, revised now and then."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping

import numpy as np

from store.learn.scores import Floats
from tests.bench.hours.levels import MONTH, YEARS, Levels
from tests.bench.hours.routes import Phase


class Book:
    """Hours in tenths. An access has the same hours in every operation.

    `family` gives, for a code and a family, what the book adds for that family, in logs.
    """

    def __init__(
        self,
        dice: np.random.Generator,
        hours: Mapping[str, float],
        begin: float,
        family: Callable[[str, str], float],
        *,
        rewritten: bool,
    ) -> None:
        self._hours = hours
        self._family = family
        gaps = dice.exponential(5 * MONTH, 3 * YEARS) if rewritten else np.empty(0)
        self._revised = begin + np.cumsum(gaps)
        self._touched = float(dice.uniform(0.2, 0.6))
        self._by = Levels(dice, 1.0)

    def first(self, code: str, family: str) -> float:
        """What the book said at first."""
        return tenths(self._hours[code] * math.exp(self._family(code, family)))

    def at(self, code: str, family: str, at: float) -> float:
        """What it says then."""
        return tenths(self.first(code, family) * math.exp(self._change(code, at)))

    def of(self, route: tuple[Phase, ...], family: str, at: float) -> Floats:
        """(n,) what it says of a whole route."""
        return np.array([self.at(phase.code, family, at) for phase in route])

    def _change(self, code: str, at: float) -> float:
        """All revisions so far, in logs: each takes some phases up or down by a third or so."""
        revisions = range(int((self._revised <= at).sum()))
        chosen = [n for n in revisions if _share(self._by(n, code, "touched")) < self._touched]
        total = sum(0.3 * self._by(n, code) for n in chosen)
        return max(-0.9, min(0.9, total))


def tenths(hours: float) -> float:
    """Tenths of an hour, two at least."""
    return max(0.2, round(hours, 1))


def _share(z: float) -> float:
    return 0.5 * (1 + math.erf(z / math.sqrt(2)))
