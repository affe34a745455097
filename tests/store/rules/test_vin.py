"""Vehicle identification numbers against the worked examples of the rule that defines them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.rules.vin import AT, CHARACTERS, MUST_CARRY, VALUES, WEIGHTS, check_digit, judge
from store.trouble import Refused

ONES = "1" * 17
REGULATION = "1G4AH59H45G118341"
GUIDE = "1J9RP1A36A1644345"
NUMBERS = st.text(CHARACTERS, min_size=17, max_size=17)


def products(vin: str) -> list[int]:
    """Assigned value times weight, position by position."""
    return [VALUES[sign] * weight for sign, weight in zip(vin, WEIGHTS, strict=True)]


def with_check_digit(text: str) -> str:
    return text[:AT] + check_digit(text) + text[AT + 1 :]


def test_the_sample_calculation_of_the_regulation() -> None:
    """49 CFR 565.6(c)(5) as of 1 October 2000, table V: products, their sum 411, remainder 4."""
    told = [8, 49, 24, 5, 32, 15, 18, 80, 0, 45, 56, 7, 6, 40, 12, 12, 2]
    assert products(REGULATION) == told
    assert sum(told) == 411
    assert check_digit(REGULATION) == "4"
    assert judge(REGULATION).hint is None


def test_the_worked_example_of_the_authority_s_guide() -> None:
    """NHTSA, Outline for New Manufacturer Information, on 49 CFR 565.15(c)(4): 314, remainder 6."""
    told = [8, 7, 54, 45, 28, 3, 2, 30, 0, 9, 8, 42, 24, 20, 12, 12, 10]
    assert products(GUIDE) == told
    assert sum(told) == 314
    assert check_digit(GUIDE) == "6"


def test_seventeen_ones_are_a_number() -> None:
    """The usual test number: the weights sum to 89, 89 mod 11 is 1 (arithmetic)."""
    assert sum(WEIGHTS) == 89
    assert check_digit(ONES) == "1"
    assert judge(ONES).text == ONES


def test_a_remainder_of_ten_is_an_x() -> None:
    """Products 351, remainder 10: 49 CFR 565.15(c)(4)."""
    assert check_digit("1M8GDM9A0KP042788") == "X"


def test_it_is_kept_in_capitals_without_spaces() -> None:
    assert judge(" 1g4ah59h 45g1-18341 ").text == REGULATION


@pytest.mark.parametrize("typed", ["", "123", ONES + "1", "1G4AH59H45G11834"])
def test_another_length_is_refused_with_its_length(typed: str) -> None:
    with pytest.raises(Refused, match=f"17 signs.*{len(typed)}"):
        judge(typed)


@pytest.mark.parametrize("sign", "IOQÄ*")
def test_signs_that_no_number_has_are_refused_by_name(sign: str) -> None:
    with pytest.raises(Refused) as caught:
        judge(sign + REGULATION[1:])
    assert sign in str(caught.value)


def test_a_wrong_check_digit_is_refused_where_every_number_carries_one() -> None:
    with pytest.raises(Refused, match="5 where 4 belongs"):
        judge("1G4AH59H55G118341")


def test_a_wrong_check_digit_is_a_hint_elsewhere() -> None:
    found = judge("WG4AH59H55G118341")
    assert found.text == "WG4AH59H55G118341"
    assert "check digit" in (found.hint or "")


@given(NUMBERS)
def test_every_number_has_one_check_digit(text: str) -> None:
    vin = with_check_digit(text)
    assert judge(vin).hint is None
    others = [vin[:AT] + sign + vin[AT + 1 :] for sign in "0123456789X" if sign != vin[AT]]
    assert all(check_digit(other) != other[AT] for other in others)


@given(NUMBERS, st.integers(0, 16), st.sampled_from("0123456789"))
def test_one_wrong_digit_is_always_found(text: str, place: int, digit: str) -> None:
    """A difference of 1 to 9 times a weight of 2 to 10 is never a multiple of 11."""
    text = text[:place] + "7" + text[place + 1 :] if place != AT else text
    vin = with_check_digit(text)
    wrong = vin[:place] + digit + vin[place + 1 :]
    if wrong == vin:
        return
    if vin[0] in MUST_CARRY and place != 0:
        with pytest.raises(Refused):
            judge(wrong)
    else:
        assert check_digit(wrong) != wrong[AT]
