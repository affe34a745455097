"""The list of parts and kits at any size: exact width, nothing told by colour alone."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from store.rules.readiness import Lack, Ready
from store.views.values import JobCard
from tests.tui.made_parts import card, part
from tui.colours import Paint
from tui.parts.canvas import as_text
from tui.ready.paint import Standing, parts_canvas
from tui.signs import ASCII, UNICODE, Signs


def lines(
    of: JobCard, size: tuple[int, int], here: Standing | None = None, signs: Signs = UNICODE
) -> list[str]:
    canvas = parts_canvas(of, here or Standing(), size, signs, "said")
    return [as_text(line) for line in canvas.lines(Paint())]


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (200, 50), (60, 20), (59, 20), (1, 1)])
@pytest.mark.parametrize("signs", [UNICODE, ASCII])
def test_every_line_is_as_wide_as_the_screen(size: tuple[int, int], signs: Signs) -> None:
    found = lines(card(), size, signs=signs)
    assert [cell_len(line) for line in found] == [size[0]] * size[1]


def test_each_line_says_its_state_in_words_and_what_belongs_to_it() -> None:
    text = "\n".join(lines(card(), (120, 40)))
    for words in (
        "wanted", "ordered", "here", "wrong", "returned", "fitted", "not needed", "no date",
        "late, was Tue", "expected Thu", "Factor", "batch L 4711", "for the other side",
        "its phase is not done", "not asked for", "in use on 2409", "asked for at Loan",
        "here, goes back", "parts: 6 of 8 lack",
    ):  # fmt: skip
        assert words in text, words


def test_what_lacks_or_that_nothing_does_stands_at_the_top() -> None:
    waiting = card()
    waiting = replace(
        waiting, job=replace(waiting.job, ready=Ready((Lack("parts", "parts 2 of 5"),)))
    )
    assert "lacks parts 2 of 5" in lines(waiting, (80, 24))[1]
    ready = replace(waiting, job=replace(waiting.job, ready=Ready()))
    assert "ready to come in" in lines(ready, (80, 24))[1]
    came_in = replace(card(), unready=("kit: press",))
    assert "it came in without kit: press" in lines(came_in, (80, 24))[1]


def test_an_empty_list_names_the_key_that_lists_a_part() -> None:
    assert "a lists a part" in "\n".join(lines(card((), ()), (80, 24)))


@pytest.mark.parametrize("row", range(14))
def test_the_line_at_hand_is_always_in_sight(row: int) -> None:
    of = card()
    found = [line for line in lines(of, (80, 20), Standing(row)) if line.startswith(" ▸")]
    assert len(found) == 1


def test_marked_lines_carry_a_letter() -> None:
    found = lines(card(), (80, 24), Standing(0, frozenset({2, 4})))
    assert len([line for line in found if line[3] == "x"]) == 2


@given(st.text(max_size=60), st.integers(60, 140))
def test_no_text_breaks_the_width(text: str, width: int) -> None:
    of = card((part(1, text or "x", note=text or None, supplier=text or None),))
    assert {cell_len(line) for line in lines(of, (width, 24))} == {width}
