"""Hire a kit or buy it: uses to come are gamma-Poisson, the sum over them is exact.

Uses a year are Poisson with a rate that is gamma after what was seen (n uses in y years, and the
prior of Jeffreys), so that uses in the next T years are negative binomial:

    r = n + 1/2,  p = y / (y + T),  P(N = k) = C(k + r - 1, k) p^r (1 - p)^k,  mean r (1 - p) / p

Buying costs B = price + upkeep T over the kit's life of T years; hiring costs the sum of N uses of
mean m and spread s, normal given N. Buying is cheaper with the chance

    sum over k of P(N = k) Phi((k m - B) / (s sqrt k))

Source: Gelman and others, Bayesian Data Analysis (3rd ed. 2013), section 2.6; prior: Jeffreys, Proc.
R. Soc. A 186 (1946).
"""

from __future__ import annotations

from dataclasses import dataclass


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


@dataclass(frozen=True, slots=True)
class Own:
    """What having a kit costs: `price` once, `upkeep` a year, for `life_years`, above 0."""

    price: float
    upkeep: float
    life_years: float


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
        ValueError: a figure is outside its range.
    """
    raise NotImplementedError


def worst_ratio(uses_to_price: int) -> float:
    """How many times the least cost in hindsight it costs at worst to hire until hires have come
    to the price, then buy: 2 - 1 / B where the B-th use is bought.

    Source:
        Karlin, Manasse, McGeoch and Owicki, Algorithmica 11 (1994).
    """
    raise NotImplementedError
