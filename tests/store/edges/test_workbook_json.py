"""The stored form of a work book: exact, and one text for one book."""

from __future__ import annotations

import json
from dataclasses import replace
from importlib.resources import files

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.edges.workbook.json import BadBookText, from_json, to_json
from store.edges.workbook.model import load
from store.rules.book import Hours, HoursFor, WorkBook


@pytest.fixture(scope="module")
def book() -> WorkBook:
    return load(files("demo").joinpath("workbook.toml").read_text("utf-8"))


def test_a_book_comes_back_exactly_as_it_was(book: WorkBook) -> None:
    again = from_json(to_json(book))
    assert again == book
    assert list(again.phases) == list(book.phases)
    assert list(again.operations) == list(book.operations)
    assert to_json(again) == to_json(book)


def test_hours_for_families_are_kept_and_a_book_without_them_keeps_its_text(book: WorkBook) -> None:
    assert "hours_for" not in to_json(book)
    own = (HoursFor("S6-*-R", Hours(1, 2, 3)),)
    more = replace(book, phases={
        code: replace(one, hours_for=own) if code == "CL3" else one
        for code, one in book.phases.items()
    })  # fmt: skip
    assert from_json(to_json(more)) == more
    assert to_json(more).count("hours_for") == 1


def test_the_order_of_phases_survives_a_reader_that_sorts_keys(book: WorkBook) -> None:
    shuffled = json.dumps(json.loads(to_json(book)), sort_keys=True)
    assert list(from_json(shuffled).phases) == list(book.phases)


@given(
    st.sampled_from(["", "null", "[]", "{}", '"text"', '{"phases": 3, "operations": []}'])
    | st.text()
)
def test_anything_else_is_refused_in_one_line(text: str) -> None:
    with pytest.raises(BadBookText) as caught:
        from_json(text)
    assert "\n" not in str(caught.value)
