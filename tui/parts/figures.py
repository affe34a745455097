"""Tall figures for clocks and lift numbers, of half blocks: to be read from across the bay."""

from __future__ import annotations

_DOTS = {
    "0": "### #.# #.# #.# ###",
    "1": ".#. ##. .#. .#. ###",
    "2": "### ..# ### #.. ###",
    "3": "### ..# .## ..# ###",
    "4": "#.# #.# ### ..# ..#",
    "5": "### #.. ### ..# ###",
    "6": "### #.. ### #.# ###",
    "7": "### ..# ..# ..# ..#",
    "8": "### #.# ### #.# ###",
    "9": "### #.# ### ..# ###",
    ":": ". # . # .",
    " ": ". . . . .",
}
"""Five rows of square dots a figure."""
_HALVES = {"..": " ", "#.": "▀", ".#": "▄", "##": "█"}


def has_figures(text: str) -> bool:
    """Whether every letter of the text can be drawn tall."""
    return bool(text) and all(letter in _DOTS for letter in text)


def tall(text: str, scale: int = 1) -> list[str]:
    """The text in three rows of half blocks (five at scale 2), all of one width.

    Raises:
        KeyError: a letter has no figure; see `has_figures`.
    """
    rows = [_dots(text, row, scale) for row in range(5) for _ in range(scale)]
    if len(rows) % 2:
        rows.append("." * len(rows[0]))
    return [
        "".join(_HALVES[upper + lower] for upper, lower in zip(above, below, strict=True))
        for above, below in zip(rows[::2], rows[1::2], strict=True)
    ]


def _dots(text: str, row: int, scale: int) -> str:
    """One row of dots of the whole text, figures one dot apart."""
    figures = (_DOTS[letter].split()[row] for letter in text)
    return "".join(dot * scale for dot in ".".join(figures))
