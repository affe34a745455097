"""Hire or buy: the exact sum against SciPy and drawn years; renting without a forecast."""

from __future__ import annotations

import math
from itertools import islice

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from store.sums.hires.or_buy import (
    HireOrBuy,
    Own,
    Uses,
    chances,
    hire_or_buy,
    without_forecast,
    worst_ratio,
)

SHOPS = [
    (Uses(9, 1, 110, 40), Own(900, 40, 8)),
    (Uses(0, 1, 80, 20), Own(600, 0, 10)),
    (Uses(3, 2, 150, 0), Own(2400, 100, 6)),
    (Uses(60, 1, 45, 15), Own(7000, 300, 8)),
    (Uses(1, 0.5, 300, 200), Own(5000, 0, 12)),
]
money = st.floats(0, 1e4).map(lambda each: round(each, 2))
all_uses = st.builds(Uses, st.integers(0, 80), st.floats(0.25, 5), money, money)
all_owns = st.builds(Own, money, money, st.floats(0.5, 20))


@pytest.mark.parametrize(("uses", "own"), SHOPS)
def test_uses_to_come_are_scipys_negative_binomial(uses: Uses, own: Own) -> None:
    """A gamma rate after Poisson counts: scipy.stats.nbinom(n + 1/2, y / (y + T))."""
    year = stats.nbinom(uses.count + 0.5, uses.years / (uses.years + 1))
    found = hire_or_buy(uses, own)
    assert found.next_year == pytest.approx(float(year.mean()))
    assert (found.low, found.high) == (int(year.ppf(0.1)), int(year.ppf(0.9)))
    life = stats.nbinom(uses.count + 0.5, uses.years / (uses.years + own.life_years))
    told = list(islice(chances(uses.count + 0.5, uses.years / (uses.years + own.life_years)), 3000))
    assert told == pytest.approx(life.pmf(np.arange(len(told))), rel=1e-7, abs=1e-15)
    assert math.fsum(told) == pytest.approx(1, abs=1e-9)
    assert found.hire_cost == pytest.approx(float(life.mean()) * uses.cost)


@pytest.mark.parametrize(("uses", "own"), SHOPS)
def test_the_chance_is_that_of_many_drawn_lives(uses: Uses, own: Own) -> None:
    """Brute force: draw a rate, a number of uses, and what each of them costs."""
    dice, many = np.random.default_rng(3), 400_000
    rates = dice.gamma(uses.count + 0.5, 1 / uses.years, many)
    count = dice.poisson(rates * own.life_years)
    spent = dice.normal(count * uses.cost, uses.spread * np.sqrt(count))
    found = hire_or_buy(uses, own)
    assert found.buy_cheaper == pytest.approx(float((spent > own.total).mean()), abs=0.004)
    assert found.hire_cost == pytest.approx(float(spent.mean()), rel=0.02)


def test_the_break_even_is_worked_by_hand() -> None:
    """A price of 900 over 8 years and 40 a year are 152.5 a year; 110 a use: 1.386 uses."""
    found = hire_or_buy(Uses(9, 1, 110), Own(900, 40, 8))
    assert found.break_even == pytest.approx(152.5 / 110)
    assert found.buy_cost == 1220
    assert hire_or_buy(Uses(9, 1, 0), Own(900, 40, 8)).break_even == math.inf


@given(all_uses, all_owns)
def test_a_dearer_kit_is_bought_less_gladly_and_a_dearer_hire_more(uses: Uses, own: Own) -> None:
    def with_(price: float, cost: float) -> HireOrBuy:
        return hire_or_buy(
            Uses(uses.count, uses.years, cost), Own(price, own.upkeep, own.life_years)
        )

    found = hire_or_buy(uses, own)
    assert 0 <= found.buy_cheaper <= 1
    assert found.low <= found.high
    plain = with_(own.price, uses.cost).buy_cheaper
    assert with_(own.price + 500, uses.cost).buy_cheaper <= plain + 1e-9
    assert with_(own.price, uses.cost + 50).buy_cheaper >= plain - 1e-9


@given(all_uses, all_owns, st.floats(0.01, 100))
def test_another_currency_changes_no_advice(uses: Uses, own: Own, rate: float) -> None:
    one = hire_or_buy(Uses(uses.count, uses.years, uses.cost, 0), own)
    other = hire_or_buy(
        Uses(uses.count, uses.years, uses.cost * rate, 0),
        Own(own.price * rate, own.upkeep * rate, own.life_years),
    )
    if uses.cost * rate > 1e-6:
        assert other.break_even == pytest.approx(one.break_even)
    assert other.hire_cost == pytest.approx(one.hire_cost * rate)


@pytest.mark.parametrize(("price", "ratio"), [(10, 1.9), (7, 1.857143), (3, 1.666667), (1, 1.0)])
def test_the_worst_season_of_the_rule_without_a_forecast_costs_the_published_ratio(
    price: int, ratio: float
) -> None:
    """Karlin, Manasse, Rudolph and Sleator (1988): rent at 1 a day, buy on day B: 2 - 1/B."""
    seasons = [
        without_forecast([1.0] * days, price)[0] / min(days, price) for days in range(1, 5 * price)
    ]
    assert max(seasons) == pytest.approx(ratio, abs=1e-6)
    assert worst_ratio(price) == pytest.approx(ratio, abs=1e-6)
    assert without_forecast([1.0] * 50, price)[1] == price - 1


@given(st.lists(st.floats(0, 500), max_size=40), st.floats(1, 2000))
def test_without_a_forecast_never_twice_the_least_in_hindsight_is_spent(
    costs: list[float], price: float
) -> None:
    spent, bought = without_forecast(costs, price)
    least = min(sum(costs), price)
    assert least * (1 - 1e-9) <= spent <= 2 * least * (1 + 1e-9)
    if bought is None:
        assert spent == pytest.approx(sum(costs))


@pytest.mark.parametrize(
    ("uses", "own"),
    [
        ((-1, 1, 10), (1, 0, 1)), ((1, 0, 10), (1, 0, 1)), ((1, 1, -10), (1, 0, 1)),
        ((1, 1, 10, -1), (1, 0, 1)), ((1, 1, 10), (-1, 0, 1)), ((1, 1, 10), (1, 0, 0)),
        ((1, 1, 10), (1, 0, 51)), ((1, 1, math.nan), (1, 0, 1)),
    ],
)  # fmt: skip
def test_figures_that_cannot_be_are_refused(
    uses: tuple[int, float, float], own: tuple[float, float, float]
) -> None:
    with pytest.raises(ValueError):
        hire_or_buy(Uses(*uses), Own(*own))


def test_no_use_to_the_price_is_refused() -> None:
    with pytest.raises(ValueError, match="1 or more"):
        worst_ratio(0)
