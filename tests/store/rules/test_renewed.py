"""What is renewed every time: as the vehicle asks for it, each once, for its phase."""

from __future__ import annotations

from dataclasses import replace

from store.edges.workbook.model import load
from store.rules.book import Part, When
from store.rules.renewed import Renewed, renewed
from store.rules.route_when import Vehicle
from tests.store.actions.made import BOOK

BOOK_READ = load(BOOK)
ALL = {"B2": "4", "B2b": "4b", "GB-on": "8"}
BUILD_A = Vehicle("B4-M-F", 2, {"build": "A"})


def test_each_is_listed_for_the_phase_that_it_is_for_where_the_vehicle_asks_for_it() -> None:
    assert renewed(BOOK_READ, ["TC"], BUILD_A, {"B2": "4", "GB-on": "8"}) == (
        Renewed("chain", "4"), Renewed("rear main seal", "8"),
    )  # fmt: skip
    other = replace(BUILD_A, options={"build": "B"})
    assert renewed(BOOK_READ, ["TC"], other, {"B2b": "4b", "GB-on": "8"}) == (
        Renewed("guides", "4b"), Renewed("rear main seal", "8"),
    )  # fmt: skip


def test_a_phase_that_the_job_has_not_needs_no_part() -> None:
    assert renewed(BOOK_READ, ["TC"], BUILD_A, {"B2": "4"}) == (Renewed("chain", "4"),)
    assert renewed(BOOK_READ, ["WP"], BUILD_A, ALL) == ()


def test_two_operations_that_renew_the_same_part_renew_it_once() -> None:
    other = replace(
        BOOK_READ.operations["WP"], parts=(Part("Rear Main Seal", "GB-on"), Part("oil", "GB-on"))
    )
    book = replace(BOOK_READ, operations={**BOOK_READ.operations, "WP": other})
    found = renewed(book, ["WP", "TC"], BUILD_A, ALL)
    assert [one.text for one in found] == ["chain", "rear main seal", "oil"]


def test_a_part_for_a_phase_that_is_part_of_another_is_for_that_one() -> None:
    whole = replace(BOOK_READ.phases["B4"], contains=("GB-on",))
    book = replace(BOOK_READ, phases={**BOOK_READ.phases, "B4": whole})
    assert renewed(book, ["TC"], BUILD_A, {"B4": "6"}) == (Renewed("rear main seal", "6"),)


def test_a_part_that_only_some_grades_need_is_listed_for_those() -> None:
    rusty = Part("bolts", "GB-on", When(grade=(3,)))
    operation = replace(BOOK_READ.operations["TC"], parts=(rusty,))
    book = replace(BOOK_READ, operations={"TC": operation})
    assert renewed(book, ["TC"], BUILD_A, ALL) == ()
    assert renewed(book, ["TC"], replace(BUILD_A, grade=3), ALL) == (Renewed("bolts", "8"),)
