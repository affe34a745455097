"""Scores of told hours: beside published examples, closed forms, and the learner's own scores."""

from __future__ import annotations

import math
from collections.abc import Sequence
from statistics import NormalDist

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.learn import scores as learned
from store.sums.book_range import LEVELS
from store.sums.scoring import crps, interval_score, mean_pinball, pinball, scores

LOGNORMALS = [
    (1, 0, 1, 0.2674054670), (0.5, 0, 1, 0.3855809771), (8, 2, 0.5, 0.9316928428),
    (12, 2, 0.5, 2.6737732434), (3, 1.5, 0.3, 0.9676385673), (20, 2.2, 0.8, 6.3594106588),
]  # fmt: skip
"""y, m, s and the score: the formula of Baran, Lerch, Q. J. R. Meteorol. Soc. 141 (2015), which
scoringrules 0.10.0 `crps_lognormal` and numerical integration confirm."""


def told(m: float, s: float, levels: Sequence[float] = LEVELS) -> tuple[float, ...]:
    """Log-normal hours at each level."""
    return tuple(math.exp(m + s * NormalDist().inv_cdf(p)) for p in levels)


@pytest.mark.parametrize(("y", "m", "s", "score"), LOGNORMALS)
def test_nineteen_levels_come_near_the_score_of_the_whole_law_from_below(
    y: float, m: float, s: float, score: float
) -> None:
    found = crps(y, told(m, s))
    assert 0.978 * score < found < score
    assert abs(found - score) < abs(2 * mean_pinball(y, told(m, s)) - score)


def test_the_score_is_twice_the_integral_of_the_loss() -> None:
    """y 12, log-normal with 2 and .5: 2.6737732435 with ever finer trapezoids."""
    for steps, near in ((20, 2e-2), (200, 2e-3), (20000, 2e-5)):
        levels = [n / steps for n in range(1, steps)]
        losses = [pinball(12, q, p) for q, p in zip(told(2, 0.5, levels), levels, strict=True)]
        assert 2 * math.fsum(losses) / steps == pytest.approx(2.6737732435, abs=near)


@pytest.mark.parametrize(
    ("forecast", "level", "loss"),
    [((0, 2, 3), 0.1, 0.1 / 3), ((0, 2, 3), 0.9, 0.3),
     ((1, 2, 4), 0.1, 0.3), ((1, 2, 4), 0.9, 0.1 / 3)],
)  # fmt: skip
def test_the_loss_is_that_of_the_published_example(
    forecast: tuple[float, ...], level: float, loss: float
) -> None:
    """Truth 1, 2, 3: the examples in the docstring of scikit-learn's `mean_pinball_loss`."""
    each = [pinball(y, q, level) for y, q in zip((1, 2, 3), forecast, strict=True)]
    assert sum(each) / 3 == pytest.approx(loss)


def test_too_few_hours_cost_more_at_a_high_level() -> None:
    """scoringrules 0.10.0 `quantile_score(12, 9, .8)` and (6, 9, .8)."""
    assert pinball(12, 9, 0.8) == pytest.approx(2.4)
    assert pinball(6, 9, 0.8) == pytest.approx(0.6)


@pytest.mark.parametrize(("y", "score"), [(6, 32), (10, 12), (25, 62), (8, 12), (20, 12)])
def test_a_miss_of_a_range_costs_ten_times_its_distance(y: float, score: float) -> None:
    """Winkler (1972); scoringrules 0.10.0 `interval_score(y, 8, 20, .2)`."""
    assert interval_score(y, 8, 20, 0.8) == pytest.approx(score)


hours = st.floats(0.1, 200)
forecasts = st.lists(hours, min_size=19, max_size=19).map(sorted)


@given(st.lists(st.tuples(hours, forecasts), min_size=1, max_size=8))
def test_scores_are_those_of_the_learner(jobs: list[tuple[float, list[float]]]) -> None:
    y, q = [one[0] for one in jobs], [one[1] for one in jobs]
    found = scores(jobs)
    assert found is not None
    assert found.jobs == len(jobs)
    assert found.pinball_h == pytest.approx(float(learned.mean_pinball(y, q).mean()))
    assert found.crps_h == pytest.approx(1.9 * found.pinball_h)
    low, high = [one[1] for one in q], [one[17] for one in q]
    assert found.interval_h == pytest.approx(
        float(learned.interval_score(y, low, high, 0.8).mean())
    )


def test_of_no_job_there_is_no_score() -> None:
    assert scores([]) is None
