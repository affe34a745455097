"""Only cells that changed are sent."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len
from rich.segment import Segment
from rich.style import Style

from tui.parts.board import changed
from tui.parts.canvas import Line

PLAIN, BOLD = Style(), Style(bold=True)
LETTERS = st.text("ab 漢▸", max_size=12)


def test_equal_lines_send_nothing_however_they_are_cut() -> None:
    assert changed([Segment("abc", PLAIN)], [Segment("abc", PLAIN)]) is None
    assert changed([Segment("ab", PLAIN), Segment("c", PLAIN)], [Segment("abc", PLAIN)]) is None


def test_a_clocks_last_figure_is_one_cell() -> None:
    assert changed([Segment("1:12 on", PLAIN)], [Segment("1:13 on", PLAIN)]) == (3, 4)


def test_another_style_is_another_cell() -> None:
    assert changed([Segment("ab", PLAIN)], [Segment("a", PLAIN), Segment("b", BOLD)]) == (1, 2)


@given(LETTERS, LETTERS)
def test_outside_the_span_both_lines_show_the_same(old: str, new: str) -> None:
    before: Line = [Segment(old.ljust(20), PLAIN)]
    after: Line = [Segment(new.ljust(20), PLAIN)]
    span = changed(before, after)
    if span is None:
        assert old.ljust(20) == new.ljust(20)
        return
    start, end = span
    assert 0 <= start < end
    assert head(old.ljust(20), start) == head(new.ljust(20), start)
    if cell_len(old.ljust(20)) == cell_len(new.ljust(20)):
        assert tail(old.ljust(20), end) == tail(new.ljust(20), end)


def head(text: str, cells: int) -> str:
    found = ""
    for letter in text:
        if cell_len(found + letter) > cells:
            break
        found += letter
    return found


def tail(text: str, cells: int) -> str:
    found = text
    while found and cell_len(text) - cell_len(found) < cells:
        found = found[1:]
    return found
