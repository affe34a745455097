"""A page longer than the screen: rows and blocks one under another, of which a part is shown."""

from __future__ import annotations

from tui.parts.canvas import Canvas


class Sheet:
    """Blocks of one width, from the top down."""

    __slots__ = ("blocks", "marks", "width")

    def __init__(self, width: int) -> None:
        self.width = width
        self.blocks: list[Canvas] = []
        self.marks: list[tuple[str, int]] = []
        """Names of sections and the rows in which they begin."""

    def block(self, height: int = 1) -> Canvas:
        """A new block under the last one, to be painted on."""
        made = Canvas(self.width, height)
        self.blocks.append(made)
        return made

    def gap(self) -> None:
        """An empty row, unless the page is still empty."""
        if self.blocks:
            self.block()

    def mark(self, name: str) -> None:
        """A section begins with the next block."""
        self.marks.append((name, self.height))

    @property
    def height(self) -> int:
        """Rows of the whole page."""
        return sum(block.height for block in self.blocks)

    def show(self, canvas: Canvas, at: tuple[int, int], rows: int, scroll: int) -> None:
        """Stamp `rows` rows of the page from row `scroll` on."""
        x, y = at
        window = Canvas(self.width, rows)
        row = -scroll
        for block in self.blocks:
            if -block.height < row < rows:
                window.stamp(block, 0, row)
            row += block.height
        canvas.stamp(window, x, y)


def last_scroll(sheets: tuple[Sheet, ...], rows: int) -> int:
    """The farthest scroll that still fills the window, 0 where all fits."""
    return max(0, *(sheet.height - rows for sheet in sheets))
