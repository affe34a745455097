"""Random numbers of a forecast: even, and always the same for the same job."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.testing import assert_allclose

from store.learn.dates.dice import Dice, scattered


def test_even_numbers_lie_one_in_each_part() -> None:
    even = np.sort(Dice(100, "J1", 1).apart("rest").even())
    assert_allclose(even, (np.arange(100) + 0.5) / 100)


def test_normal_numbers_have_mean_none_and_spread_one() -> None:
    normal = Dice(500, "J1", 1).normal()
    assert_allclose((normal.mean(), normal.std()), (0.0, 1.0), atol=0.01)


@pytest.mark.parametrize(
    "freedom, low, high", [(8, 2.733, 15.507), (10, 3.940, 18.307), (30, 18.493, 43.773)]
)
def test_gamma_numbers_have_the_quantiles_of_chi_squared_tables(
    freedom: int, low: float, high: float
) -> None:
    """5th and 95th per cent of chi squared, twice a gamma of half the degrees of freedom.

    NIST/SEMATECH, e-Handbook of Statistical Methods, table 1.3.6.7.4.
    """
    drawn = 2 * Dice(5000, "J1", 1).gamma([freedom / 2])[:, 0]
    assert_allclose(np.quantile(drawn, [0.05, 0.95]), (low, high), rtol=0.012)
    assert_allclose((drawn.mean(), drawn.var()), (freedom, 2 * freedom), rtol=0.01)


def test_two_columns_are_not_the_same() -> None:
    dice = Dice(500, "J1", 1)
    assert abs(np.corrcoef(dice.normal(), dice.normal())[0, 1]) < 0.15


def test_the_same_job_draws_the_same_whatever_was_drawn_before() -> None:
    first = Dice(50, "J1", 1)
    before = (first.normal().copy(), first.gamma([4.0, 5.0]))
    Dice(50, "J2", 7).gamma([4.0])
    again = Dice(50, "J1", 1)
    assert (again.normal() == before[0]).all()
    assert (again.gamma([4.0, 5.0]) == before[1]).all()
    assert (Dice(50, "J1", 2).gamma([4.0, 5.0]) != before[1]).any()


def test_what_is_drawn_for_one_purpose_depends_on_no_other() -> None:
    dice = Dice(500, "J1", 1)
    alone = dice.apart("after", 3).normal()
    dice.apart("holds").rng.random(77)
    dice.normal()
    assert (dice.apart("after", 3).normal() == alone).all()
    for other in (dice.apart("after", 4), dice.apart("away", 3), Dice(500, "J1", 2).apart("after")):
        assert abs(np.corrcoef(alone, other.normal())[0, 1]) < 0.15


def test_hours_are_summed_into_their_cells() -> None:
    table = scattered(np.array([0, 3, 3]), np.array([1.0, 2.0, 5.0]), (2, 2))
    assert table.tolist() == [[1.0, 0.0], [0.0, 7.0]]
