"""The line that waits, against the plain sums over the same lattice."""

from __future__ import annotations

from itertools import accumulate

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.file.learned.line import Line, later, then
from store.sums.mixing import nth_to_end, one_after_another

steps = st.lists(st.floats(0, 20), min_size=19, max_size=19)
quantiles = steps.map(lambda each: tuple(0.01 + one for one in accumulate(each)))


@given(st.lists(quantiles, min_size=1, max_size=5), st.integers(0, 12))
def test_lifts_become_free_as_the_plain_sum_says(
    running: list[tuple[float, ...]], place: int
) -> None:
    assert Line(running).nth(place) == pytest.approx(nth_to_end(running, place), rel=1e-12)


@given(quantiles, quantiles)
def test_one_stay_after_another_is_what_the_plain_sum_says(
    first: tuple[float, ...], other: tuple[float, ...]
) -> None:
    assert then(first, other) == pytest.approx(one_after_another(first, other), rel=1e-12)


@given(quantiles, quantiles)
def test_the_later_of_two_is_never_before_either(
    first: tuple[float, ...], other: tuple[float, ...]
) -> None:
    found, at_once = later(first, other), (1e-9,) * 19
    alone = later(first, at_once), later(other, at_once)
    assert found is not None
    for one in alone:
        assert one is not None
        assert all(both >= each - 1e-9 for both, each in zip(found, one, strict=True))
    assert list(found) == sorted(found)
    assert later(first, None) == first
    assert later(None, None) is None


def test_the_later_of_two_alike_is_the_square_of_the_chance() -> None:
    """P(max <= x) = F(x)^2: of two even lengths on 0 to 1 the median of the later is 1 / sqrt 2."""
    even = tuple(n / 20 for n in range(1, 20))
    found = later(even, even)
    assert found is not None
    assert found[9] == pytest.approx(0.5**0.5, abs=0.01)
