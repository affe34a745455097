"""The learner's equations with all beliefs off, against published restricted-likelihood fits.

Every fit is made with the factors as columns and with each of them taken out first, as the learner
does with jobs. Where nothing else is said, tolerances are half a unit of the last printed digit.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from store.learn.arrays import Floats
from tests.store.learn.labour import published
from tests.store.learn.labour.fitting import Problem, at, every_way, fit
from tests.store.learn.labour.problems import (
    machines,
    one_way,
    pastes,
    penicillin,
    radon,
    sleep,
)

LEFT_OUT = (2, 3, 6, 8, 9, 12, 19, 20, 27, 33)


def near(found: object, expected: object, within: float) -> bool:
    """Whether numbers agree to a distance."""
    return bool(np.allclose(np.array(found), np.array(expected), rtol=0, atol=within))


def test_dyestuff_one_factor_in_balance() -> None:
    """lme4, reference page `Dyestuff` and its tests; the variance is (11271.5 - 2451.25) / 5."""
    for fitted in every_way(one_way(published.DYESTUFF)):
        # 1e-4 and not half of the last digit: the equations hold a ridge of 1e-10, which pulls a
        # mean of 1527.5 down by 6e-5.
        assert near(fitted.fixed, [1527.5], 1e-4)
        assert near(fitted.errors, [19.3834], 5e-5)
        assert near(fitted.variances, [1764.05], 1e-3)
        assert near(fitted.residual, 2451.25, 1e-3)
        assert near(fitted.deviance, 319.654277, 2e-6)
        batches = [-17.6069, 0.3913, 28.5622, -23.0845, 56.7332, -44.9953]
        assert near(fitted.effects[0], batches, 1e-4)


@pytest.mark.parametrize("ratio, deviance", [(1.0, 319.792389042), (0.848324, 319.654276785)])
def test_dyestuff_at_a_given_ratio_of_spreads(ratio: float, deviance: float) -> None:
    """lme4, `test-lmer.R`: the criterion at SD of batches / SD of noise, the noise at its best."""
    problem = one_way(published.DYESTUFF)
    # At a given ratio the best noise is y' P y / (N - 1), which does not depend on the first guess.
    guess = at(problem, [ratio**2], 1.0)
    residuals = problem.y - guess.fixed[0] - np.repeat(guess.effects[0], 5)
    squares = float((residuals**2).sum() + (guess.effects[0] ** 2).sum() / ratio**2)
    residual = squares / 29
    assert near(at(problem, [ratio**2 * residual], residual).deviance, deviance, 1e-6)


def test_dyestuff_2_where_batches_do_not_differ() -> None:
    """lme4, reference page `Dyestuff2`: the variance of batches is exactly 0.

    EM comes as near as one likes but never there: it is stopped at a share of 1e-6 of the noise.
    """
    for fitted in every_way(one_way(published.DYESTUFF_2)):
        assert 0 <= fitted.variances[0] < 1e-6 * fitted.residual
        assert near(fitted.effects[0], np.zeros(6), 1e-4)
        assert near(fitted.fixed, [5.6656], 5e-5)
        assert near(fitted.errors, [0.6784], 5e-5)
        assert near(fitted.sds[1], 3.7157, 5e-5)
        assert near(fitted.deviance, 161.8283, 5e-5)


def test_rails_that_differ_much() -> None:
    """Pinheiro and Bates (2000), section 1.1; script output of nlme 3.1."""
    for fitted in every_way(one_way(published.RAIL)):
        assert near(fitted.fixed, [66.5], 1e-5)
        assert near(fitted.errors, [10.1710], 5e-5)
        assert near(fitted.sds[0], 24.8055, 5e-5)
        assert near(fitted.residual, 97 / 6, 1e-5)
        assert near(-fitted.deviance / 2, -61.0885, 5e-5)
        rails = [-12.3915, -34.5309, 18.0089, 29.2439, -16.3568, 16.0263]
        assert near(fitted.effects[0], rails, 1e-4)


def test_machines_and_workers() -> None:
    """Pinheiro and Bates (2000), section 1.3; script output of nlme 3.1."""
    for fitted in every_way(machines(cells=False)):
        assert near(fitted.fixed, [52.3556, 7.9667, 13.9167], 5e-5)
        assert near(fitted.errors, [2.2293, 1.0539, 1.0539], 5e-5)
        assert near(fitted.sds, [5.14655, 3.16165], 5e-6)
        assert near(-fitted.deviance / 2, -143.4391, 5e-5)


def test_workers_who_get_along_with_some_machines() -> None:
    """Pinheiro and Bates (2000), section 1.3; script output of nlme 3.1."""
    without = fit(machines(cells=False)).deviance
    for fitted in every_way(machines()):
        assert near(fitted.fixed, [52.3556, 7.9667, 13.9167], 5e-5)
        assert near(fitted.errors, [2.4858, 2.1770, 2.1770], 5e-5)
        assert near(fitted.sds, [4.78105, 3.72954, 0.96158], 1e-5)
        assert near(-fitted.deviance / 2, -107.8438, 5e-5)
        assert near(without - fitted.deviance, 71.191, 5e-4)


def test_workers_and_machines_with_readings_missing() -> None:
    """The same on 44 rows: script output of nlme 3.1; standard errors by generalised least squares
    with a likelihood program written for the purpose."""
    for fitted in every_way(machines(LEFT_OUT)):
        assert near(fitted.fixed, [52.3540, 7.9624, 13.9182], 5e-5)
        assert near(fitted.errors, [2.4906, 2.2147, 2.2094], 5e-5)
        assert near(fitted.sds, [4.73875, 3.77280, 0.93320], 1e-5)
        assert near(-fitted.deviance / 2, -90.9357, 1e-4)


def test_penicillin_where_two_factors_cross() -> None:
    """lme4, reference page `Penicillin`; standard error and samples by the likelihood program."""
    for fitted in every_way(penicillin()):
        assert near(fitted.fixed, [22.97222], 5e-6)
        assert near(fitted.errors, [0.80857], 5e-6)
        assert near(fitted.sds, [0.84670, 1.93156, 0.54992], 5e-6)
        assert near(fitted.deviance, 330.8606, 5e-5)
        samples = [2.1871, -1.0105, 1.9379, -0.0969, -0.0138, -3.0037]
        assert near(fitted.effects[1], samples, 5e-5)


def test_pastes_where_one_factor_nests_in_another() -> None:
    """lme4, reference page `Pastes`."""
    for fitted in every_way(pastes()):
        assert near(fitted.fixed, [60.05333], 5e-6)
        assert near(fitted.errors, [0.67687], 5e-6)
        assert near(fitted.sds, [1.28737, 2.90408, 0.82341], 1e-5)
        assert near(fitted.deviance, 246.9907, 5e-5)


def test_sleep_where_everybody_has_a_slope_of_their_own() -> None:
    """lme4, reference page `lmer`, height and slope uncorrelated. A factor that is absorbed may
    have weights: once the heights are, once the slopes."""
    problem = sleep()
    heights, slopes = problem.factors
    person, day = heights.argmax(axis=1), problem.fixed[:, 1]
    plain = fit(problem)
    no_heights = fit(replace(problem, factors=[slopes], absorbed=person))
    no_slopes = fit(replace(problem, factors=[heights], absorbed=person, loading=day))
    for fitted, order in ((plain, (0, 1)), (no_heights, (1, 0)), (no_slopes, (0, 1))):
        assert near([fitted.sds[one] for one in order], [25.0513, 5.9882], 5e-5)
        assert near(fitted.sds[2], 25.5653, 5e-5)
        assert near(fitted.fixed, [251.4051, 10.4673], 5e-5)
        assert near(fitted.deviance, 1743.6693, 5e-5)


RADON: list[tuple[int, list[float], list[float], list[float], float]] = [
    (1, [1.31258], [0.04891], [0.30954, 0.79789], 2259.4423),
    (2, [1.46160, -0.69299], [0.05158, 0.07043], [0.32822, 0.75559], 2171.3053),
    (
        3, [1.46576, -0.66824, 0.72027], [0.03794, 0.06880, 0.09176], [0.15640, 0.75844],
        2134.1862,
    ),
]  # fmt: skip


@pytest.mark.parametrize("predictors, fixed, errors, sds, deviance", RADON)
def test_radon_logs_in_very_unequal_groups(
    predictors: int, fixed: list[float], errors: list[float], sds: list[float], deviance: float
) -> None:
    """Gelman and Hill (2007), chapter 12, who print 1.31, .31, .80; 1.46, -.69, .33, .76; 1.47,
    -.67, .72, .16, .76; further digits by the likelihood program. Groups of 1 to 116, on logs."""
    for fitted in every_way(radon(predictors)):
        # 1e-5: the means of the groups are typed in with six digits.
        assert near(fitted.fixed, fixed, 1e-5)
        assert near(fitted.errors, errors, 1e-5)
        assert near(fitted.sds, sds, 1e-5)
        assert near(fitted.deviance, deviance, 1e-4)


def shrunk(y: Floats, precision: Floats, variance: float) -> tuple[float, float, Floats]:
    """Groups of one row each, their errors known: common mean, its variance, the groups' means."""
    groups = Problem(y, np.ones((len(y), 1)), [np.eye(len(y))], count=precision)
    fitted = at(groups, [variance], 1.0)
    mean = float(fitted.fixed[0])
    return mean, float(fitted.errors[0] ** 2), mean + fitted.effects[0]


