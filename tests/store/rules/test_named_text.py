"""Free texts that name somebody outside the shop."""

from __future__ import annotations

import pytest

from store.rules.named_text import names

NAME, NUMBER = "Kim van Brown", "+49 (0)123 456-789"


@pytest.mark.parametrize(
    "text",
    [
        "kim  van brown rang", "ask Brown", "BROWN said so", "Brown's key is in the box",
        "Kim wants it by noon", "ring 0123 456789", "ring 0049 123456789 after four",
    ],
)  # fmt: skip
def test_name_and_number_are_found(text: str) -> None:
    assert names(text, NAME, NUMBER)


@pytest.mark.parametrize(
    "text",
    [
        "brown deposits in the pan", "a van of the same make", "123 N m, then 45 degrees",
        "rang at 12:34, 56 km", "the customer wants it by noon", "",
    ],
)  # fmt: skip
def test_what_only_looks_like_it_is_not(text: str) -> None:
    assert not names(text, NAME, NUMBER)


def test_a_short_number_forbids_no_figures() -> None:
    assert not names("torque 110", "Kim Brown", "110")


def test_without_name_and_number_nothing_is_named() -> None:
    assert not names("anything at all", "", "")
