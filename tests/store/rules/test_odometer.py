"""Odometers: they only grow, in either unit."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.rules.odometer import KM_A_MILE, in_unit, known_unit, refuse_backwards
from store.trouble import Refused

distances = st.floats(0, 2e6)


def test_a_mile_is_1609_344_metres() -> None:
    # NIST Special Publication 811 (2008), appendix B.8: mile = 1.609 344 E+03 m, exactly.
    assert KM_A_MILE == 1.609344
    assert in_unit(100, "miles", "km") == pytest.approx(160.9344)
    assert in_unit(100, "km", "miles") == pytest.approx(62.13711922)


def test_backwards_is_refused_with_both_figures() -> None:
    with pytest.raises(Refused, match=r"123,455 km now, 123,456 km before"):
        refuse_backwards(123_455, "km", (123_456, "km"))
    refuse_backwards(123_456, "km", (123_456, "km"))
    refuse_backwards(0, "km", None)
    with pytest.raises(Refused, match="reads 0 to"):
        refuse_backwards(-1, "km", None)
    with pytest.raises(Refused, match="reads 0 to"):
        refuse_backwards(float("nan"), "km", None)


@given(distances)
def test_a_reading_rounded_in_the_other_unit_is_not_backwards(km: float) -> None:
    refuse_backwards(round(in_unit(km, "km", "miles")), "miles", (km, "km"))
    with pytest.raises(Refused):
        refuse_backwards(in_unit(km, "km", "miles"), "miles", (km + 10, "km"))


@given(distances)
def test_there_and_back_is_the_same(value: float) -> None:
    assert in_unit(in_unit(value, "km", "miles"), "miles", "km") == pytest.approx(value)


def test_a_unit_is_one_of_two() -> None:
    assert (known_unit("KM"), known_unit("mi"), known_unit("miles")) == ("km", "miles", "miles")
    with pytest.raises(Refused, match="not furlongs"):
        known_unit("furlongs")
