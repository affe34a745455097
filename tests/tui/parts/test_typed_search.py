"""Searching by beginnings of words."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tui.parts.typed_search import among, index, matching


def matches(typed: str, text: str) -> bool:
    return matching(typed, [text], str) == [text]


@pytest.mark.parametrize(
    "typed, text",
    [
        ("", "anything"),
        ("job new", "takes a new job"),
        ("TAKES", "takes a new job"),
        ("n j", "takes a new job"),
        ("ab12c", "estate AB-12-CD"),
        ("ab-12", "estate AB-12-CD"),
        ("12", "estate AB-12-CD"),
        ("uberholt", "Überholt"),
        ("241", "2417 panel van"),
        (" - ", "takes a new job"),
    ],
)
def test_each_word_typed_begins_a_word_in_any_order(typed: str, text: str) -> None:
    assert matches(typed, text)


@pytest.mark.parametrize(
    "typed, text", [("ob", "takes a new job"), ("new car", "takes a new job"), ("417", "2417")]
)
def test_the_middle_of_a_word_is_no_beginning(typed: str, text: str) -> None:
    assert not matches(typed, text)


@given(st.text(), st.text())
def test_whatever_is_typed_is_answered_and_more_typed_never_finds_more(one: str, more: str) -> None:
    texts = index(["takes a new job", "2417 panel van AB-12-CD", one], str)
    assert set(among(f"{one} {more}", texts)) <= set(among(one, texts))
    assert one in among(one, texts)
