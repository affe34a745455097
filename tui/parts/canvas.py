"""A sheet of cells to paint on: exactly as wide and high as asked for, whatever the text is."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache
from typing import NamedTuple

from rich.cells import cell_len, get_character_cell_size, split_graphemes
from rich.segment import Segment

from tui.colours import Ground, Ink, Paint
from tui.words import plain

Line = list[Segment]
Piece = tuple[str, Ink]
"""A text and its ink; pieces in a row make a line of several colours."""

BLANK = Ink("text")
ON_SCREEN = "on screen "
"""Keys that only a mouse presses begin so: a lift, a line of a list; then which."""


class Spot(NamedTuple):
    """Cells that a mouse can press, and the key that they stand for."""

    x: int
    y: int
    width: int
    height: int
    key: str

    def holds(self, x: int, y: int) -> bool:
        """Whether a cell is one of them."""
        return 0 <= x - self.x < self.width and 0 <= y - self.y < self.height


@lru_cache(maxsize=2048)
def _is_narrow(text: str) -> bool:
    """Whether every letter is shown, alone in one cell."""
    return text.isprintable() and all(get_character_cell_size(letter) == 1 for letter in text)


class Canvas:
    """Cells with their inks. What is put outside is cut off; half a wide letter turns to blank."""

    __slots__ = ("height", "inks", "letters", "spots", "width")

    def __init__(self, width: int, height: int, ink: Ink = BLANK) -> None:
        self.width = width
        self.height = height
        self.letters = [[" "] * width for _ in range(height)]
        self.inks = [[ink] * width for _ in range(height)]
        self.spots: list[Spot] = []

    def put(self, x: int, y: int, text: str, ink: Ink = BLANK) -> int:
        """Write from a cell on; returns the cell after the text."""
        if _is_narrow(text):
            return self._put_narrow(x, y, text, ink)
        text = plain(text)
        for start, end, size in split_graphemes(text)[0]:
            if size:
                self._put_letter(x, y, text[start:end], size, ink)
                x += size
        return x

    def dot(self, x: int, y: int, letter: str, ink: Ink) -> None:
        """One letter of one cell; the quick way for bands."""
        if 0 <= x < self.width and 0 <= y < self.height:
            letters = self.letters[y]
            self._mend(letters, x, x + 1)
            letters[x] = letter
            self.inks[y][x] = ink

    def _put_narrow(self, x: int, y: int, text: str, ink: Ink) -> int:
        end = x + len(text)
        first, last = max(x, 0), min(end, self.width)
        if 0 <= y < self.height and first < last:
            letters = self.letters[y]
            self._mend(letters, first, last)
            letters[first:last] = text[first - x : last - x]
            self.inks[y][first:last] = [ink] * (last - first)
        return end

    def _put_letter(self, x: int, y: int, letter: str, size: int, ink: Ink) -> None:
        if not 0 <= y < self.height or x >= self.width or x + size <= 0:
            return
        letters = self.letters[y]
        first, last = max(x, 0), min(x + size, self.width)
        self._mend(letters, first, last)
        whole = first == x and last == x + size
        letters[first] = letter if whole else " "
        for rest in range(first + 1, last):
            letters[rest] = "" if whole else " "
        self.inks[y][first:last] = [ink] * (last - first)

    def _mend(self, letters: list[str], first: int, last: int) -> None:
        """Blank the halves of wide letters that a text over cells `first` to `last` would cut."""
        if letters[first] == "":
            letters[first - 1] = " "
        if last < self.width and letters[last] == "":
            letters[last] = " "

    def put_over(self, x: int, y: int, text: str, ink: Ink) -> int:
        """The same, but blanks of the text leave what is under them."""
        for word, start in _words(plain(text)):
            self.put(x + start, y, word, ink)
        return x + cell_len(plain(text))

    def pieces(self, x: int, y: int, pieces: Iterable[Piece]) -> int:
        """Write pieces one after another; returns the cell after them."""
        for text, ink in pieces:
            x = self.put(x, y, text, ink)
        return x

    def right(self, end: int, y: int, text: str, ink: Ink = BLANK) -> int:
        """Write so that the text ends before cell `end`; returns its first cell."""
        start = end - cell_len(plain(text))
        self.put(start, y, text, ink)
        return start

    def fill(self, x: int, y: int, width: int, ink: Ink, letter: str = " ") -> None:
        """The same one-cell letter over some cells."""
        if width > 0:
            self.put(x, y, letter * width, ink)

    def ground(self, x: int, y: int, width: int, height: int, ground: Ground) -> None:
        """Lay another ground under what stands there."""
        for inks in self.inks[max(y, 0) : y + height]:
            last = min(x + width, self.width)
            inks[x:last] = [ink._replace(ground=ground) for ink in inks[x:last]]

    def stamp(self, other: Canvas, x: int, y: int) -> None:
        """Lay another sheet over this one, cut off at the edges."""
        last = min(self.width, x + other.width)
        if last <= x:
            return
        for row in range(max(0, -y), min(other.height, self.height - y)):
            letters, theirs = self.letters[y + row], other.letters[row]
            self._mend(letters, x, last)
            letters[x:last] = theirs[: last - x]
            if last - x < other.width and theirs[last - x] == "":
                letters[last - 1] = " "
            self.inks[y + row][x:last] = other.inks[row][: last - x]

    def spot(self, x: int, y: int, size: tuple[int, int], key: str) -> None:
        """Make cells, so many wide and high, press a key; what is painted later lies on top."""
        self.spots.append(Spot(x, y, *size, key))

    def key_at(self, x: int, y: int) -> str | None:
        """The key that a cell stands for."""
        return next((spot.key for spot in reversed(self.spots) if spot.holds(x, y)), None)

    def text(self) -> list[str]:
        """The lines as plain text, each exactly `width` cells."""
        return ["".join(row) for row in self.letters]

    def lines(self, paint: Paint) -> list[Line]:
        """The lines as segments, as few as possible."""
        return [
            _line(letters, inks, paint)
            for letters, inks in zip(self.letters, self.inks, strict=True)
        ]


def _line(letters: Sequence[str], inks: Sequence[Ink], paint: Paint) -> Line:
    line: Line = []
    start, now = 0, inks[0] if inks else BLANK
    for cell, ink in enumerate(inks):
        if ink is not now and ink != now:
            line.append(Segment("".join(letters[start:cell]), paint.style(now)))
            start, now = cell, ink
    line.append(Segment("".join(letters[start:]), paint.style(now)))
    return line


def _words(text: str) -> list[tuple[str, int]]:
    """The words of a text, each with the cell it starts in."""
    found: list[tuple[str, int]] = []
    cell = 0
    for part in text.split(" "):
        if part:
            found.append((part, cell))
        cell += cell_len(part) + 1
    return found


def width_of(pieces: Iterable[Piece]) -> int:
    """Cells that pieces take."""
    return sum(cell_len(text) for text, _ in pieces)


def as_text(line: Line) -> str:
    """A painted line without its colours."""
    return "".join(segment.text for segment in line)
