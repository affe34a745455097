"""Normal deviates against the standard library, and spans under way against the closed form."""

from __future__ import annotations

import math
from statistics import NormalDist

import numpy as np
import pytest
from numpy.testing import assert_allclose

from store.learn.dates.normal import deviate, rest_of, upper_tail

NORMAL = NormalDist()


def test_deviates_are_those_of_the_standard_library() -> None:
    p = np.concatenate([np.linspace(0.001, 0.999, 999), [1e-300, 1e-50, 1e-12, 1 - 1e-12]])
    assert_allclose(deviate(p), [NORMAL.inv_cdf(float(one)) for one in p], rtol=1e-12)


def test_the_upper_tail_is_one_less_the_lower() -> None:
    points = (-2.0, 0.0, 1.5)
    assert_allclose([upper_tail(z) for z in points], [1 - NORMAL.cdf(z) for z in points])


# m = 2, s = .5: t, mean left, and what is left at 10, 50, 80 and 90 per cent; made with
# scipy (`lognorm.expect(conditional=True)`, `isf`), formula of Johnson, Kotz, Balakrishnan (1994),
# chapter 14.
LEFT = [
    (0.0, 8.372897, (3.893172, 7.389056, 11.254979, 14.024079)),
    (2.0, 6.402793, (1.937486, 5.409822, 9.273021, 12.042013)),
    (5.0, 4.627703, (0.649076, 3.481974, 7.236425, 10.005616)),
    (8.0, 4.140998, (0.461310, 2.899707, 6.563897, 9.369262)),
    (10.0, 4.074610, (0.430245, 2.789494, 6.466404, 9.324899)),
    (15.0, 4.209492, (0.423715, 2.816099, 6.678170, 9.734587)),
    (25.0, 4.830495, (0.477684, 3.201682, 7.659952, 11.215781)),
]


@pytest.mark.parametrize("so_far, mean, quantiles", LEFT)
def test_what_is_left_is_the_closed_form(
    so_far: float, mean: float, quantiles: tuple[float, ...]
) -> None:
    levels = np.array([0.1, 0.5, 0.8, 0.9])
    assert_allclose(rest_of(2.0, 0.5, so_far, 1 - levels), quantiles, rtol=2e-6)
    fine = (np.arange(200_000) + 0.5) / 200_000
    assert_allclose(rest_of(2.0, 0.5, so_far, fine).mean(), mean, rtol=1e-4)


def test_the_longer_it_has_lasted_the_longer_it_will() -> None:
    left = [float(np.median(rest_of(2.0, 0.5, t, np.array([0.5])))) for t in (20.0, 60.0, 1e3)]
    assert left == sorted(left)


def test_a_span_beyond_its_law_goes_on_by_its_age() -> None:
    left = rest_of(2.0, 0.01, 100.0, np.array([math.exp(-1)]))
    assert_allclose(left, 50.0)
