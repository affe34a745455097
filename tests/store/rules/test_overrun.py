"""Reasons for hours over the cautious figure."""

from __future__ import annotations

from store.rules.overrun import REASONS, reason_of


def test_a_reason_is_known_by_its_words_and_ones_own_words_are_none() -> None:
    assert {code: reason_of(words) for code, words in REASONS.items()} == {
        code: code for code in REASONS
    }
    assert reason_of("the bolt was left-handed") is None
    assert reason_of(None) is None


def test_there_are_few_enough_for_all_of_them_to_be_used() -> None:
    assert len(REASONS) <= 5
