"""Ways that open decisions may lead to: their odds, and what is done then."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.edges.workbook.model import load
from store.rules.book import Answer
from store.rules.forks import (
    MOST,
    WORTH,
    Fork,
    Question,
    forks,
    odds,
    open_after,
    questions,
    route_if,
)
from store.rules.routes import RoutePhase, Vehicle, lay

BOOK = load((Path(__file__).parents[1] / "actions" / "book.toml").read_text("utf-8"))
VEHICLE = Vehicle("B4-M-F", 2, {"build": "A"})


def asked(*answers: Answer, phase: str = "P") -> Question:
    return Question(phase, "1", "which?", answers)


def build(code: str, chance: float) -> Answer:
    return Answer(code, code, chance, {"build": code})


END = Answer("end", "it ends", 0.1, ends=True)


def test_without_answers_the_odds_are_the_books_and_each_answer_moves_them() -> None:
    """Mean of a Dirichlet distribution: Gelman et al. (2013), Bayesian Data Analysis, 3.4."""
    one = asked(build("A", 0.75), build("B", 0.25))
    assert odds(one, {}) == (0.75, 0.25)
    assert odds(one, {"B": 4}) == ((WORTH * 0.75) / (WORTH + 4), (WORTH * 0.25 + 4) / (WORTH + 4))
    assert odds(one, {"B": 4, "gone from the book": 100}) == odds(one, {"B": 4})


@given(st.lists(st.floats(0.01, 1), min_size=2, max_size=4), st.lists(st.integers(0, 500)))
def test_odds_sum_to_one_and_none_is_quite_gone(chances: list[float], given_: list[int]) -> None:
    one = asked(*(build(str(n), chance) for n, chance in enumerate(chances)))
    found = odds(one, {str(n): times for n, times in enumerate(given_)})
    assert sum(found) == pytest.approx(1)
    assert min(found) > 0


def test_ways_multiply_and_what_ends_the_work_leaves_later_questions_unasked() -> None:
    first = asked(build("A", 0.9), END)
    later = Question("Q", "1", "sound?", (
        Answer("yes", "yes", 0.5, {"seat": "sound"}), Answer("no", "no", 0.5, {"seat": "worn"}),
    ))  # fmt: skip
    found = forks([first, later], lambda one: odds(one, {}))
    assert {(tuple(sorted(one.sets.values())), one.ends): one.odds for one in found} == {
        (("A", "sound"), None): pytest.approx(0.45),
        (("A", "worn"), None): pytest.approx(0.45),
        ((), "P"): pytest.approx(0.1),
    }


def test_ways_that_come_to_the_same_are_one_and_hardly_likely_ones_are_left_out() -> None:
    same = asked(build("A", 0.5), Answer("A2", "also A", 0.495, {"build": "A"}), build("B", 0.005))
    assert forks([same], lambda one: odds(one, {})) == [Fork(1.0, {"build": "A"})]
    many = [
        Question("P", str(n), "?", (
            Answer("x", "x", 0.5, {f"o{n}": "x"}), Answer("y", "y", 0.5, {f"o{n}": "y"}),
        ))
        for n in range(4)
    ]  # fmt: skip
    found = forks(many, lambda one: odds(one, {}))
    assert len(found) == MOST
    assert sum(one.odds for one in found) == pytest.approx(1)


def test_no_question_is_one_way() -> None:
    assert forks([], lambda one: odds(one, {})) == [Fork(1.0)]


def laid() -> tuple[RoutePhase, ...]:
    return lay(BOOK, operations=["TC"], family="B4-M-F", options={"build": "A"}, grade=2)


def codes(route: tuple[RoutePhase, ...]) -> list[str]:
    return [one.phase.code for one in route]


def test_questions_of_a_route_are_those_that_change_it_and_nobody_answered() -> None:
    found = questions(laid(), {})
    assert [(one.phase, one.step) for one in found] == [("B1", "BU")]
    assert [one.code for one in found[0].answers] == ["A", "B", "end"]
    assert questions(laid(), {"build": "A"}) == found  # one of its answers ends the work


def test_a_route_is_laid_as_an_answer_would_make_it() -> None:
    assert codes(route_if(BOOK, VEHICLE, ["TC"], Fork(1.0))) == codes(laid())
    other = route_if(BOOK, VEHICLE, ["TC"], Fork(0.3, {"build": "B"}))
    assert "B2b" in codes(other)
    assert "B2b" not in codes(laid())


def test_work_that_ends_early_closes_what_it_opened() -> None:
    ended = codes(route_if(BOOK, VEHICLE, ["TC"], Fork(0.1, {}, "B1")))
    assert set(ended) < set(codes(laid()))
    assert ended[: codes(laid()).index("B1") + 1] == codes(laid())[: codes(laid()).index("B1") + 1]
    assert "GB-on" in ended
    assert open_after(route_if(BOOK, VEHICLE, ["TC"], Fork(0.1, {}, "B1"))) == set()
