"""Papers as text: never too wide, nothing lost."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from tests.store.actions.made import World
from tests.tui.papers.made import LONG, evil, papers
from tui.papers.paper import Facts, Paper, Row, Table, Words
from tui.papers.text import GAP, broken, lines_of, shared, text_of


@pytest.mark.parametrize("width", [58, 80, 110])
def test_no_line_is_too_wide_whatever_stands_in_it(busy: World, width: int) -> None:
    for name, paper in papers(busy).items():
        for line in text_of(paper, width):
            assert cell_len(line) <= width, (name, line)
            assert line.isprintable() or "\u200d" in line, (name, ascii(line))


def test_a_long_word_is_broken_not_cut() -> None:
    found = "".join(text_of(Paper("t", LONG, (Facts((("VIN", LONG),)),), "f"), 40))
    assert found.replace(" ", "").count("w") == 2 * len(LONG)


letters = st.text(st.characters(exclude_categories=("Cs", "Cf", "Mn", "Me")), max_size=200)


@given(letters, st.integers(4, 90))
def test_breaking_keeps_every_letter_that_shows(text: str, width: int) -> None:
    lines = broken(text, width)
    shows = "".join(letter for letter in text if letter.isprintable())
    assert "".join("".join(lines).split()) == "".join(shows.split())
    assert all(cell_len(line) <= width for line in lines)


@given(st.lists(st.integers(0, 200), min_size=1, max_size=7), st.integers(70, 120))
def test_columns_fit_together_and_keep_what_they_can(wanted: list[int], width: int) -> None:
    widths = shared(wanted, width)
    assert sum(widths) + GAP * (len(widths) - 1) <= width
    assert all(one <= max(1, each) for one, each in zip(widths, wanted, strict=True))
    if sum(max(1, one) for one in wanted) + GAP * (len(wanted) - 1) <= width:
        assert widths == [max(1, one) for one in wanted]


def test_a_table_has_its_names_over_its_columns_and_says_what_is_void() -> None:
    paper = Paper("t", "a", (Table("c", ("What", "Who"), (Row(("oil", "x"), True),)),), "f")
    kinds = [(line.kind, line.text) for line in lines_of(paper)]
    assert ("names", "What  Who") in kinds
    assert ("void", "oil   x") in kinds


def test_every_kind_of_block_is_there() -> None:
    lines = text_of(evil(), 60)
    assert sum(line.startswith("* ") for line in lines) == 2
    assert any(line == "_" * 40 for line in lines)
    assert text_of(Paper("t", "a", (Words(""),), "f"))
