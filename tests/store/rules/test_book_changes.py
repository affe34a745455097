"""What another version of the work book says otherwise: each thing once, in words."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from store.edges.workbook.model import load
from store.rules.book import Hours, HoursFor, Part, WorkBook
from store.rules.book_changes import changes, hours_words, odds_words

BOOK = load((Path(__file__).parents[3] / "demo" / "starter.toml").read_text("utf-8"))


def with_hours(low: float, book: float, high: float) -> WorkBook:
    """The book with other hours for CP2."""
    phase = replace(BOOK.phases["CP2"], hours=Hours(low, book, high))
    return replace(BOOK, phases={**BOOK.phases, "CP2": phase})


def test_two_books_that_say_the_same_have_no_changes() -> None:
    assert changes(BOOK, BOOK) == ()


def test_the_books_hours_alone_are_said_where_low_and_high_move_along() -> None:
    (one,) = changes(BOOK, with_hours(1.6, 2.4, 4.0))
    assert one == ("CP2 pump out and in", "1.2 h", "2.4 h")
    (one,) = changes(BOOK, with_hours(0.8, 1.2, 3.0))
    assert one == ("CP2 pump out and in", "1.2 h (0.8 to 2)", "1.2 h (0.8 to 3)")


def test_hours_for_a_family_are_said_with_it() -> None:
    phase = BOOK.phases["CP2"]
    own = replace(phase, hours_for=(HoursFor("S6-*-R", Hours(1, 2, 3)),))
    more = replace(BOOK, phases={**BOOK.phases, "CP2": own})
    what = "CP2 pump out and in for S6-*-R"
    assert changes(BOOK, more) == ((what, "", "2 h (1 to 3)"),)
    assert changes(more, BOOK) == ((what, "2 h (1 to 3)", ""),)


def test_what_comes_and_what_goes_is_said_on_its_side() -> None:
    operation = BOOK.operations["CP"]
    more = replace(operation, parts=(*operation.parts[1:], Part("belt", "CP4")))
    said = changes(BOOK, replace(BOOK, operations={"CP": more}))
    assert said == (
        ("CP, always renewed", "", "belt for CP4"),
        ("CP, always renewed", "coolant pump with seal for CP2", ""),
    )
    said = changes(BOOK, replace(BOOK, operations={}))
    assert said == (("operation CP", "coolant pump, 7 phases", ""),)


def test_there_and_back_is_the_same_turned_over() -> None:
    other = replace(with_hours(1, 2, 3), name="another")
    there, back = changes(BOOK, other), changes(other, BOOK)
    assert [(one.what, one.after, one.before) for one in there] == [
        (one.what, one.before, one.after) for one in back
    ]
    assert len(there) == 2


@pytest.mark.parametrize(
    "odds, words",
    [(0, "never"), (1, "always"), (0.125, "1 in 8"), (71 / 90, "71 in 90"), (0.12345, "12.3 %")],
)
def test_odds_are_said_in_cases_of_few(odds: float, words: str) -> None:
    assert odds_words(odds) == words


def test_hours_are_said_with_their_range() -> None:
    assert hours_words(Hours(0.6, 0.9, 1.4)) == "0.9 h (0.6 to 1.4)"
