"""The spread of book hours, against tables of the log-normal distribution and stated totals."""

from __future__ import annotations

import math
from statistics import fmean

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from store.sums.book_range import (
    LEVELS,
    Z90,
    Hours3,
    mean,
    quantile,
    quantiles19,
    remaining_quantile,
    total,
)


def lognormal(m: float, s: float) -> Hours3:
    """Both sides alike: the plain log-normal distribution."""
    return math.exp(m - Z90 * s), math.exp(m), math.exp(m + Z90 * s)


def close(found: float, expected: float, relative: float = 1e-9) -> bool:
    return math.isclose(found, expected, rel_tol=relative, abs_tol=1e-12)


E3 = lognormal(2, 0.5)
GEARBOX_OUT: Hours3 = (1.7, 2.4, 4.0)
BOTH_WAYS: list[Hours3] = [GEARBOX_OUT, (2.0, 2.8, 4.3)]
NOTHING: Hours3 = (0.0, 0.0, 0.0)
middles = st.floats(0.05, 50)
ratios = st.floats(1, 6)
levels = st.floats(0.001, 0.999)


def _hours(middle: float, down: float, up: float) -> Hours3:
    return middle / down, middle, middle * up


ranges = st.builds(_hours, middles, ratios, ratios)


def test_low_middle_and_high_are_what_the_book_says() -> None:
    for hours in (GEARBOX_OUT, E3, (1.0, 2.4, 6.0)):
        found = [quantile(hours, p) for p in (0.1, 0.5, 0.9)]
        assert all(close(a, b) for a, b in zip(found, hours, strict=True))


# Remaining time of a log-normal duration, ln T ~ N(2, 0.5^2): computed with scipy.stats.lognorm
# (formula, integral and `expect` agree).


@pytest.mark.parametrize(
    ("elapsed_h", "mean_left", "at_10_50_80_90"),
    [
        (0, 8.372897, (3.893172, 7.389056, 11.254979, 14.024079)),
        (2, 6.402793, (1.937486, 5.409822, 9.273021, 12.042013)),
        (5, 4.627703, (0.649076, 3.481974, 7.236425, 10.005616)),
        (8, 4.140998, (0.461310, 2.899707, 6.563897, 9.369262)),
        (10, 4.074610, (0.430245, 2.789494, 6.466404, 9.324899)),
        (15, 4.209492, (0.423715, 2.816099, 6.678170, 9.734587)),
        (25, 4.830495, (0.477684, 3.201682, 7.659952, 11.215781)),
    ],
)
def test_what_is_left_of_work_under_way(
    elapsed_h: float, mean_left: float, at_10_50_80_90: tuple[float, ...]
) -> None:
    for p, hours in zip((0.1, 0.5, 0.8, 0.9), at_10_50_80_90, strict=True):
        assert abs(remaining_quantile(E3, elapsed_h, p) - hours) < 1e-6
    everywhere = [remaining_quantile(E3, elapsed_h, (n + 0.5) / 4000) for n in range(4000)]
    assert close(fmean(everywhere), mean_left, 1e-3)


def test_the_mean_of_a_log_normal_duration() -> None:
    assert abs(mean(E3) - 8.372897) < 1e-6
    # Standard log-normal: mean exp(1/2).
    assert close(mean(lognormal(0, 1)), 1.6487212707)


# Hire length at least expected cost, hours log-normal (ln 6, 0.5): quantiles at cu / (cu + co),
# computed from closed partial expectations and by quadrature.


@pytest.mark.parametrize(("p", "hours"), [(0.5, 6.0), (0.8, 9.139175), (0.95, 13.656100)])
def test_quantiles_of_a_log_normal_duration(p: float, hours: float) -> None:
    assert abs(quantile(lognormal(math.log(6), 0.5), p) - hours) < 1e-6


# CRPS of a log-normal forecast, Baran and Lerch, Q. J. R. Meteorol. Soc. 141 (2015) 2289-2299;
# the score is twice the integral of the pinball loss over all levels.


@pytest.mark.parametrize(
    ("truth", "m", "s", "crps"),
    [
        (0.5, 0, 1, 0.3855809771),
        (8, 2, 0.5, 0.9316928428),
        (12, 2, 0.5, 2.6737732434),
        (3, 1.5, 0.3, 0.9676385673),
    ],
)
def test_the_quantiles_give_the_published_score(
    truth: float, m: float, s: float, crps: float
) -> None:
    hours, n = lognormal(m, s), 20_000
    at = [(n_th + 0.5) / n for n_th in range(n)]
    quantiles = [quantile(hours, p) for p in at]
    losses = [(p - (truth < q)) * (truth - q) for p, q in zip(at, quantiles, strict=True)]
    assert close(2 * fmean(losses), crps, 1e-4)


# Low and high of whole operations as the trade states them beside their phases: common practice,
# no source.


def phases_of(text: str) -> list[Hours3]:
    """Hours as the trade writes them, low/middle/high."""
    return [_phase(*part.split("/")) for part in text.split()]


def _phase(low: str, middle: str, high: str) -> Hours3:
    return float(low), float(middle), float(high)


