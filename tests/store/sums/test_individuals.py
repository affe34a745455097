"""Charts of individual values beside worked examples of the handbooks, and their laws."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as some

from store.sums.individuals import D2, D3, cusum, ewma, limits, loud, moving_ranges

FLOW = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]
"""NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2: flow rates of batches."""
PYZDEK = [
    110, 103, 97, 96, 105, 110, 100, 93, 90, 103, 97, 103, 90, 97, 99, 106, 90, 96, 109, 90, 91,
    108, 96, 101, 96,
]  # fmt: skip
"""Pyzdek and Keller, The Handbook for Quality Management, table 9.4."""
MONTGOMERY = [
    9.45, 7.99, 9.29, 11.66, 12.16, 10.18, 8.04, 11.46, 9.20, 10.34, 9.03, 11.47, 10.51, 9.40,
    10.08, 9.37, 10.62, 10.31, 8.52, 10.84, 10.90, 9.33, 12.29, 11.50, 10.60, 11.08, 10.38, 11.62,
    11.31, 10.52,
]  # fmt: skip
"""Montgomery, Introduction to Statistical Quality Control, table 9.1: the mean moves after 20."""
HANDBOOK_CUSUM = [
    324.925, 324.675, 324.725, 324.350, 325.350, 325.225, 324.125, 324.525, 325.225, 324.600,
    324.625, 325.150, 328.325, 327.250, 327.825, 328.500, 326.675, 327.775, 326.875, 328.350,
]  # fmt: skip
"""NIST/SEMATECH e-Handbook 6.3.2.3."""
HANDBOOK_EWMA = [
    52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2,
    52.6, 52.4, 53.6, 52.1,
]  # fmt: skip
"""NIST/SEMATECH e-Handbook 6.3.2.4."""
values = some.lists(some.floats(-1e3, 1e3), min_size=2, max_size=40)


def test_the_constants_are_those_of_the_tables() -> None:
    # ASTM E2587; Montgomery, appendix VI: 1.128, 0.853, 3.267, 2.660.
    assert pytest.approx(1.12838, abs=5e-6) == D2
    assert pytest.approx(0.85250, abs=5e-6) == D3
    assert pytest.approx(3.2665, abs=5e-5) == 1 + 3 * D3 / D2
    assert pytest.approx(2.6587, abs=5e-5) == 3 / D2


def test_limits_of_the_handbooks_flow_rates() -> None:
    assert moving_ranges(FLOW) == pytest.approx([2.0, 2.3, 1.4, 3.5, 3.4, 1.4, 0.2, 1.2, 1.5])
    printed = limits(FLOW, d2=1.128)
    assert printed.middle == pytest.approx(50.81)
    assert printed.range_mean == pytest.approx(1.8778, abs=5e-5)
    assert (printed.high, printed.low) == pytest.approx((55.8041, 45.8159), abs=5e-5)
    exact = limits(FLOW)
    assert (exact.high, exact.low) == pytest.approx((55.80241, 45.81759), abs=5e-6)
    # The handbook's 3.267 is rounded: 6.1347 printed, 6.1338 by the exact constant.
    assert exact.range_high == pytest.approx(6.1347, abs=2e-3)
    assert loud(FLOW, exact) == {}


def test_limits_of_a_second_handbook() -> None:
    found = limits([float(one) for one in PYZDEK])
    assert moving_ranges(PYZDEK)[:8] == (7, 6, 1, 9, 5, 10, 7, 3)
    assert found.middle == pytest.approx(99.04)
    assert found.range_mean == pytest.approx(8.1667, abs=5e-5)
    # Printed with 2.66 and 3.267: 120.763, 77.317, 26.68.
    assert (found.high, found.low) == pytest.approx((120.763, 77.317), abs=2e-2)
    assert found.range_high == pytest.approx(26.68, abs=1e-2)


def test_a_cusum_dates_the_change_of_montgomerys_table() -> None:
    found = cusum(MONTGOMERY, 10, 0.5)
    assert found.up[19:] == pytest.approx(
        [0.34, 0.74, 0, 1.79, 2.79, 2.89, 3.47, 3.35, 4.47, 5.28, 5.30], abs=5e-3
    )
    first = next(place for place, value in enumerate(found.up, 1) if value > 5)
    assert first == 29
    assert found.up_since[first - 1] == 7  # so it began between values 22 and 23


def test_a_cusum_of_the_handbook() -> None:
    found = cusum(HANDBOOK_CUSUM, 325, 0.3175)
    assert found.up[:12] == pytest.approx([0, 0, 0, 0, 0.0325, *[0.0] * 7])
    assert found.up[12:] == pytest.approx(
        [3.0075, 4.94, 7.4475, 10.63, 11.9875, 14.445, 16.0025, 19.035]
    )
    assert next(place for place, value in enumerate(found.up, 1) if value > 4.1959) == 14
    lower = {2: 0.0075, 4: 0.3325, 7: 0.5575, 8: 0.7150, 9: 0.1725, 10: 0.2550, 11: 0.3125}
    assert found.down == pytest.approx([lower.get(place, 0.0) for place in range(1, 21)])


def test_an_ewma_of_the_handbook() -> None:
    found = ewma(HANDBOOK_EWMA, 50, 2.0539, 0.3, 3)
    # The handbook truncates: to a hundredth.
    assert [one.value for one in found] == pytest.approx(
        [
            50.60, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33, 50.11, 49.36,
            49.52, 50.05, 49.38, 49.92, 50.73, 51.23, 51.94, 51.99,
        ],
        abs=1e-2,
    )  # fmt: skip
    early = [one.reach for one in found[:5]]
    assert early == pytest.approx([1.8485, 2.2564, 2.4314, 2.5127, 2.5516], abs=1e-4)
    assert 50 + found[-1].reach == pytest.approx(52.5884, abs=1e-3)
    assert 50 - found[-1].reach == pytest.approx(47.4115, abs=1e-3)
    assert all(abs(one.value - 50) < one.reach for one in found)


def test_an_ewma_of_montgomerys_table() -> None:
    found = ewma(MONTGOMERY, 10, 1, 0.1, 2.7)
    assert [one.value for one in found[:2]] == pytest.approx([9.945, 9.7495])
    assert 10 + found[0].reach == pytest.approx(10.27)
    beyond = [place for place, one in enumerate(found, 1) if abs(one.value - 10) > one.reach]
    assert beyond == [29, 30]
    assert found[28].value == pytest.approx(10.6468, abs=5e-5)


def test_runs_are_asked_only_where_there_are_enough_points() -> None:
    steady = [1.0, -1.0] * 6
    high = [0.5] * 8
    few, many = [*steady[:6], *high], [*steady, *high]
    known = limits(steady)
    assert loud(few, known) == {}
    assert loud(many, known) == {19: "eight on a side"}


def test_one_value_beyond_three_sigma_is_loud_however_few_there_are() -> None:
    known = limits([1.0, -1.0] * 4)
    assert loud([0.0, known.high + 0.1], known) == {1: "beyond"}
    assert loud([0.0, known.high - 0.1], known) == {}


@given(values, some.floats(-100, 100), some.floats(0.1, 10))
def test_limits_move_with_their_values(
    given_values: list[float], shift: float, scale: float
) -> None:
    before = limits(given_values)
    after = limits([scale * one + shift for one in given_values])
    assert after.low == pytest.approx(scale * before.low + shift, abs=1e-6)
    assert after.high == pytest.approx(scale * before.high + shift, abs=1e-6)
    assert after.range_high == pytest.approx(scale * before.range_high, abs=1e-6)


@given(values, some.floats(0, 5))
def test_a_cusum_upside_down_is_the_other_sum(given_values: list[float], slack: float) -> None:
    found = cusum(given_values, 0, slack)
    turned = cusum([-one for one in given_values], 0, slack)
    assert (found.up, found.up_since) == (turned.down, turned.down_since)
    assert min(found.up) >= 0


@given(values)
def test_a_weight_of_one_forgets_everything(given_values: list[float]) -> None:
    found = ewma(given_values, 0, 1, 1, 3)
    assert [one.value for one in found] == pytest.approx(given_values)
    assert all(math.isclose(one.reach, 3) for one in found)


def test_limits_of_one_value_are_refused() -> None:
    with pytest.raises(ValueError, match="two values"):
        limits([1.0])
