"""Scores of forecasts, against published examples and reference libraries."""

from __future__ import annotations

import math
from statistics import NormalDist

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.learn import scores

# D1: formula of Gneiting, Raftery, JASA 102 (2007) 4.2; values of scoringrules 0.10.0 `crps_normal`
# and properscoring 0.1 `crps_gaussian`, which agree with numerical integration to 8 digits.
NORMALS = [
    (0, 0, 1, 0.2336949773),
    (1, 0, 1, 0.6024413576),
    (-1.5, 0.3, 2, 1.0733453813),
    (2.5, 2, 0.7, 0.3003036046),
]
# D2: formula of Baran, Lerch, Q. J. R. Meteorol. Soc. 141 (2015); values of scoringrules 0.10.0
# `crps_lognormal` and numerical integration.
LOGNORMALS = [
    (1, 0, 1, 0.2674054670),
    (0.5, 0, 1, 0.3855809771),
    (8, 2, 0.5, 0.9316928428),
    (12, 2, 0.5, 2.6737732434),
    (3, 1.5, 0.3, 0.9676385673),
    (20, 2.2, 0.8, 6.3594106588),
]


@pytest.mark.parametrize("y, mean, sd, expected", NORMALS)
def test_the_normal_closed_form(y: float, mean: float, sd: float, expected: float) -> None:
    assert math.isclose(scores.crps_normal(y, mean, sd), expected, abs_tol=1e-9)


@pytest.mark.parametrize("y, m, s, expected", LOGNORMALS)
def test_the_log_normal_closed_form(y: float, m: float, s: float, expected: float) -> None:
    assert math.isclose(scores.crps_lognormal(y, m, s), expected, abs_tol=1e-9)


def test_the_ranked_score_is_twice_the_integral_of_the_pinball_loss() -> None:
    # D3: numerical integration, 2.6737732435 for y 12 and LN(2, .5): the value of D2.
    levels = (np.arange(20_000) + 0.5) / 20_000
    forecast = [math.exp(2 + 0.5 * NormalDist().inv_cdf(float(p))) for p in levels]
    loss = scores.mean_pinball([12.0], [forecast], levels)
    assert math.isclose(2 * float(loss[0]), 2.6737732435, rel_tol=1e-5)


def test_pinball_loss_of_the_published_examples() -> None:
    # D4: scikit-learn 1.9.1, examples in the docstring of `mean_pinball_loss`.
    truth = [1.0, 2.0, 3.0]
    low = scores.pinball(truth, [[0, 0], [2, 2], [3, 3]], [0.1, 0.9]).mean(axis=0)
    high = scores.pinball(truth, [[1, 1], [2, 2], [4, 4]], [0.1, 0.9]).mean(axis=0)
    assert np.allclose(low, [0.1 / 3, 0.3], rtol=0, atol=1e-12)
    assert np.allclose(high, [0.3, 0.1 / 3], rtol=0, atol=1e-12)
    # scoringrules 0.10.0, `quantile_score(12, 9, .8)`.
    assert np.allclose(scores.pinball([12.0, 6.0], [[9.0], [9.0]], [0.8])[:, 0], [2.4, 0.6])


def test_the_interval_score_of_the_published_formula() -> None:
    # D5: Gneiting, Raftery (2007) equation 43; scoringrules 0.10.0 `interval_score(y, 8, 20, .2)`.
    found = scores.interval_score([6.0, 10.0, 25.0], [8.0] * 3, [20.0] * 3, 0.8)
    assert np.allclose(found, [32, 12, 62])


def test_the_ensemble_score_of_five_draws() -> None:
    # D6: properscoring 0.1 `crps_ensemble`; scoringrules 0.10.0 `crps_ensemble(estimator="fair")`.
    draws = [9.0, 4.0, 15.0, 6.0, 7.0]
    assert math.isclose(scores.crps_ensemble(8, draws), 1.0)
    assert math.isclose(scores.crps_ensemble(8, draws, fair=True), 0.5)


def test_a_share_has_an_interval() -> None:
    # D7: statsmodels 0.15.0 `proportion_confint`, scipy 1.17.1 `binomtest(...).proportion_ci`.
    assert np.allclose(scores.wilson(17, 20), (0.639581, 0.947631), rtol=0, atol=1e-6)


def test_rows_of_few_groups_are_worth_fewer_cases() -> None:
    # statsmodels 0.15.0, OLS on a constant with cov_type="cluster": p (1 - p) / bse^2.
    held = [1, 1, 1, 0, 1, 1, 0, 0, 1, 0, 0, 1, 1, 1, 1, 1, 0]
    job = ["a"] * 4 + ["b"] * 5 + ["c"] * 2 + ["d"] * 6
    assert math.isclose(scores.worth(held, job), 15.720329670329667)
    held = [1, 1, 0, 1, 1, 1, 0, 0, 1, 0, 0, 0, 1, 0, 1, 1, 1, 1]
    assert math.isclose(scores.worth(held, [str(n // 3) for n in range(18)]), 9.390243902439035)


groups = st.lists(st.tuples(st.integers(0, 1), st.sampled_from("abcde")), min_size=1, max_size=40)


@given(groups)
def test_rows_are_worth_no_more_than_they_are_and_no_less_than_their_groups(
    rows: list[tuple[int, str]],
) -> None:
    held, group = [one for one, _ in rows], [one for _, one in rows]
    assert len(set(group)) <= scores.worth(held, group) <= len(rows)
    others = [1 - one for one in held]
    assert math.isclose(scores.worth(held, group), scores.worth(others, group), rel_tol=1e-9)


def test_rows_that_agree_within_their_group_are_worth_one_case_each_group() -> None:
    # Kish (1965): the design effect 1 + (k - 1) r is k where r is 1.
    held = [n // 10 % 2 for n in range(400)]
    assert math.isclose(scores.worth(held, [str(n // 10) for n in range(400)]), 40, rel_tol=0.03)


def test_a_share_of_nothing_is_refused() -> None:
    with pytest.raises(ValueError):
        scores.wilson(0, 0)
    with pytest.raises(ValueError):
        scores.wilson(3, 2)


def test_a_range_holds_what_lies_between_its_levels() -> None:
    forecast = np.tile(scores.LEVELS, (4, 1))
    seen = [0.05, 0.1, 0.9, 0.96]
    assert scores.inside(seen, forecast, 0.8).tolist() == [False, True, True, False]
    assert scores.inside(seen, forecast, 0.9).tolist() == [True, True, True, False]


@pytest.mark.parametrize("share", [0.85, 0.0, 1.0])
def test_a_range_without_levels_is_refused(share: float) -> None:
    with pytest.raises(ValueError):
        scores.inside([0.5], [scores.LEVELS], share)


@given(st.floats(-3, 3), st.floats(0.2, 3), st.floats(-2, 2), st.floats(-1, 1))
def test_the_true_forecast_is_the_best_on_average(
    mean: float, sd: float, other_mean: float, log_other_sd: float
) -> None:
    """A proper score: another normal forecast never scores less under the true law."""
    p = (np.arange(400) + 0.5) / 400
    law = NormalDist(mean, sd)
    seen = np.array([law.inv_cdf(float(one)) for one in p])
    other = NormalDist(other_mean, sd * math.exp(log_other_sd))

    def score(of: NormalDist) -> float:
        forecast = [of.inv_cdf(float(level)) for level in scores.LEVELS]
        return float(scores.mean_pinball(seen, np.tile(forecast, (400, 1))).mean())

    assert score(law) <= score(other) + 0.004 * sd
