"""Learning curves against tables and textbooks; our own fading curve against its closed form."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.sums.learning_curve import (
    average,
    exponent,
    first_from,
    jobs_until,
    rate_between,
    rate_of,
    repetition,
    times_usual,
    total,
    total_of_average,
    unit,
    unit_of_average,
    usual_jobs_lost,
)

RATES = (0.70, 0.75, 0.80, 0.85, 0.90, 0.95)
# Hours of the n-th repetition and of the first n together, unit form, the first one 1: the form of
# Stevenson, Operations Management, 14th ed., table 7S.1, and of Boren and Campbell, Learning-Curve
# Tables, RAND RM-6191 (1970); seen printed: .702, .381, 10.485 (80 %), .634 (90 %), .583 (85 %).
TABLE: dict[int, str] = {
    2: ".7000/1.700 .7500/1.750 .8000/1.800 .8500/1.850 .9000/1.900 .9500/1.950",
    3: ".5682/2.268 .6338/2.384 .7021/2.502 .7729/2.623 .8462/2.746 .9219/2.872",
    4: ".4900/2.758 .5625/2.946 .6400/3.142 .7225/3.345 .8100/3.556 .9025/3.774",
    5: ".4368/3.195 .5127/3.459 .5956/3.738 .6857/4.031 .7830/4.339 .8877/4.662",
    6: ".3977/3.593 .4754/3.934 .5617/4.299 .6570/4.688 .7616/5.101 .8758/5.538",
    8: ".3430/4.303 .4219/4.802 .5120/5.346 .6141/5.936 .7290/6.574 .8574/7.261",
    10: ".3058/4.932 .3846/5.589 .4765/6.315 .5828/7.116 .7047/7.994 .8433/8.954",
    12: ".2784/5.501 .3565/6.315 .4493/7.227 .5584/8.244 .6854/9.374 .8320/10.624",
    16: ".2401/6.514 .3164/7.635 .4096/8.920 .5220/10.383 .6561/12.040 .8145/13.907",
    20: ".2141/7.407 .2884/8.828 .3812/10.485 .4954/12.402 .6342/14.608 .8012/17.130",
    25: ".1908/8.404 .2629/10.191 .3548/12.309 .4701/14.801 .6131/17.713 .7880/21.095",
    32: ".1681/9.644 .2373/11.924 .3277/14.679 .4437/17.981 .5905/21.911 .7738/26.553",
    50: ".1336/12.307 .1972/15.776 .2838/20.122 .3996/25.513 .5518/32.142 .7486/40.224",
    64: ".1176/14.051 .1780/18.385 .2621/23.924 .3771/30.931 .5314/39.708 .7351/50.599",
    100: ".0935/17.791 .1479/24.179 .2271/32.651 .3397/43.754 .4966/58.141 .7112/76.586",
    200: ".0655/25.482 .1109/36.801 .1816/52.720 .2887/74.789 .4469/104.964 .6757/145.693",
}


@pytest.mark.parametrize("n", TABLE)
def test_the_table_of_the_unit_form(n: int) -> None:
    for rate, entry in zip(RATES, TABLE[n].split(), strict=True):
        alone, together = map(float, entry.split("/"))
        assert unit(1, rate, n) == pytest.approx(alone, abs=5.1e-5)
        assert total(1, rate, n) == pytest.approx(together, abs=5.1e-4)


def test_the_exponents_of_the_table() -> None:
    found = [exponent(rate) for rate in RATES]
    expected = [-0.51457, -0.41504, -0.32193, -0.23447, -0.15200, -0.07400]
    assert found == pytest.approx(expected, abs=5e-6)


# Wright (1936): the n-th repetition alone where the average follows the curve.
ALONE = {
    0.8: {2: .6, 3: .5063, 4: .4537, 5: .4182, 8: .3546, 10: .3286, 16: .2806, 20: .2606},
    0.9: {2: .8, 3: .7386, 4: .7014, 5: .6749, 8: .6244, 10: .6023, 16: .5591, 20: .5399},
}  # fmt: skip


@pytest.mark.parametrize("rate", ALONE)
def test_the_average_form_is_steeper_for_each_one(rate: float) -> None:
    for n, alone in ALONE[rate].items():
        assert unit_of_average(1, rate, n) == pytest.approx(alone, abs=5.1e-5)
        assert unit_of_average(1, rate, n) < unit(1, rate, n)


def test_twenty_units_of_four_hundred_days() -> None:
    # Stevenson, Operations Management, 14th ed., page 340, examples 7S-2 and 7S-3, who reads .381,
    # 10.485 and .702 from the table: 152.4, 4194, 209.7, 393.2. Exact values to their digits.
    assert unit(400, 0.8, 20) == pytest.approx(152.483, abs=5e-4)
    assert total(400, 0.8, 20) == pytest.approx(4193.98, abs=5e-3)
    assert total(400, 0.8, 20) / 20 == pytest.approx(209.7, abs=0.05)
    assert first_from(276, 0.8, 3) == pytest.approx(393.104, abs=5e-4)
    assert unit(400, 0.8, 20) == pytest.approx(152.4, rel=1e-3)
    assert first_from(276, 0.8, 3) == pytest.approx(393.2, rel=1e-3)


def test_the_course_example_of_averages() -> None:
    # A management-accounting course text, chapter 15, page 324. It prints 254.76 for the last lot,
    # where its own totals give 655.36 - 409.6 = 245.76.
    lots = [1, 2, 4, 8, 16]
    totals = [total_of_average(100, 0.8, n) for n in lots]
    assert [average(100, 0.8, n) for n in lots] == pytest.approx([100, 80, 64, 51.2, 40.96])
    assert totals == pytest.approx([100, 160, 256, 409.6, 655.36])
    added = [b - a for a, b in pairwise(totals)]
    assert added == pytest.approx([60, 96, 153.6, 245.76])
    assert [a / n for a, n in zip(added, lots, strict=False)] == pytest.approx(
        [60, 48, 38.4, 30.72]
    )


def test_the_long_run() -> None:
    # Kerzner, Project Management, chapter 18, table 18-1: 82 h, 34,170 h, 137 h.
    assert unit(812, 0.75, 250) == pytest.approx(82.096, abs=5e-4)
    assert total(812, 0.75, 250) == pytest.approx(34_171.67, abs=5e-3)
    assert total(812, 0.75, 250) / 250 == pytest.approx(137, abs=0.5)


def test_a_rate_from_two_repetitions() -> None:
    # Solutions manual to Stevenson, supplement 7, problem 16: 30 minutes, then 25; 18 wanted.
    rate = rate_between(1, 30, 2, 25)
    assert rate == pytest.approx(0.83333, abs=5e-6)
    assert exponent(rate) == pytest.approx(-0.26303, abs=5e-6)
    assert repetition(30, rate, 18) == pytest.approx(6.973, abs=5e-4)


@pytest.mark.parametrize("rate", RATES)
def test_a_curve_without_noise_gives_its_rate_back(rate: float) -> None:
    assert rate_of([unit(7, rate, n) for n in range(1, 41)]) == pytest.approx(rate, abs=1e-12)
    # Averages taken for single repetitions are another curve: steep at first.
    averages = [unit_of_average(7, rate, n) for n in range(1, 41)]
    assert rate_of(averages) < rate - 0.004


@given(st.floats(0.1, 100), st.floats(0.5, 0.99), st.floats(1, 50), st.floats(1.1, 9))
def test_rate_first_and_repetition_are_found_again(
    first: float, rate: float, n: float, times: float
) -> None:
    here, later = unit(first, rate, n), unit(first, rate, n * times)
    assert rate_between(n, here, n * times, later) == pytest.approx(rate, rel=1e-9)
    assert first_from(here, rate, n) == pytest.approx(first, rel=1e-9)
    assert repetition(first, rate, later) == pytest.approx(n * times, rel=1e-6)


@given(st.floats(0.01, 100), st.floats(0.5, 1.2), st.integers(1, 60))
def test_hours_or_minutes_make_no_difference(first: float, rate: float, n: int) -> None:
    assert total(60 * first, rate, n) == pytest.approx(60 * total(first, rate, n), rel=1e-12)
    hours = [unit(first, rate, one) for one in range(1, n + 2)]
    assert rate_of([60 * one for one in hours]) == pytest.approx(rate_of(hours), rel=1e-9)


@given(st.floats(-1, 1), st.floats(0.5, 20))
def test_what_all_first_jobs_together_cost(cost: float, fading: float) -> None:
    """Each power of the cost is a geometric series: the sum over k of c^k / k! / (1 - q^k)."""
    q = math.exp(-1 / fading)
    whole = sum(cost**k / math.factorial(k) / (1 - q**k) for k in range(1, 25))
    assert usual_jobs_lost(cost, int(40 * fading), fading) == pytest.approx(whole, abs=1e-9)


def test_the_cost_of_a_job_fades_at_a_constant_rate() -> None:
    # Heathcote, Brown and Mewhort (2000): what tells exponential from power learning is a constant
    # relative learning rate. Half is gone after fading x ln 2 jobs, here 4.16.
    logs = [math.log(times_usual(0.2, done, 6)) for done in range(8)]
    shares = [b / a for a, b in pairwise(logs)]
    assert shares == pytest.approx([math.exp(-1 / 6)] * 7)
    assert math.log(times_usual(0.2, 6 * math.log(2), 6)) == pytest.approx(0.1)
    assert times_usual(math.log(1.25), 0, 6) == pytest.approx(1.25)


@given(st.floats(0.001, 1), st.floats(0.005, 0.5), st.floats(0.5, 20))
def test_somebody_is_near_the_usual_from_then_on_and_not_before(
    cost: float, within: float, fading: float
) -> None:
    jobs = jobs_until(cost, within, fading)
    assert times_usual(cost, jobs, fading) <= 1 + within + 1e-9
    assert jobs == 0 or times_usual(cost, jobs - 1, fading) > 1 + within - 1e-9


def test_who_is_faster_at_first_loses_nothing() -> None:
    assert jobs_until(-0.1, 0.05, 6) == 0
    assert usual_jobs_lost(-0.1, 5, 6) < 0
    assert usual_jobs_lost(0.3, 0, 6) == 0


def test_what_is_no_curve_is_refused() -> None:
    for refused in (
        lambda: exponent(0),
        lambda: unit(0, 0.8, 1),
        lambda: unit(1, 0.8, 0),
        lambda: total_of_average(1, 0.8, 0),
        lambda: rate_between(2, 5, 2, 4),
        lambda: repetition(10, 1.0, 5),
        lambda: rate_of([3.0]),
        lambda: rate_of([3.0, 0.0]),
        lambda: times_usual(0.1, -1, 6),
        lambda: times_usual(math.nan, 0, 6),
        lambda: jobs_until(0.2, 0, 6),
    ):
        with pytest.raises(ValueError):
            refused()
