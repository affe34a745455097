"""What is still done when the planned work ends."""

from __future__ import annotations

from store.rules.book import Hours, Operation, Phase, Step, Use, WorkBook
from store.rules.route_end import still_needed
from store.rules.routes import lay

HOURS = Hours(1, 1, 1)
PHASES = (
    Phase("G", "reception", HOURS),
    Phase("A-off", "off", HOURS, access="A", side="off", contains=("B-off",)),
    Phase("X", "work", HOURS, steps=(Step("oil", "oil out", opens=("no-oil",)),)),
    Phase("Y", "more work", HOURS),
    Phase("A-on", "on", HOURS, access="A", side="on", opens=("curing",)),
    Phase("B-on", "on", HOURS, access="B", side="on"),
    Phase("S", "cure", HOURS, kind="standing", closes=("curing",)),
    Phase("Z", "fill", HOURS, steps=(Step("in", "oil in", closes=("no-oil",)),)),
    Phase("R", "record", HOURS, always=True),
    Phase("T", "trim", HOURS),
)
BOOK = WorkBook(
    "t", {}, (), (), (), {p.code: p for p in PHASES},
    {"P": Operation("P", "p", tuple(Use(p.code) for p in PHASES))},
)  # fmt: skip
ROUTE = lay(BOOK, operations=["P"], family="B4-M-F", options={}, grade=2)


def test_what_was_opened_is_closed_and_the_rest_falls_away() -> None:
    assert still_needed(ROUTE, ["G", "A-off"], []) == ("A-on", "B-on", "S", "R")


def test_an_open_condition_keeps_the_phase_that_closes_it() -> None:
    assert still_needed(ROUTE, ["G", "A-off", "X"], ["no-oil"]) == ("A-on", "B-on", "S", "Z", "R")


def test_before_anything_is_opened_only_what_stays_always_is_left() -> None:
    assert still_needed(ROUTE, ["G"], []) == ("R",)
