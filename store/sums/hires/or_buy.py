"""Hire a kit or buy it: uses to come are gamma-Poisson, the sum over them is exact.

Uses a year are Poisson with a rate that is gamma after what was seen (n uses in y years, and the
prior of Jeffreys), so that uses in the next T years are negative binomial:

    r = n + 1/2,  p = y / (y + T),  P(N = k) = C(k + r - 1, k) p^r (1 - p)^k,  mean r (1 - p) / p

Buying costs B = price + upkeep T over the kit's life of T years; hiring costs the sum of N uses of
mean m and spread s, normal given N. Buying is cheaper with the chance

    sum over k of P(N = k) Phi((k m - B) / (s sqrt k))

Source: Gelman and others, Bayesian Data Analysis (3rd ed. 2013), section 2.6; prior: Jeffreys,
Proceedings of the Royal Society A 186 (1946).
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate
from statistics import NormalDist

LOW, HIGH = 0.1, 0.9
UNSEEN = 1e-12
"""Chance of more uses than are summed over."""
MOST_YEARS = 50.0
_NORMAL = NormalDist()


@dataclass(frozen=True, slots=True)
class Uses:
    """Uses of a kit that were seen.

    Attributes:
        count: of them; years: in which they were, above 0.
        cost: mean money of a use that is hired: hire, carriage, fees.
        spread: standard deviation of it, 0 or more.
    """

    count: int
    years: float
    cost: float
    spread: float = 0.0

    def __post_init__(self) -> None:
        if self.count < 0 or not 0 < self.years < math.inf:
            raise ValueError(f"uses are 0 or more in years above 0, not {self.count}, {self.years}")
        _positive(self.cost, self.spread)


@dataclass(frozen=True, slots=True)
class Own:
    """What having a kit costs: `price` once, `upkeep` a year, for `life_years`, above 0."""

    price: float
    upkeep: float
    life_years: float

    def __post_init__(self) -> None:
        _positive(self.price, self.upkeep)
        if not 0 < self.life_years <= MOST_YEARS:
            raise ValueError(f"a kit lasts up to {MOST_YEARS:g} years, not {self.life_years}")

    @property
    def total(self) -> float:
        """Money over its life."""
        return self.price + self.upkeep * self.life_years


def _positive(*money: float) -> None:
    if not all(0 <= each < math.inf for each in money):
        raise ValueError(f"money is 0 or more, not {money}")


@dataclass(frozen=True, slots=True)
class HireOrBuy:
    """What both come to over the kit's life.

    Attributes:
        next_year: uses expected; low, high: one year in ten there are fewer, in one more.
        break_even: uses a year from which buying is cheaper; inf where a use costs nothing.
        buy_cheaper: chance that buying is cheaper over the kit's life.
        hire_cost, buy_cost: expected money over that life.
    """

    next_year: float
    low: int
    high: int
    break_even: float
    buy_cheaper: float
    hire_cost: float
    buy_cost: float


def hire_or_buy(uses: Uses, own: Own) -> HireOrBuy:
    """Weigh hiring against buying.

    Raises:
        ValueError: a figure of them is outside its range.
    """
    shape, year, life = uses.count + 0.5, _p(uses, 1.0), _p(uses, own.life_years)
    cheaper = sum(
        chance * _dearer(uses, count, own.total)
        for count, chance in enumerate(chances(shape, life))
    )
    return HireOrBuy(
        next_year=shape * (1 - year) / year,
        low=_quantile(shape, year, LOW),
        high=_quantile(shape, year, HIGH),
        break_even=own.total / own.life_years / uses.cost if uses.cost else math.inf,
        buy_cheaper=min(1.0, cheaper),
        hire_cost=uses.cost * shape * (1 - life) / life,
        buy_cost=own.total,
    )


def chances(shape: float, p: float) -> Iterator[float]:
    """Chances of 0, 1, 2 ... uses, until all but nothing is told."""
    told, count = 0.0, 0
    log_p, log_q = math.log(p), math.log1p(-p)
    mean, wide = shape * (1 - p) / p, math.sqrt(shape * (1 - p)) / p
    while told < 1 - UNSEEN and count <= mean + 60 * wide + 60:
        ways = math.lgamma(count + shape) - math.lgamma(shape) - math.lgamma(count + 1)
        yield (chance := math.exp(ways + shape * log_p + count * log_q))
        told, count = told + chance, count + 1


def _p(uses: Uses, years: float) -> float:
    return uses.years / (uses.years + years)


def _quantile(shape: float, p: float, level: float) -> int:
    """The least number of uses that is not exceeded with a chance."""
    reached = accumulate(chances(shape, p))
    return next(count for count, told in enumerate(reached) if told >= level - UNSEEN)


def _dearer(uses: Uses, count: int, buying: float) -> float:
    """Chance that so many hired uses cost more than buying."""
    mean, wide = count * uses.cost, uses.spread * math.sqrt(count)
    return float(mean > buying) if wide == 0 else _NORMAL.cdf((mean - buying) / wide)


def worst_ratio(uses_to_price: int) -> float:
    """How many times the least cost in hindsight the rule without a forecast costs at worst.

    2 - 1 / B, where each use costs the same and B of them come to the price.

    Raises:
        ValueError: B is below 1.

    Source:
        Karlin, Manasse, Rudolph and Sleator, Algorithmica 3 (1988).
    """
    if uses_to_price < 1:
        raise ValueError(f"uses that come to the price are 1 or more, not {uses_to_price}")
    return 2 - 1 / uses_to_price


def without_forecast(costs: Sequence[float], price: float) -> tuple[float, int | None]:
    """Hire, and buy for the use with which all hires would come to the price.

    Args:
        costs: of each use that turned up, if it is hired, 0 or more; price: above 0.

    Returns:
        Money spent, below twice the least in hindsight, and before which use it was bought.
    """
    spent = 0.0
    for use, cost in enumerate(costs):
        if spent + cost >= price:
            return spent + price, use
        spent += cost
    return spent, None