ENDS = "0.3/0.5/0.8 0.5/0.7/1.1 "  # reception, road test
FILL = "0.5/0.8/1.3 "
SHAFT = "0.5/0.8/1.4 0.6/0.9/1.4 "
TRANSFER = "0.9/1.3/2.2 1.0/1.5/2.3 "
GEARBOX = "1.7/2.4/4.0 2.0/2.8/4.3 "
FLYWHEEL = "0.4/0.5/0.8 0.4/0.6/0.9 "
ASSEMBLY = "4.2/6.0/9.5 0.5/0.8/1.3 0.7/1.0/1.5 5.0/7.0/10.5 0.5/0.7/1.1 "
FRONT = "1.4/2.0/3.2 1.5/2.1/3.2 "
TOP = "1.2/1.8/3.0 1.4/2.0/3.0 "
COOLANT = "0.2/0.3/0.5 0.5/0.7/1.1 "
AO = "0.6/1.0/1.6 0.4/0.6/1.0 0.5/0.8/1.3 0.4/0.6/0.9 0.3/0.4/0.6 0.8/1.2/1.9 "
CL = "0.3/0.5/0.8 0.4/0.6/1.0 0.6/0.9/1.4 0.3/0.4/0.7"
TC = "0.5/0.8/1.3 0.9/1.3/2.1 1.1/1.6/2.6 1.0/1.4/2.2"
CH = "0.6/0.9/1.4 0.8/1.2/1.9 1.0/1.5/2.8 0.5/0.8/1.3 0.6/0.9/1.5 0.8/1.1/1.6 0.9/1.3/2.0"
IN = "0.6/0.9/1.4 0.4/0.6/1.0 1.0/2.4/6.0 0.6/0.9/1.5 0.6/0.9/1.3 0.4/0.6/1.0"
DF = "0.4/0.6/1.0 0.9/1.3/2.1 0.8/1.2/1.9 1.4/2.2/3.6 0.6/1.0/1.8 1.1/1.6/2.4 0.3/0.4/0.7"
EO = "0.8/1.2/1.9 0.3/0.4/0.6 1.6/2.5/4.2 0.5/0.8/1.2 0.8/1.2/2.0 0.4/0.5/0.8"
TF = "0.4/0.5/0.8 0.7/1.0/1.6 1.2/1.8/2.9 0.3/0.4/0.7"
FC = "0.4/0.5/0.8 1.1/1.6/2.6 1.0/1.5/2.4 1.1/1.5/2.2 0.8/1.1/1.6"
TOTALS = [
    # phases, stated, what comes out (low and high)
    (ENDS + GEARBOX + FLYWHEEL + CL, "7.6/9.9/13.9", "7.67 14.07"),
    (ENDS + GEARBOX + FLYWHEEL + FILL + "0.4/0.6/1.0 0.6/0.9/1.5", "7.5/9.8/13.7", "7.56 13.99"),
    (ENDS + GEARBOX + FLYWHEEL + FILL + TC, "10.3/13.4/18.8", "10.42 18.91"),
    (ENDS + GEARBOX + AO, "8.5/11.0/15.4", "8.42 15.56"),
    (ENDS + ASSEMBLY + AO, "16.4/21.3/29.8", "16.33 29.77"),
    (ENDS + COOLANT + TOP + FILL + CH, "11.2/14.5/20.3", "11.14 20.43"),
    (ENDS + SHAFT + DF, "8.6/11.2/15.7", "8.42 15.98"),
    (ENDS + ASSEMBLY + EO, "17.9/23.3/32.6", "17.92 32.66"),
    (ENDS + SHAFT + TRANSFER + TF, "7.2/9.4/13.2", "7.20 13.39"),
    (ENDS + COOLANT + FRONT + FILL + FC, "10.2/13.3/18.6", "10.41 18.41"),
]


@pytest.mark.parametrize(("phases", "stated", "found"), TOTALS)
def test_totals_of_operations_as_the_trade_states_them(
    phases: str, stated: str, found: str
) -> None:
    [(low, middle, high)] = phases_of(stated)
    total_low, total_middle, total_high = total(phases_of(phases))
    assert f"{total_low:.2f} {total_high:.2f}" == found
    assert close(total_middle, middle)
    assert close(total_low, low, 0.03)
    assert close(total_high, high, 0.03)


def test_the_widest_operation_comes_out_a_little_narrow() -> None:
    """Seized injectors, 4.8/7.5/13.5: one phase of eight has most of all the spread there is."""
    low, middle, high = total(phases_of(ENDS + IN))
    assert close(middle, 7.5)
    assert close(low, 4.8, 0.03)
    assert close(high, 13.5, 0.07)


# The rules, one by one.


def test_a_total_of_one_phase_is_that_phase() -> None:
    assert all(close(a, b) for a, b in zip(total([GEARBOX_OUT]), GEARBOX_OUT, strict=True))


def test_the_ends_of_a_total_are_not_the_sums_of_the_ends() -> None:
    low, middle, high = total(BOTH_WAYS)
    assert 3.7 < low < middle < high < 8.3


