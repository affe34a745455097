"""How often and how long a job that could go on waits for a pair of hands."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

from store.learn.dates.priors import WAITING_H
from store.learn.dates.route import Step
from store.learn.dates.seen import Waited, WaitKind, Worked
from store.learn.dates.stay import NO_WAIT_H

LONGEST_H = 16.0
"""A wait counts so long at most, since one forgotten job must not slow every date for a month,
unless longer ones are nothing rare here."""
RARE, RARE_WAITS = 0.02, 2
"""So few waits are above what a wait counts: this share, and two at least."""
KEPT = 400
"""Waits of a kind that are drawn again."""
LOG_SD = 1.1
LENGTH_WORTH = 6.0
INSIDE_RATE, INSIDE_WORTH = 0.30, 25.0
"""Waits inside a phase per labour hour; hours of labour that this is worth."""
CHANCE_WORTH = 8.0
PHASE_WORTH_H = 40.0
"""Hours expected at which a phase's factor stands half-way between 1 and what was seen."""
TOTAL_WORTH = 30.0
"""Labour hours that the prior sum of all waits is worth."""


class Usual(NamedTuple):
    """A kind of wait before any was seen: chance (for `inside` none), middle length, open hours."""

    chance: float
    middle_h: float

    @property
    def mean_h(self) -> float:
        """Of the log-normal length."""
        return self.middle_h * math.exp(LOG_SD**2 / 2)


USUAL: Mapping[WaitKind, Usual] = {
    "inside": Usual(0.0, 1.0),
    "between": Usual(0.45, 1.3),
    "after": Usual(0.60, 0.9),
    "leaving": Usual(0.10, 1.3),
}

OCCASIONS: tuple[WaitKind, ...] = ("between", "after", "leaving")


@dataclass(slots=True)
class OfKind:
    """Occasions at which a wait of a kind could be, waits that were, the last lengths.

    `last_h` are as long as they were, their sum is of lengths capped.
    """

    occasions: float = 0.0
    waits: float = 0.0
    last_h: list[float] = field(default_factory=list[float])
    sum_h: float = 0.0

    def capped(self, longest_h: float) -> None:
        """Sum the last lengths anew."""
        self.sum_h = sum(min(one, longest_h) for one in self.last_h)


@dataclass(slots=True)
class Waits:
    """All waits of the shop.

    Attributes:
        labour_h: open hours with somebody on a job.
        waited_h: open hours waited, each wait capped.
        longest_h: a wait counts so long at most.
        phases: by the phase's code, whatever the operation.
    """

    labour_h: float = 0.0
    waited_h: float = 0.0
    longest_h: float = LONGEST_H
    kinds: dict[str, OfKind] = field(default_factory=lambda: {kind: OfKind() for kind in USUAL})
    phases: dict[str, OwnWaits] = field(default_factory=dict[str, "OwnWaits"])

    def learn(self, seen: Worked | Waited) -> None:
        """Take in labour or a wait."""
        self.phases.setdefault(seen.step.phase, OwnWaits()).learn(seen, self.longest_h)
        if isinstance(seen, Worked):
            self.labour_h += seen.until - seen.since
            return
        kind, hours = self.kinds[seen.kind], seen.until - seen.since
        kind.occasions += 1
        if hours > NO_WAIT_H:
            kind.waits += 1
            kind.last_h.append(hours)
            del kind.last_h[:-KEPT]
            kind.capped(self.longest_h)
            if hours > LONGEST_H:
                self._cap()
            self.waited_h += min(hours, self.longest_h)

    def usual(self) -> float:
        """Open hours waited per labour hour, over everything seen."""
        return (WAITING_H * TOTAL_WORTH + self.waited_h) / (TOTAL_WORTH + self.labour_h)

    def pace(self) -> Pace:
        """What is usual now."""
        inside = INSIDE_RATE * INSIDE_WORTH + self.kinds["inside"].waits
        rate = inside / (INSIDE_WORTH + self.labour_h)
        chances: dict[WaitKind, float] = {kind: self._chance(kind) for kind in USUAL}
        each: dict[WaitKind, float] = {kind: chances[kind] * self._mean_h(kind) for kind in USUAL}
        return Pace(rate, chances, each, rate * self._mean_h("inside"))

    def factor(self, step: Step, pace: Pace) -> float:
        """Factor of a phase on its waits: hours seen against what is usual."""
        seen = self.phases.get(step.phase)
        if seen is None:
            return 1.0
        return (PHASE_WORTH_H + seen.waited_h) / (PHASE_WORTH_H + pace.expected_h(seen))

    def _cap(self) -> None:
        """What only few waits exceed."""
        every = sorted(hours for kind in self.kinds.values() for hours in kind.last_h)
        few = max(RARE_WAITS, int(RARE * len(every)))
        self.longest_h = max(LONGEST_H, every[-1 - few] if few < len(every) else 0.0)
        for kind in self.kinds.values():
            kind.capped(self.longest_h)

    def _chance(self, kind: WaitKind) -> float:
        seen = self.kinds[kind]
        return (USUAL[kind].chance * CHANCE_WORTH + seen.waits) / (CHANCE_WORTH + seen.occasions)

    def _mean_h(self, kind: WaitKind) -> float:
        seen = self.kinds[kind]
        known = LENGTH_WORTH + len(seen.last_h)
        return (USUAL[kind].mean_h * LENGTH_WORTH + seen.sum_h) / known


@dataclass(slots=True)
class OwnWaits:
    """What one job, or one phase in all jobs, has seen of waits."""

    labour_h: float = 0.0
    occasions: dict[str, float] = field(default_factory=dict[str, float])
    waited_h: float = 0.0

    def learn(self, seen: Worked | Waited, longest_h: float) -> None:
        """Take in labour or a wait, which counts so long at most."""
        if isinstance(seen, Worked):
            self.labour_h += seen.until - seen.since
        else:
            self.occasions[seen.kind] = self.occasions.get(seen.kind, 0.0) + 1
            self.waited_h += min(longest_h, seen.until - seen.since)


@dataclass(frozen=True, slots=True)
class Pace:
    """What is usual in the shop at one moment.

    Attributes:
        inside: waits inside a phase per labour hour.
        chance: that there is a wait at all, by kind; of none inside.
        each_h: open hours an occasion brings on average, by kind.
        inside_h: open hours waited inside a phase per labour hour.
    """

    inside: float
    chance: Mapping[WaitKind, float]
    each_h: Mapping[WaitKind, float]
    inside_h: float

    def expected_h(self, seen: OwnWaits) -> float:
        """Open hours that so much labour and so many occasions bring."""
        total = seen.labour_h * self.inside_h
        for kind in OCCASIONS:
            total += seen.occasions.get(kind, 0.0) * self.each_h[kind]
        return total
