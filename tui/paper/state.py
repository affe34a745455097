"""What the grid shows: rows as they were typed, what they mean, and what is wrong with them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from store.edges.tables.paper_rows import PaperPage, RowRead, read_rows
from store.sums.clock_labour import labour_h
from store.views.paper import PaperView
from tui.parts.prompt import Field


@dataclass(frozen=True, slots=True)
class Grid:
    """The rows of a day.

    Attributes:
        typed: finished rows, as they were typed.
        here: the row that one is on; beyond the last one it is a new one.
        line: what stands in it.
        refused: why a row cannot be written, by its number from 1: what the shop says.
    """

    view: PaperView
    page: PaperPage
    typed: tuple[str, ...] = ()
    here: int = 0
    line: Field = field(default_factory=lambda: Field(""))
    refused: Mapping[int, str] = field(default_factory=dict[int, str])

    def read(self) -> tuple[list[RowRead | None], dict[int, str]]:
        """Rows as they mean, None where one cannot be read; and why, by number."""
        rows, faults = read_rows(self.typed, self.page)
        return rows, {**self.refused, **faults}

    def above(self) -> RowRead | None:
        """The row that fills in what the one at hand leaves out."""
        rows, _ = read_rows(self.typed[: self.here], self.page)
        return next((row for row in reversed(rows) if row is not None), None)

    def hours(self, row: RowRead) -> float:
        """Labour hours of a row, breaks off."""
        return labour_h(self.page.calendar, row.since, row.until, False)
