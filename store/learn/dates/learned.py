"""All that was learned of a shop beside its labour: sums, raised event by event."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from store.learn.dates.away import Away
from store.learn.dates.hands import Hands
from store.learn.dates.lately import Lately
from store.learn.dates.lengths import Law, Lengths, Prior, log_length, said_too
from store.learn.dates.priors import HOLDS, OTHER
from store.learn.dates.ranges import Ranges
from store.learn.dates.rates import HoldRates
from store.learn.dates.route import Running
from store.learn.dates.seen import (
    AwayLasted,
    Begun,
    HoldBegan,
    HoldLasted,
    PhaseDone,
    Seen,
    Waited,
    Worked,
)
from store.learn.dates.spans import OpenHours
from store.learn.dates.waits import Waits

LENGTH_WORTH, LENGTH_SPREAD_WORTH = 4.0, 8.0
MISS = Prior(0.2, 0.6, 4.0, 4.0)
"""The log of true over said end, before any was seen."""
LEAST_SAID_H = 0.25
"""An end said for less than this ahead is taken as this."""


@dataclass(slots=True)
class Learned:
    """What a shop's past taught. Fed in order of time; read at any later time.

    Attributes:
        lengths: of holds by reason, open hours.
        misses: log of true over said length, by reason.
    """

    holds: HoldRates = field(default_factory=HoldRates)
    waits: Waits = field(default_factory=Waits)
    lately: Lately = field(default_factory=Lately)
    hands: Hands = field(default_factory=Hands)
    away: Away = field(default_factory=Away)
    ranges: Ranges = field(default_factory=Ranges)
    lengths: dict[str, Lengths] = field(default_factory=dict[str, Lengths])
    misses: dict[str, Lengths] = field(default_factory=dict[str, Lengths])

    def learn(self, seen: Seen, reading: float) -> None:
        """Take in what one event taught, at the reading of the event."""
        match seen:
            case HoldLasted():
                self._lasted(seen, reading)
            case AwayLasted():
                self.away.learn(seen, reading)
            case PhaseDone():
                self.hands.learn(seen)
            case Begun() | HoldBegan():
                self.holds.learn(seen)
            case Waited():
                self.waits.learn(seen)
            case Worked():
                self.holds.learn(seen)
                self.waits.learn(seen)

    def _lasted(self, seen: HoldLasted, reading: float) -> None:
        value = log_length(seen.hours)
        self.lengths.setdefault(seen.reason, Lengths()).add(value, reading)
        if seen.said_h is not None:
            miss = value - math.log(max(seen.said_h, LEAST_SAID_H))
            self.misses.setdefault(seen.reason, Lengths()).add(miss, reading)

    def length_law(self, reason: str, reading: float) -> Law:
        """Open hours of a hold of a reason."""
        usual = HOLDS[reason if reason in HOLDS else OTHER]
        prior = Prior(math.log(usual.middle_h), usual.log_sd, LENGTH_WORTH, LENGTH_SPREAD_WORTH)
        return self.lengths.get(reason, Lengths()).law(prior, reading)

    def running_law(self, one: Running, usual: Law, hours: OpenHours, reading: float) -> Law:
        """Open hours from its beginning of what is under way, with what was said of its end."""
        if one.said is None:
            return Law(usual.m, usual.wide, math.inf)
        began = hours.upto(one.began)
        said_h = max(hours.upto(one.said) - began, LEAST_SAID_H)
        return said_too(usual, said_h, self.misses.get(one.reason, Lengths()).law(MISS, reading))
