"""A section of the card whose name stands once, left of its first row."""

from __future__ import annotations

from tui.colours import Ink
from tui.parts.canvas import Canvas
from tui.parts.sheet import Sheet

FIRST = 10
"""First cell beside the name."""


class Labelled:
    """Rows of one section; without rows there is no section."""

    def __init__(self, sheet: Sheet, name: str) -> None:
        self._sheet, self._name = sheet, name
        self._begun = False

    def row(self) -> Canvas:
        """The next row; the first carries the name, and a gap before it."""
        if self._begun:
            return self._sheet.block()
        self._begun = True
        self._sheet.gap()
        self._sheet.mark(self._name)
        row = self._sheet.block()
        row.put(1, 0, self._name, Ink("dim"))
        return row