def test_phases_without_hours_change_nothing() -> None:
    assert total([NOTHING, *BOTH_WAYS, NOTHING]) == total(BOTH_WAYS)
    assert total([NOTHING]) == total([]) == NOTHING
    assert mean(NOTHING) == quantile(NOTHING, 0.9) == 0
    assert quantiles19(NOTHING) == (0.0,) * 19
    assert remaining_quantile(NOTHING, 0, 0.5) == remaining_quantile(NOTHING, 3, 0.5) == 0


def test_hours_without_spread() -> None:
    exact = (2.0, 2.0, 2.0)
    assert mean(exact) == 2
    assert remaining_quantile(exact, 1.5, 0.9) == 0.5
    assert remaining_quantile(exact, 2, 0.9) == remaining_quantile(exact, 9, 0.9) == 0
    assert close(remaining_quantile((2.0, 2.0, 3.0), 1, 0.9), 2)
    assert close(remaining_quantile((1.0, 2.0, 2.0), 1, 0.95), 1)


@pytest.mark.parametrize(
    "hours",
    [
        (0.0, 1.0, 2.0),
        (2.0, 1.0, 3.0),
        (1.0, 3.0, 2.0),
        (-1.0, 1.0, 2.0),
        (1.0, 2.0, math.inf),
        (math.nan, 1.0, 2.0),
        (0.0, 0.0, 1.0),
    ],
)
def test_hours_that_do_not_rise_are_refused(hours: Hours3) -> None:
    with pytest.raises(ValueError, match="rise"):
        quantile(hours, 0.5)
    with pytest.raises(ValueError, match="rise"):
        total([GEARBOX_OUT, hours])
    with pytest.raises(ValueError, match="rise"):
        remaining_quantile(hours, 1, 0.5)


def test_other_nonsense_is_refused() -> None:
    for p in (0, 1, -0.1, math.nan):
        with pytest.raises(ValueError, match="level"):
            quantile(GEARBOX_OUT, p)
        with pytest.raises(ValueError, match="level"):
            remaining_quantile(GEARBOX_OUT, 1, p)
    for elapsed_h in (-1, math.nan, math.inf):
        with pytest.raises(ValueError, match="elapsed"):
            remaining_quantile(GEARBOX_OUT, elapsed_h, 0.5)


# Laws.


@settings(deadline=None)
@given(st.floats(0.01, 37), levels)
def test_survival_falls_by_the_level_however_late(z: float, p: float) -> None:
    """Against the complementary error function, which holds to 37 standard deviations."""
    hours, s = lognormal(1, 0.4), 0.4
    elapsed_h = math.exp(1 + s * z)
    later = (math.log(elapsed_h + remaining_quantile(hours, elapsed_h, p)) - 1) / s
    survival = math.erfc(later / math.sqrt(2)) / math.erfc(z / math.sqrt(2))
    assert close(survival, 1 - p, 1e-9)


@settings(deadline=None)
@given(ranges, st.floats(-300, 300), levels, levels)
def test_however_long_it_takes_something_is_left(
    hours: Hours3, magnitude: float, one: float, other: float
) -> None:
    elapsed_h = 10.0**magnitude
    low, high = sorted([one, other])
    if hours[2] > hours[1] * 1.001:
        shorter, longer = (remaining_quantile(hours, elapsed_h, p) for p in (low, high))
        assert 0 < shorter < math.inf
        assert shorter <= longer * (1 + 1e-9)


def test_far_out_the_step_is_the_drop_over_the_distance() -> None:
    """ln Phi(-z) falls by z a unit there (from memory, any text on Mills' ratio)."""
    hours, s = lognormal(0, 0.001), 0.001
    left = remaining_quantile(hours, math.exp(600), 0.5)
    assert close(left / math.exp(600), math.expm1(s * math.log(2) / (600 / s)), 1e-6)


@settings(deadline=None)
@given(ranges, levels, st.floats(0.01, 100))
def test_minutes_or_hours_make_no_difference(hours: Hours3, p: float, elapsed_h: float) -> None:
    minutes = (60 * hours[0], 60 * hours[1], 60 * hours[2])
    assert close(quantile(minutes, p), 60 * quantile(hours, p))
    assert close(mean(minutes), 60 * mean(hours))
    left = remaining_quantile(hours, elapsed_h, p)
    assert close(remaining_quantile(minutes, 60 * elapsed_h, p), 60 * left, 1e-6)


@settings(deadline=None)
@given(ranges)
def test_quantiles_rise_and_the_mean_is_their_average(hours: Hours3) -> None:
    q = quantiles19(hours)
    assert len(q) == len(LEVELS) == 19
    assert list(q) == sorted(q)
    fine = fmean(quantile(hours, (n + 0.5) / 4000) for n in range(4000))
    assert close(mean(hours), fine, 0.01)


@settings(deadline=None)
@given(st.lists(ranges, min_size=1, max_size=8))
def test_a_total_is_ordered_and_never_wider_than_its_phases_added(phases: list[Hours3]) -> None:
    low, middle, high = total(phases)
    assert 0 < low <= middle <= high
    assert close(middle, sum(hours[1] for hours in phases))
    assert high <= sum(hours[2] for hours in phases) * (1 + 1e-9)
