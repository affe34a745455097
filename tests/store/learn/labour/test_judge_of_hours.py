"""The bench of hours: what it prints is what the methods earned."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from store.learn.records import People, Record
from tests.bench.hours.__main__ import asked, cases, keep
from tests.bench.hours.baselines import by_the_book
from tests.bench.hours.judging import judged, methods
from tests.bench.hours.rows import Row
from tests.bench.hours.scoring import Method
from tests.bench.hours.table import Case, Outcome, lines

SMALL = Case("a", "clean", 6, 1, 0)


def twice_the_book(records: list[Record], people: People | None = None) -> Iterator[Row]:
    """A learner that errs; with a roster it errs less."""
    factor = 2.0 if people is None else 1.3
    for row in by_the_book.hours(records):
        yield replace(
            row, mean=row.mean * factor, quantiles=[factor * one for one in row.quantiles]
        )


def test_each_method_is_scored_beside_the_truth_and_the_roster_is_told_to_who_asks() -> None:
    learner = f"{__name__}:twice_the_book"
    by: dict[str, Method] = {"book": by_the_book.hours}
    by |= {"learner": twice_the_book, "roster": twice_the_book}
    found = {one.method: one for one in judged(SMALL, by)}
    assert set(methods(["book", "means"], learner)) == {"book", "means"}
    assert found["truth"].ratio == 1
    assert found["truth"].by_kind == (1, 1, 1, 1)
    assert len({one.ratio for one in found.values()}) == 4


def outcome(name: str, shop: int, ratio: float) -> Outcome:
    case = replace(SMALL, flavour=name, shop=shop)
    return Outcome(case, "learner", ratio, 0.75, 0.9, 2.0, (1.0, 1.1, 1.2, 1.3))


def test_the_table_holds_means_over_shops_and_their_standard_error() -> None:
    found = [outcome("clean", 0, 1.1), outcome("clean", 1, 1.3), outcome("rust", 0, 1.5)]
    table = list(lines(found, by_kind=True))
    assert [line.split()[:6] for line in table[1:]] == [
        ["a", "clean", "6", "learner", "1.200", "0.100"],
        ["a", "rust", "6", "learner", "1.500", "nan"],
        ["mean", "6", "learner", "1.300", "0.115", "75.0"],
    ]
    assert table[1].split()[6:] == ["75.0", "90.0", "2.00", "1.000", "1.100", "1.200", "1.300"]


def test_a_flavour_is_shown_as_soon_as_it_is_done() -> None:
    passed: list[str] = []

    def passing() -> Iterator[Outcome]:
        for name in ("clean", "rust", "drift"):
            passed.append(name)
            yield outcome(name, 0, 1.2)

    shown = lines(passing(), by_kind=False)
    next(shown)
    next(shown)
    assert passed == ["clean", "rust"]


def test_every_shop_that_was_asked_for_is_a_case() -> None:
    say = asked(["--jobs", "4,8", "--shops", "2", "--flavours", "a-clean,b-rust", "--seed", "9"])
    found = cases(say)
    assert len(found) == 8
    assert Case("b", "rust", 8, 9, 1) in found


@pytest.mark.parametrize(
    "words", [["--flavours", "a-clean,c-clean"], ["--methods", "book,crystal"]]
)
def test_a_wrong_word_is_named(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        asked(words)
    assert words[1].split(",")[1] in capsys.readouterr().err


def test_every_shops_figures_are_kept_for_pairs(tmp_path: Path) -> None:
    keep(tmp_path / "out.csv", [outcome("clean", 0, 1.1), outcome("clean", 1, 1.3)])
    rows = (tmp_path / "out.csv").read_text("utf-8").splitlines()
    assert rows[1] == "a-clean,6,1,0,learner,1.10000,0.75000,0.90000,2.00000"
    assert len(rows) == 3
