"""The learner's equations with all beliefs off, against a reference mixed-model library.

statsmodels 0.15.0 under pandas 3.1.1 and scipy 1.17.1, `MixedLM` by restricted likelihood. It
brings pandas, so its answers were computed once and typed in; the call stands beside them. Its
optimisers stop early: three of them were run, the best likelihood is given, and tolerances are as
wide as their answers differed.
"""

from __future__ import annotations

import numpy as np

from tests.store.learn.labour.fitting import every_way, fit
from tests.store.learn.labour.problems import machines, penicillin, radon, sleep
from tests.store.learn.labour.test_mixed_models import LEFT_OUT, near


def test_crossed_factors_with_half_of_the_cells_missing() -> None:
    """76 of the 144 cells of Penicillin, 3 or 4 for each plate, 7 to 17 for each sample.

    mixedlm("y ~ 1", d, groups="one", re_formula="0",
            vc_formula={"plate": "0+C(plate)", "sample": "0+C(sample)"}).fit(method="bfgs")
    """
    plate, sample = np.indices((24, 6))
    for fitted in every_way(penicillin((plate**2 + 5 * sample) % 7 > 2)):
        assert near(-fitted.deviance / 2, -99.1648686507474, 1e-6)
        assert -fitted.deviance / 2 > -99.1648686507474  # The better fit of the two.
        assert near(fitted.fixed, [22.914351], 2e-6)
        assert near(fitted.errors, [0.76190], 2e-5)
        assert near(fitted.variances, [0.836225, 3.248331], 1e-4)
        assert near(fitted.residual, 0.275347, 1e-5)
        # In the order of the first plate with a sample: B, C, E, F, A, D.
        samples = [-0.929210, 2.112672, -0.171358, -2.803989, 1.688279, 0.103605]
        assert near(np.sort(fitted.effects[1]), np.sort(samples), 5e-6)
        assert near(fitted.effects[0][:3], [0.724020, 0.864295, 0.791891], 1e-5)


def test_shrunken_workers_and_their_machines() -> None:
    """44 rows of Machines.

    mixedlm("y ~ machine", d, groups="worker", re_formula="1",
            vc_formula={"cell": "0+C(machine)"}).fit(method="cg")
    """
    worker = [1.156711, -1.441378, 5.195380, 0.072536, 2.477936, -7.461184]
    cells = [
        [-1.423609, 2.381156, -0.224357], [1.346195, 0.677777, -2.937600],
        [2.309326, 1.638063, -0.654259], [-0.704969, 2.297496, -1.546550],
        [-3.396009, 2.043116, 2.923551], [1.869065, -9.037608, 2.439215],
    ]  # fmt: skip
    for fitted in every_way(machines(LEFT_OUT)):
        assert near(-fitted.deviance / 2, -90.93574971609584, 1e-5)
        assert near(fitted.fixed, [52.354000, 7.962445, 13.918222], 2e-6)
        assert near(fitted.errors, [2.4906, 2.2147, 2.2093], 1e-4)
        assert near(fitted.variances, [22.4557, 14.2337], 1e-2)
        assert near(fitted.residual, 0.870875, 5e-5)
        assert near(fitted.effects[0], worker, 5e-4)
        assert near(fitted.effects[1].reshape(3, 6).T, cells, 5e-4)


def test_heights_and_slopes_of_people() -> None:
    """mixedlm("y ~ d", d, groups="s", re_formula="0", vc_formula={"i": "1", "sl": "0+d"}).fit()"""
    fitted = fit(sleep())
    assert near(-fitted.deviance / 2, -871.8346467907297, 1e-5)
    assert near(fitted.variances, [627.566, 35.8583], 0.05)
    assert near(fitted.residual, 653.584, 5e-3)
    assert near(fitted.errors, [6.8854, 1.5596], 1e-4)
    assert near(fitted.effects[0][[0, 1, 17]], [1.5127, -40.3738, 12.4217], 1e-3)
    assert near(fitted.effects[1][[0, 1, 17]], [9.32349, -8.59918, 1.25840], 1e-4)


def test_counties_of_very_unequal_size() -> None:
    """All 919 rows of radon: mixedlm("y ~ basement", d, groups="county").fit(method="cg").

    Its standard errors come from another formula (0.05189): 1 % is all they agree to.
    """
    counties = np.array([1, 2, 26, 50, 70, 71]) - 1
    shrunken = [-0.270084, -0.533946, -0.098909, 0.163749, -0.571646, 0.021320]
    for fitted in every_way(radon(2)):
        assert near(-fitted.deviance / 2, -1085.652646431533, 1e-5)
        assert near(fitted.fixed, [1.461596, -0.692992], 3e-6)
        assert near(fitted.errors, [0.05189, 0.07059], 5e-4)
        assert near(fitted.variances, [0.10772], 1.5e-5)
        assert near(fitted.residual, 0.570917, 5e-6)
        assert near(fitted.effects[0][counties], shrunken, 2e-5)
