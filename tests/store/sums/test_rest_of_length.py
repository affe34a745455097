"""What is still to come of a span, against the integral of its tail."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate, stats

from store.sums.rest_of_length import mean_rest


@pytest.mark.parametrize("m, s", [(math.log(7), 1.2), (math.log(3), 0.4), (math.log(30), 0.9)])
@pytest.mark.parametrize("so_far", [0.0, 0.5, 3.0, 20.0])
def test_it_is_the_tail_of_the_law_above_what_passed(m: float, s: float, so_far: float) -> None:
    """E[T - t | T > t] is the integral of S(x) from t on, over S(t) (SciPy's log-normal)."""
    law = stats.lognorm(s, scale=math.exp(m))
    if (math.log(so_far or 1e-9) - m) / s > 5:
        pytest.skip("so far out the law says nothing")
    tail, _ = integrate.quad(law.sf, so_far, law.isf(1e-13), limit=400, epsabs=1e-10)
    assert mean_rest(m, s, so_far) == pytest.approx(tail / law.sf(so_far), rel=1e-4)


@given(st.floats(-2, 4), st.floats(0.05, 2), st.floats(0, 1e4))
def test_it_is_never_negative_and_hours_or_minutes_make_no_difference(
    m: float, s: float, so_far: float
) -> None:
    found = mean_rest(m, s, so_far)
    assert 0 <= found < math.inf
    assert mean_rest(m + math.log(60), s, 60 * so_far) == pytest.approx(60 * found, rel=1e-6)


@pytest.mark.parametrize("m, s, so_far", [(0, 0, 1), (0, -1, 1), (0, 1, -1), (0, 1, math.inf)])
def test_what_cannot_be_is_refused(m: float, s: float, so_far: float) -> None:
    with pytest.raises(ValueError):
        mean_rest(m, s, so_far)
