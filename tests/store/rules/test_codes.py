"""Codes: what is written is read, what was read wrongly is found, on every country's keyboard."""

from __future__ import annotations

import re
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.rules.codes import (
    DIGITS,
    DOT,
    LETTERS,
    LONGEST,
    PAIRED,
    Code,
    check_digits,
    checks,
    read,
    written,
)
from tests.tui.keyboards import KEYBOARDS, through

SIGNS = "0123456789." + PAIRED
PIECES = st.text(SIGNS.replace(".", ""), min_size=1, max_size=6)
CODES = st.one_of(
    st.builds(
        Code, st.sampled_from(["badge", "kit", "lift"]), st.text(SIGNS, min_size=1, max_size=19)
    ),
    st.builds(lambda *pieces: Code("step", ".".join(pieces)), PIECES, PIECES, PIECES),
    st.builds(lambda *pieces: Code("phase", ".".join(pieces)), PIECES, PIECES),
    st.builds(Code, st.just("job"), PIECES),
)
BADGES = st.from_regex(r"[A-Z0-9]{1,12}", fullmatch=True)


def test_check_digits_are_those_of_the_standard() -> None:
    """ISO/IEC 7064:2003, 8.4: the example of MOD 97-10."""
    assert check_digits("794") == "44"
    assert checks("79444")


def test_check_digits_are_those_of_account_numbers() -> None:
    """The example of the IBAN registry for ISO 13616-1: GB82 WEST 1234 5698 7654 32."""
    assert check_digits("WEST12345698765432GB") == "82"
    assert checks("WEST12345698765432GB82")


def test_check_digits_are_those_of_creditor_references() -> None:
    """The example of ISO 11649 as printed in the rules for its use: RF18 5390 0754 7034."""
    assert check_digits("539007547034RF") == "18"
    assert checks("539007547034RF18")


def test_a_code_by_hand() -> None:
    """Every letter of one code, as DEVELOPERS.md explains it."""
    assert [LETTERS.index(one) for one in "BCL"] == [0, 1, 9]
    assert written(Code("phase", "2417.4")) == "HPDFCJNF" + tail("2417.4")


def tail(phase: str) -> str:
    """The check letters by long division, with no code of ours but the table of letters."""
    letters = "HP" + "".join(DOT if one == "." else DIGITS[int(one)] for one in phase)
    rest = 0
    for digit in "".join(str("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ".index(x)) for x in letters):
        rest = (rest * 10 + int(digit)) % 97
    check = 98 - rest * 100 % 97
    return DIGITS[check // 10] + DIGITS[check % 10]


@given(CODES)
def test_what_is_written_is_read(code: Code) -> None:
    letters = written(code)
    assert read(letters) == read(letters.lower()) == code
    assert len(letters) <= LONGEST


@given(BADGES)
def test_every_badge_has_a_code(badge: str) -> None:
    assert read(written(Code("badge", badge))) == Code("badge", badge)


@given(CODES, st.data())
def test_a_single_wrong_letter_is_always_found(code: Code, data: st.DataObject) -> None:
    letters = written(code)
    at = data.draw(st.integers(0, len(letters) - 1))
    other = data.draw(st.sampled_from([one for one in LETTERS if one != letters[at]]))
    assert read(letters[:at] + other + letters[at + 1 :]) is None


@given(CODES, st.data())
def test_two_neighbours_of_a_name_in_each_others_place_are_found(
    code: Code, data: st.DataObject
) -> None:
    letters = written(code)
    at = data.draw(st.integers(2, len(letters) - 4)) if len(letters) > 5 else 2
    swapped = letters[:at] + letters[at + 1] + letters[at] + letters[at + 2 :]
    if swapped != letters and at + 1 < len(letters) - 2:
        assert read(swapped) is None


@given(st.text(max_size=30))
def test_whatever_else_is_typed_is_no_code_or_written_so(text: str) -> None:
    code = read(text)
    assert code is None or written(code) == text.upper()


@pytest.mark.parametrize("text", ["", "H", "HB", "HBCC", "B12", "HJDFCJKLB", "hJDFCJKL", "HJDFCJK"])
def test_what_is_too_short_mixed_or_cut_is_no_code(text: str) -> None:
    assert read(text) is None


@pytest.mark.parametrize("code", [Code("phase", "2417"), Code("step", "1..2"), Code("badge", "")])
def test_a_name_that_is_not_complete_is_refused(code: Code) -> None:
    with pytest.raises(ValueError, match="names no"):
        written(code)


def test_a_sign_without_letters_is_refused() -> None:
    with pytest.raises(ValueError, match="cannot stand in a code"):
        written(Code("kit", "müller"))


def test_a_code_holds_no_digit_and_no_letter_that_changes_its_place() -> None:
    assert re.fullmatch("[B-HJ-LNPSTVX]{16}", LETTERS)
    assert len(set(LETTERS)) == 16


@pytest.mark.parametrize("scanner,machine", list(product(KEYBOARDS, KEYBOARDS)))
def test_a_scanner_set_to_another_country_sends_the_same_code(scanner: str, machine: str) -> None:
    printed = "\t" + LETTERS + LETTERS.lower() + "\r"
    assert through(printed, scanner, machine) == printed


def test_digits_and_signs_would_not_have_survived() -> None:
    """Why a code has none: of the signs that codes are usually made of, not one is safe."""
    for sign in "0123456789%$*+-./:":
        images = {through(sign, *pair) for pair in product(KEYBOARDS, KEYBOARDS)}
        assert len(images) > 1, sign
