"""Signals in words."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from store.learn.signals.found import Found
from store.views.month.signals_said import said, seldom, since_words, whole_says

MARCH = date(2026, 3, 9)
CHANGE = Found("change", "phase", "GB-on", "", 0, 0, 0, 1.48, 1.04, 2.5, 11, 9, 0.0031)


def told(found: Found, name: str) -> str:
    return said(found, name, MARCH, MARCH, MARCH)


def test_a_phase_is_told_in_hours() -> None:
    assert told(CHANGE, "gearbox in") == (
        "Since March 2026 gearbox in takes 2.6 h where it took 3.7 (11 jobs before, 9 after). "
        "Luck alone shows as much in fewer than 1 of 100 shops."
    )


def test_an_operation_is_told_in_times() -> None:
    found = replace(CHANGE, what="operation", book_h=0.0, before=1.0, after=0.7)
    assert told(found, "clutch").startswith("Since March 2026 clutch takes 0.70 times what it took")


def test_a_book_that_is_wrong() -> None:
    found = replace(CHANGE, kind="level", what="operation", before=1.02, after=1.33, count_after=22)
    assert told(found, "clutch").startswith(
        "Clutch takes 1.33 times its book (22 jobs); all else being equal that is 30 % longer than "
        "other work. Were the book right within a tenth, luck would show as much in fewer than 1"
    )


def test_who_gets_faster() -> None:
    found = replace(CHANGE, kind="trend", what="person", before=1.8, after=1.1, count_after=60)
    assert told(found, "Kim").startswith(
        "Kim gets faster: took 1.80 times the book's hours at first, 1.10 times now (60 jobs)."
    )


def test_a_supplier_who_is_late() -> None:
    found = replace(CHANGE, kind="level", what="supplier", before=0.1, after=0.55, count_after=20)
    assert told(found, "North").startswith(
        "55 % of North's deliveries came late (20 in all); of the others' 10 %."
    )
    since = replace(found, kind="change", count_before=25, count_after=15)
    assert told(since, "North").startswith(
        "Since March 2026 55 % of North's deliveries came late, before it 10 % (25 before, 15"
    )


def test_a_vague_date_says_so() -> None:
    said_so = since_words(MARCH, date(2026, 1, 5), date(2026, 4, 1))
    assert said_so == "Since about March 2026 (January to April)"
    year_before = since_words(MARCH, date(2025, 12, 5), date(2026, 4, 1))
    assert year_before == "Since about March 2026 (December 2025 to April)"
    assert since_words(MARCH, date(2026, 3, 1), date(2026, 4, 1)) == "Since March 2026"


@pytest.mark.parametrize(
    ("chance", "words"),
    [(0.0083, "100"), (0.00101, "100"), (0.001, "1,000"), (1e-12, "1,000,000")],
)
def test_seldom_is_never_told_as_more_than_it_is(chance: float, words: str) -> None:
    assert seldom(chance) == words
    assert int(words.replace(",", "")) <= 1 / chance * (1 + 1e-9)


def test_silence_is_told_with_its_promise() -> None:
    assert whole_says(0, 120, looked=True, running=False) == (
        "Nothing changed that luck does not explain. 120 things were looked at; where nothing "
        "changes, a false one is told in at most 1 year of 10."
    )
    now = whole_says(2, 9, looked=True, running=True)
    assert now.startswith("2 things that luck hardly explains. 9 things were looked at, up to the")
    assert whole_says(0, 0, looked=False, running=True).startswith("Nobody has looked yet")
