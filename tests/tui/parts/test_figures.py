from __future__ import annotations

import pytest

from tui.parts.figures import has_figures, tall


@pytest.mark.parametrize("scale, rows", [(1, 3), (2, 5)])
@pytest.mark.parametrize("text", ["1:12", "0:00", "26:45", "7"])
def test_figures_are_of_one_height_and_width(text: str, scale: int, rows: int) -> None:
    lines = tall(text, scale)
    assert len(lines) == rows
    assert len({len(line) for line in lines}) == 1


def test_no_two_figures_look_alike() -> None:
    assert len({tuple(tall(str(digit))) for digit in range(10)}) == 10


def test_a_figure_is_drawn_as_expected() -> None:
    assert tall("5") == ["█▀▀", "▀▀█", "▀▀▀"]
    assert tall("1:1") == ["▄█  ▄ ▄█ ", " █  ▄  █ ", "▀▀▀   ▀▀▀"]


def test_letters_have_no_figures() -> None:
    assert has_figures("12")
    assert not has_figures("A1")
    assert not has_figures("")
