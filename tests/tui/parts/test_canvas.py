from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from tui.colours import Ink, Paint
from tui.parts.canvas import ON_SCREEN, Canvas, as_text, width_of
from tui.parts.keyline import by_mouse

AWKWARD = st.text(
    alphabet=st.sampled_from("ab é́変速機🔧👩‍🔧\u200d\ufe0f\u0301\t\n\x1b│█ﷺ") | st.characters(),
    max_size=30,
)
WIDTHS = st.integers(1, 20)


@given(st.lists(st.tuples(st.integers(-5, 25), st.integers(-1, 3), AWKWARD), max_size=8), WIDTHS)
def test_a_canvas_keeps_its_size_whatever_is_put(
    puts: list[tuple[int, int, str]], width: int
) -> None:
    canvas = Canvas(width, 3)
    for x, y, text in puts:
        canvas.put(x, y, text)
    assert [cell_len(line) for line in canvas.text()] == [width] * 3
    lines = canvas.lines(Paint())
    assert [as_text(line) for line in lines] == canvas.text()
    assert [sum(segment.cell_length for segment in line) for line in lines] == [width] * 3


@given(AWKWARD, AWKWARD, st.integers(-5, 25), WIDTHS)
def test_stamps_and_dots_keep_the_size_too(first: str, second: str, x: int, width: int) -> None:
    stamp = Canvas(4, 1)
    stamp.put(0, 0, second)
    canvas = Canvas(width, 1)
    canvas.put(0, 0, first)
    for place in (x, width - 1, width - 3):
        canvas.stamp(stamp, max(0, place), 0)
    canvas.dot(x, 0, "█", Ink())
    assert cell_len(canvas.text()[0]) == width


def test_half_a_wide_letter_turns_to_blank() -> None:
    canvas = Canvas(6, 1)
    canvas.put(0, 0, "変速機")
    canvas.put(1, 0, "x")
    assert canvas.text() == [" x速機"]
    canvas.put(5, 0, "速")
    assert canvas.text() == [" x速  "]


def test_put_over_leaves_what_is_under_its_blanks() -> None:
    canvas = Canvas(9, 1)
    canvas.put(0, 0, "╎" * 9)
    canvas.put_over(1, 0, "a bc", Ink())
    assert canvas.text() == ["╎a╎bc╎╎╎╎"]


def test_another_ground_changes_no_letter_and_no_role() -> None:
    canvas = Canvas(4, 2)
    canvas.put(0, 0, "abcd", Ink("due"))
    canvas.ground(1, 0, 2, 1, "pick")
    assert canvas.text()[0] == "abcd"
    assert [ink.ground for ink in canvas.inks[0]] == ["ground", "pick", "pick", "ground"]
    assert canvas.inks[0][1].role == "due"


def test_neighbours_of_one_ink_are_one_segment() -> None:
    canvas = Canvas(6, 1)
    canvas.put(0, 0, "ab", Ink("due"))
    canvas.put(2, 0, "cd", Ink("due"))
    assert [segment.text for segment in canvas.lines(Paint())[0]] == ["abcd", "  "]


@pytest.mark.parametrize("text, start", [("ab", 6), ("変", 6), ("", 8)])
def test_right_ends_where_it_is_told(text: str, start: int) -> None:
    assert Canvas(8, 1).right(8, 0, text) == start


def test_width_of_pieces_counts_cells() -> None:
    assert width_of([("ab", Ink()), ("変", Ink())]) == 4


def test_what_is_painted_later_lies_on_top_for_the_mouse_too() -> None:
    canvas = Canvas(20, 4)
    canvas.spot(0, 1, (20, 2), "lane")
    canvas.spot(3, 2, (4, 1), "Enter")
    assert canvas.key_at(0, 1) == "lane"
    assert canvas.key_at(3, 2) == "Enter"
    assert canvas.key_at(7, 2) == "lane"
    assert canvas.key_at(3, 3) is None


@pytest.mark.parametrize(
    ("name", "key"),
    [("h", "h"), ("Enter", "Enter"), ("F1", "F1"), ("page up", "page up"), ("any key", "Esc"),
     ("1-6", None), ("up down", None), (f"{ON_SCREEN}lift 12", f"{ON_SCREEN}lift 12")],
)  # fmt: skip
def test_a_name_on_the_screen_is_pressed_where_it_is_one_key(name: str, key: str | None) -> None:
    found = by_mouse(name)
    assert (found and found.key) == key
