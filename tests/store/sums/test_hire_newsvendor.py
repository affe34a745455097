"""How long to hire against published answers: a return day is the newsvendor's quantity.

A kit is here, each day costs the day rate, no minimum bites, every day is a working day. Each day
too long costs the day rate, each day too short the late fee, so that the best return day is the
quantile fee / (fee + 1) of the days for which it is needed.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from datetime import UTC, date, datetime, time, timedelta
from statistics import NormalDist

import pytest
from scipy import stats

from store.sums.hires import ground as hire_ground
from store.sums.hires.days import ShopDays
from store.sums.hires.needs import Need
from store.sums.hires.terms import House, Rates, Terms
from store.sums.hires.window import Asked, Window, by_return_day
from store.sums.week_plan import Span, WeekPlan
from store.sums.working_time import Calendar

ALL = (1, 2, 3, 4, 5, 6, 7)
CAME = datetime(2026, 10, 12, tzinfo=UTC)
DRAWS = 1999


class EveryDay(ShopDays):
    """The carrier comes on Sundays too."""

    def works(self, day: date) -> bool:
        return True


SHOP = EveryDay(Calendar("UTC", [WeekPlan(date(2020, 1, 1), (Span(ALL, time(0), time(0)),), ())]))


def window(over: float, under: float, quantile: Callable[[float], float]) -> Window:
    """The kit is needed for so many days; a day too long costs `over`, one too short `under`."""
    needed = [quantile((k + 0.5) / DRAWS) for k in range(DRAWS)]
    ends = [CAME.timestamp() + 86_400 * max(days, 0.001) for days in needed]
    terms = Terms(Rates(day=over), House(cut_off=time(23, 59, 59), late=under / over))
    need = Need("2417", [CAME.timestamp()] * DRAWS, ends, begun=True)
    return by_return_day(Asked(SHOP, terms), [need], CAME, CAME)


def days_of(found: Window) -> int:
    """Days paid at the best return day: both ends count."""
    return (found.best.back - CAME.date()).days + 1


@pytest.fixture(autouse=True)
def _far(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(hire_ground, "FARTHEST", 8000)


@pytest.mark.parametrize(
    ("mean", "sd", "under", "over", "quantity", "short"),
    [
        (200, 80, 8, 4, 234.458, 17.6019),  # printed: 235.2, from a table of z rounded up to 0.44
        (1000, 200, 40, 10, 1168.324, 22.3275),
        (1000, 200, 30, 20, 1050.669, 57.0007),
        (11.73, 4.74, 0.50, 0.15, 15.220, 0.6366),  # printed: 15.24, from z rounded to 0.74
    ],
)
def test_the_return_day_is_the_published_order_quantity(
    mean: float, sd: float, under: float, over: float, quantity: float, short: float
) -> None:
    """Cachon and Terwiesch, Matching Supply with Demand (3rd ed.), solution Q12.1 (row 1); Nahmias,
    Production and Operations Analysis, chapter 5 (row 4); shortages: sd (f(z) - z (1 - F(z))).

    A day that has begun is a whole day: the quantity rounded up, the shortage within half a day's.
    """
    found = window(over, under, NormalDist(mean, sd).inv_cdf)
    assert days_of(found) == pytest.approx(math.ceil(quantity), abs=sd / 250)
    assert found.best.cost.late / under == pytest.approx(short, rel=0.06, abs=0.2)


@pytest.mark.parametrize(
    ("under", "over", "optimum", "cost"),
    [
        (50, 50, 6.000000, 130.173235),
        (80, 20, 9.139175, 113.077776),
        (95, 5, 13.656100, 51.763285),
    ],
)
def test_a_log_normal_need_costs_its_pinball_loss(
    under: float, over: float, optimum: float, cost: float
) -> None:
    """LN(ln 6, 0.5), a unit laid out as a hundred days so that whole days hardly matter.

    The cost beyond the days that are needed anyway is (under + over) times the pinball loss at the
    level under / (under + over) (Koenker and Bassett, Econometrica 46 (1978)), and that is the
    closed form of the partial means of SciPy's log-normal.
    """
    scale, law = 100, stats.lognorm(0.5, scale=6)
    found = window(over, under, lambda level: scale * float(law.ppf(level)))
    assert days_of(found) / scale == pytest.approx(optimum, rel=0.005)
    mean_days = (
        sum(math.ceil(scale * float(law.ppf((k + 0.5) / DRAWS))) for k in range(DRAWS)) / DRAWS
    )
    beyond = found.best.cost.total - over * mean_days
    assert beyond / scale == pytest.approx(cost, rel=0.01)


def test_days_that_cost_nothing_are_never_too_many_and_a_fee_of_nothing_never_too_few() -> None:
    law = NormalDist(30, 8).inv_cdf
    free = window(1e-9, 50, law)
    none = window(5, 0, law)
    assert free.best.needed == 0
    assert none.best.back == CAME.date()
    assert timedelta(0) < free.best.back - none.best.back
