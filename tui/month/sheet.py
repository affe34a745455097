"""The page of a month: rows one under another, and which of them can be followed."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal, NamedTuple

from tui.colours import Ink
from tui.parts.canvas import Canvas, Piece, width_of
from tui.parts.lines import paint_rule, put_pieces
from tui.parts.sheet import Sheet
from tui.signs import Signs
from tui.words import wrapped

DIM, TEXT, BOLD = Ink("dim"), Ink("text"), Ink("text", bold=True)
Room = Literal["little", "some", "much"]
ROOMS: tuple[Room, ...] = ("little", "some", "much")
LEFT = 2
"""First cell of what is written; before it stands the mark of the line that one is on."""
LABEL = 9
"""Cells of a label at the left."""


class Stop(NamedTuple):
    """Rows of the page that can be followed, by the name of their figure."""

    name: str
    y: int
    height: int


class Page:
    """A page of one width that grows downwards.

    Attributes:
        stops: what can be followed, from the top.
        room: for how much there is room; only where there is much are rows left empty.
    """

    def __init__(self, width: int, signs: Signs, room: Room = "much") -> None:
        self.sheet, self.signs = Sheet(width), signs
        self.room: Room = room
        self.stops: list[Stop] = []

    @property
    def width(self) -> int:
        """Cells of a row."""
        return self.sheet.width

    def row(self, stop: str = "") -> Canvas:
        """A new row; `stop`: the figure that Enter follows from it."""
        y = self.sheet.height
        last = self.stops[-1] if self.stops else None
        if stop and last is not None and last.name == stop and last.y + last.height == y:
            self.stops[-1] = last._replace(height=last.height + 1)
        elif stop:
            self.stops.append(Stop(stop, y, 1))
        return self.sheet.block()

    def pieces(self, pieces: Sequence[Piece], stop: str = "", x: int = LEFT) -> None:
        """A row of pieces, cut where it ends."""
        put_pieces(self.row(stop), (x, 0), pieces, self.width - x - 1, self.signs)

    def words(self, text: str, ink: Ink = TEXT, stop: str = "", x: int = LEFT) -> None:
        """A text in as many rows as it takes."""
        for line in wrapped(text, max(8, self.width - x - 1)):
            self.row(stop).put(x, 0, line, ink)

    def labelled(self, label: str, text: str, stop: str = "", ink: Ink = TEXT) -> None:
        """A text beside its label; further rows below its words."""
        x = LEFT + LABEL
        for n, line in enumerate(wrapped(text, max(8, self.width - x - 1))):
            row = self.row(stop)
            if n == 0:
                row.put(LEFT, 0, label, BOLD)
            row.put(x, 0, line, ink)

    def told(self, left: Sequence[Piece], right: Sequence[Piece], stop: str = "") -> None:
        """Pieces at the left, others that end at the right edge."""
        row, end = self.row(stop), self.width - 1
        start = max(LEFT, end - width_of(right))
        put_pieces(row, (LEFT, 0), left, max(0, start - LEFT - 2), self.signs)
        put_pieces(row, (start, 0), right, end - start, self.signs)

    def gap(self, least: Room = "much") -> None:
        """An empty row, from so much room on."""
        if self.room in ROOMS[ROOMS.index(least) :]:
            self.sheet.gap()

    def rule(self, title: str) -> None:
        """A heading."""
        self.sheet.gap()
        paint_rule(self.row(), 0, (0, self.width), title, self.signs)

    def stop(self, name: str | None) -> Stop | None:
        """The rows of a figure."""
        return next((one for one in self.stops if one.name == name), None)
