"""How long something lasts: a log-normal law from weighted sums of logs, old cases fading."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

HALF_LIFE_H = 150 * 8.0
"""Open hours in which what was seen loses half its weight: 150 shop days."""
SHORTEST_H = 0.02
"""A length below a minute or so says no more than that it was short."""


class Law(NamedTuple):
    """A log-normal law as far as it is known.

    Attributes:
        m: mean of the logs.
        s: standard deviation of the logs, that of a new case given m.
        n: how many cases m is worth.
    """

    m: float
    s: float
    n: float

    @property
    def wide(self) -> float:
        """Standard deviation of the log of a new case, m itself being uncertain."""
        return self.s * math.sqrt(1 + 1 / self.n)

    @property
    def centre(self) -> float:
        """Mean of the log of a new case with which a spread of `wide` leaves the mean length."""
        return self.m - self.s**2 / (2 * self.n)

    def mean(self) -> float:
        """Of the length, in its own unit."""
        return math.exp(self.m + self.s**2 / 2)


class Prior(NamedTuple):
    """A law before anything was seen, worth so many cases for its mean and for its spread."""

    m: float
    s: float
    mean_worth: float
    spread_worth: float


@dataclass(slots=True)
class Lengths:
    """Sums of the logs of lengths seen, as they weigh at an open-hours reading.

    Attributes:
        weight, logs, squares: sum of weights, of logs, of squared logs.
        reading: at which they weigh so.
        seen: how many there were, however old.
    """

    weight: float = 0.0
    logs: float = 0.0
    squares: float = 0.0
    reading: float = 0.0
    seen: int = 0

    def add(self, value: float, reading: float, half_life: float = HALF_LIFE_H) -> None:
        """Take in a log of a length, seen at a reading not before the last one."""
        fade = 0.5 ** ((reading - self.reading) / half_life)
        self.weight = self.weight * fade + 1
        self.logs = self.logs * fade + value
        self.squares = self.squares * fade + value * value
        self.reading = reading
        self.seen += 1

    def law(self, prior: Prior, reading: float, half_life: float = HALF_LIFE_H) -> Law:
        """What is known at a reading: normal mean and spread, shrunk to a prior.

        m = (k m0 + sum w x) / (k + sum w); s^2 = (v s0^2 + scatter) / (v + sum w), scatter around
        the mean of what was seen, and of that mean from m0.

        Source:
            Gelman et al., Bayesian Data Analysis, 3rd ed. (2013), section 3.3.
        """
        fade = 0.5 ** ((reading - self.reading) / half_life)
        weight, logs, squares = self.weight * fade, self.logs * fade, self.squares * fade
        known = prior.mean_worth + weight
        m = (prior.mean_worth * prior.m + logs) / known
        seen = logs / weight if weight else prior.m
        scatter = max(0.0, squares - weight * seen * seen)
        scatter += prior.mean_worth * weight / known * (seen - prior.m) ** 2
        s2 = (prior.spread_worth * prior.s**2 + scatter) / (prior.spread_worth + weight)
        return Law(m, math.sqrt(s2), known)

    def own_law(self, m: float, s: float, worth: float, reading: float, half_life: float) -> Law:
        """What is known where the usual is no more than a guess of so many cases.

        What was seen may lie far from the guess and yet be even:
        s^2 = (k s0^2 + scatter) / (k + n), scatter around the mean of what was seen alone.

        Args:
            m, s: the guess; before any case it holds as it is.
            worth: k, above 0.
        """
        fade = 0.5 ** ((reading - self.reading) / half_life)
        weight, logs, squares = self.weight * fade, self.logs * fade, self.squares * fade
        if not weight:
            return Law(m, s, math.inf)
        known = worth + weight
        scatter = max(0.0, squares - logs * logs / weight)
        return Law((worth * m + logs) / known, math.sqrt((worth * s * s + scatter) / known), known)


def log_length(hours: float) -> float:
    """The log of a length in hours, the shortest not below a minute."""
    return math.log(max(hours, SHORTEST_H))


def said_too(law: Law, said_h: float, miss: Law) -> Law:
    """The law of one length of which somebody said how long it will take.

    ln S + b is a second look at ln T with spread t: precisions add.

    Args:
        law: of lengths like it.
        said_h: S, above 0.
        miss: b and t, the log of true over said.
    """
    own, other = 1 / law.wide**2, 1 / miss.wide**2
    m = (own * law.m + other * (log_length(said_h) + miss.m)) / (own + other)
    return Law(m, math.sqrt(1 / (own + other)), math.inf)
