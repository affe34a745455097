"""QR codes (ISO/IEC 18004) as letters of a terminal, and as one path of a picture.

The making of the squares is left to a library that is imported when one is wanted.
"""

from __future__ import annotations

from collections.abc import Sequence

QUIET = 4
"""Light modules around a code, as the standard asks for."""
HALVES = " ▀▄█"
"""Two modules above each other: none, the upper, the lower, both."""
ON_PAPER = "\x1b[30;107m"
"""Black on bright white, whatever the terminal's own colours are (ECMA-48)."""
PLAIN = "\x1b[0m"
Modules = Sequence[Sequence[bool]]


def modules(text: str) -> Modules:
    """The squares of a text at level M, dark ones true, with the quiet zone around them."""
    import segno

    made = segno.make(text, micro=False, error="m", boost_error=False)
    return tuple(tuple(bool(one) for one in row) for row in made.matrix_iter(scale=1, border=QUIET))


def in_letters(rows: Modules, *, coloured: bool, light: bool, ascii_only: bool) -> list[str]:
    """The squares as lines of equal width.

    Args:
        coloured: black on white by the terminal's colours.
        light: without colours, letters are the light squares: as on a dark terminal. Else they
            are the dark ones: as on paper.
        ascii_only: two letters a square, for terminals without block signs.
    """
    inked = light and not coloured
    cells = [[one != inked for one in row] for row in rows]
    if ascii_only:
        lines = ["".join("##" if one else "  " for one in row) for row in cells]
    else:
        below = [*cells[1::2], *([[inked] * len(cells[0])] if len(cells) % 2 else [])]
        lines = [
            "".join(HALVES[up + 2 * down] for up, down in zip(*pair, strict=True))
            for pair in zip(cells[::2], below, strict=True)
        ]
    return [f"{ON_PAPER}{line}{PLAIN}" for line in lines] if coloured else lines


def width(rows: Modules, *, ascii_only: bool) -> int:
    """Columns that a code takes."""
    return len(rows[0]) * (2 if ascii_only else 1)


def path(rows: Modules) -> str:
    """The dark squares as the path of an SVG, a square being one unit wide (SVG 1.1, 8.3)."""
    found: list[str] = []
    for y, row in enumerate(rows):
        x = 0
        while x < len(row):
            end = x
            while end < len(row) and row[end]:
                end += 1
            if end > x:
                found.append(f"M{x} {y}h{end - x}v1h-{end - x}z")
            x = max(end, x + 1)
    return "".join(found)
