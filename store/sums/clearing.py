"""Whether it pays to clear a lift of what cannot go on, and from which rest of the hold on.

What is left of a hold, X = T - t given T > t, follows from the log-normal law of its whole length:
ln T ~ N(m, s^2), t how long it has lasted. The vehicle leaves in c open hours with n people, and
comes back in as many with as many once it can go on. In between the lift serves others:

    lift hours won        W = max(0, X - c)
    labour that it takes  L = 2 n c
    labour done on them   r W, r the hours of labour that a job on a lift gets in an open hour
    worth in labour       V = r W - L
    break-even            X* = c + L / r = c (1 + 2 n / r): V < 0 for a shorter rest, > 0 for a
                          longer one

With c = 0.6 h, n = 2 and r = 0.5 the break-even is 5.4 h, about two thirds of a shop day.

Source of the law's tail and partial means: Johnson, Kotz, Balakrishnan, Continuous Univariate
Distributions, vol. 1 (1994), chapter 14.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from statistics import NormalDist

from store.sums.rest_of_length import FARTHEST

WAYS = 2
"""Out, and in again."""
LONGEST_H = 400.0
"""Open hours; so long a hold goes on at most, as wherever dates are forecast."""
_NORMAL = NormalDist()


@dataclass(frozen=True, slots=True)
class Rest:
    """What is left of a span: its whole length T has ln T ~ N(m, s^2), and it has lasted t.

    Attributes:
        m, s: of the log of the whole length; s above 0.
        so_far: t, 0 or more, in the unit of exp(m).

    Raises:
        ValueError: an argument is outside its range.
    """

    m: float
    s: float
    so_far: float

    def __post_init__(self) -> None:
        if not self.s > 0 or not 0 <= self.so_far < math.inf or not math.isfinite(self.m):
            raise ValueError(f"s is above 0 and t 0 or more, not {self.s}, {self.so_far}")

    @property
    def _outlived(self) -> bool:
        """It has lasted far longer than anything like it: what is left is exponential, mean t/2."""
        return self.so_far > 0 and (math.log(self.so_far) - self.m) / self.s > FARTHEST

    def longer(self, hours: float) -> float:
        """Return P(X > hours), hours 0 or more."""
        if self._outlived:
            return math.exp(-2 * hours / self.so_far)
        return min(1.0, self._above(self.so_far + hours) / self._above(self.so_far))

    def beyond(self, hours: float) -> float:
        """Return E max(0, X - hours), hours 0 or more.

        With u = t + hours and z = (ln u - m) / s it is
        (exp(m + s^2 / 2) Phi(s - z) - u Phi(-z)) / P(T > t).
        """
        if self._outlived:
            return self.so_far / 2 * math.exp(-2 * hours / self.so_far)
        until = self.so_far + hours
        whole = math.exp(self.m + self.s**2 / 2)
        part = whole if until <= 0 else whole * _tail(self._z(until) - self.s)
        return max(0.0, (part - until * self._above(until)) / self._above(self.so_far))

    def quantile(self, level: float) -> float:
        """Return the hours that X does not exceed with a chance above 0 and below 1.

        Raises:
            ValueError: it is no such chance.
        """
        if not 0 < level < 1:
            raise ValueError(f"a level lies between 0 and 1, not at {level}")
        if self._outlived:
            return -self.so_far / 2 * math.log1p(-level)
        z = -_NORMAL.inv_cdf((1 - level) * self._above(self.so_far))
        return max(0.0, math.exp(self.m + self.s * z) - self.so_far)

    def _z(self, hours: float) -> float:
        return (math.log(hours) - self.m) / self.s

    def _above(self, hours: float) -> float:
        """P(T > hours)."""
        return 1.0 if hours <= 0 else _tail(self._z(hours))


def _tail(z: float) -> float:
    """The chance that a standard normal value is greater."""
    return 0.5 * math.erfc(z / math.sqrt(2))


@dataclass(frozen=True, slots=True)
class Worth:
    """What clearing a lift brings.

    Attributes:
        won_h: open hours for which the lift serves others, on the average.
        low_h, high_h: one time in ten it is less, one time in ten more.
        labour_h: hours of labour that it takes, out and in again.
        break_even_h: open hours for which the hold must still go on.
        longer: the chance that it goes on for longer than that.
        value_h: hours of labour gained on the average; below 0 it costs more than it brings.
    """

    won_h: float
    low_h: float
    high_h: float
    labour_h: float
    break_even_h: float
    longer: float
    value_h: float


def break_even(clear_h: float, people: int, pace: float) -> float:
    """Return for how many open hours a hold must still go on, so that clearing costs nothing.

    X* = c (1 + 2 n / r).

    Args:
        clear_h: c, open hours one way, 0 or more; people: n, 0 or more.
        pace: r, hours of labour that a job on a lift gets in an open hour, above 0.

    Raises:
        ValueError: an argument is outside its range.
    """
    if not 0 <= clear_h < math.inf or people < 0 or not 0 < pace < math.inf:
        raise ValueError(f"c and n are 0 or more, r above 0, not {clear_h}, {people}, {pace}")
    return clear_h * (1 + WAYS * people / pace)


def worth(rest: Rest, *, clear_h: float, people: int, pace: float) -> Worth:
    """Weigh the lift hours that clearing wins against the labour of clearing.

    Args:
        rest: what is left of the hold, open hours.
        clear_h, people, pace: as `break_even` takes them.

    Raises:
        ValueError: an argument is outside its range.
    """
    needed = break_even(clear_h, people, pace)
    labour = WAYS * people * clear_h
    won = rest.beyond(clear_h) - rest.beyond(max(clear_h, LONGEST_H))
    low, high = (max(0.0, min(rest.quantile(one), LONGEST_H) - clear_h) for one in (0.1, 0.9))
    longer = rest.longer(needed) if needed < LONGEST_H else 0.0
    return Worth(won, low, high, labour, needed, longer, pace * won - labour)
