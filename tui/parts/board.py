"""A widget that shows painted lines and sends only the cells that changed."""

from __future__ import annotations

from collections.abc import Sequence

from rich.cells import cell_len
from rich.style import Style
from textual.geometry import Region
from textual.message import Message
from textual.strip import Strip
from textual.widget import Widget

from tui.parts.canvas import Line


class Board(Widget):
    """The whole screen as lines. It never takes the focus: moving the focus repaints everything."""

    DEFAULT_CSS = """
    Board { width: 1fr; height: 1fr; }
    """

    class Resized(Message):
        """The board has another size: paint anew."""

    def __init__(self) -> None:
        super().__init__()
        self._lines: Sequence[Line] = ()
        self.refreshed = 0
        """How often cells were sent."""

    @property
    def lines(self) -> Sequence[Line]:
        """What is shown."""
        return self._lines

    def show(self, lines: Sequence[Line]) -> None:
        """Show these lines; equal ones send nothing."""
        before, self._lines = self._lines, lines
        if len(before) != len(lines):
            self.refreshed += 1
            self.refresh()
            return
        for y, (old, new) in enumerate(zip(before, lines, strict=True)):
            span = changed(old, new)
            if span is not None:
                self.refreshed += 1
                self.refresh(Region(span[0], y, span[1] - span[0], 1))

    def render_line(self, y: int) -> Strip:
        """One line as Textual wants it."""
        width = self.size.width
        if y >= len(self._lines):
            return Strip.blank(width)
        return Strip(self._lines[y]).adjust_cell_length(width)

    def on_resize(self) -> None:
        """Ask for lines of the new size."""
        self.post_message(self.Resized())


def changed(old: Line, new: Line) -> tuple[int, int] | None:
    """The first cell in which two lines differ, and the one after the last; None for equal ones."""
    if old == new:
        return None
    before, after = _letters(old), _letters(new)
    shared = min(len(before), len(after))
    first = next((n for n in range(shared) if before[n] != after[n]), shared)
    last = next(
        (n for n in range(shared - first) if before[-1 - n] != after[-1 - n]), shared - first
    )
    start = _width(after[:first])
    end = _width(after[: len(after) - last])
    old_end = _width(before[: len(before) - last])
    return (start, max(end, old_end)) if max(end, old_end) > start else None


def _letters(line: Line) -> list[tuple[str, Style | None]]:
    return [(letter, segment.style) for segment in line for letter in segment.text]


def _width(letters: Sequence[tuple[str, Style | None]]) -> int:
    return cell_len("".join(letter for letter, _ in letters))