def test_baseball_where_shrunken_means_foretell_better() -> None:
    """Efron and Morris (1975); Scientific American 236 (1977) 119-127: factor .212, and the errors
    of the plain proportions are 3.5 times those of the shrunken ones.

    The factor c = 1 - 15 sigma^2 / sum of squares means a variance of sigma^2 c / (1 - c).
    """
    seen = np.round(published.HITS / 45, 3)
    mean = float(seen.mean())
    noise = mean * (1 - mean) / 45
    factor = 1 - 15 * noise / float(((seen - mean) ** 2).sum())
    assert near(factor, 0.2124, 5e-5)
    found, _, estimates = shrunk(seen, np.full(18, 1 / noise), noise * factor / (1 - factor))
    assert near(found, 0.26539, 5e-6)
    assert near(
        estimates,
        [.294, .289, .285, .280, .275, .275, .270, .266, .261, .261, .256, .256, .256, .256, .256,
         .252, .247, .242], 5e-4,
    )  # fmt: skip
    plain = float(((seen - published.LATER) ** 2).sum())
    better = float(((estimates - published.LATER) ** 2).sum())
    assert near([plain, better], [0.0754, 0.0213], 5e-5)
    assert near(plain / better, 3.54, 5e-3)


SCHOOLS: list[tuple[float, float, float, list[float]]] = [
    (
        5.0, 7.8510, 20.1789,
        [9.8659, 7.8808, 6.8856, 7.7053, 5.7635, 6.6779, 9.8808, 8.1482],
    ),
    (
        10.0, 8.1265, 30.4701,
        [14.2414, 8.0632, 5.0011, 7.6168, 3.0842, 4.9018, 13.0632, 9.0400],
    ),
    (1e-4, 7.6856, 16.5805, [7.6856] * 8),
]  # fmt: skip


@pytest.mark.parametrize("spread, mean, variance, schools", SCHOOLS)
def test_eight_schools_each_with_its_own_error(
    spread: float, mean: float, variance: float, schools: list[float]
) -> None:
    """Rubin (1981); Gelman et al., Bayesian Data Analysis, equations 5.17 and 5.20; at a spread of
    next to nothing all schools are one."""
    found = shrunk(published.COACHED, published.COACHED_SE**-2.0, spread**2)
    assert near(found[0], mean, 5e-5)
    assert near(found[1], variance, 5e-5)
    assert near(found[2], schools, 5e-5)
