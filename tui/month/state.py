"""What the screen of a month shows, as it is painted: a month, and how far down one went."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from store.views.month.told_values import ShouldSay
from store.views.month.values import Month, MonthListed
from store.views.month.way import Figure, Unit, Way
from tui import keys
from tui.parts.canvas import ON_SCREEN
from tui.parts.lines import Key

ROW = f"{ON_SCREEN}month "
"""What a press of a line presses; then its name."""
MOST_ADOPTED = 9
"""Digits there are for lines of the book."""


@dataclass(frozen=True, slots=True)
class Line:
    """One line of what a figure is made of.

    Attributes:
        unit: of its value and of what is below it.
        explained: what it is, in one sentence.
        lines: what is below it, where that is more than its ways.
    """

    way: Way
    unit: Unit = "h"
    explained: str = ""
    lines: tuple[Line, ...] = ()

    @property
    def below(self) -> tuple[Line, ...]:
        """What it is made of."""
        return self.lines or tuple(
            Line(one, self.unit) for one in self.way.ways if one.value != 0 or one.ways
        )


def of_figure(says: str, figure: Figure) -> Line:
    """A figure as a line."""
    return Line(Way(says, figure.value, ways=figure.ways), figure.unit, figure.explained)


def sum_line(says: str, lines: Iterable[Line], explained: str = "") -> Line:
    """A line over others of several units: it has no figure of its own."""
    return Line(Way(says), "n", explained, tuple(lines))


@dataclass(frozen=True, slots=True)
class Level:
    """One step down: what is followed, and the line of it that one stands on.

    Attributes:
        stop: the figure of the page that it began at.
    """

    line: Line
    stop: str
    at: int = 0

    @property
    def here(self) -> Line | None:
        """The line that one stands on."""
        below = self.line.below
        return below[min(self.at, len(below) - 1)] if below else None

    def stepped(self, by: int) -> Level:
        """The same, further up or down, as far as there are lines."""
        last = max(0, len(self.line.below) - 1)
        return replace(self, at=min(max(0, self.at + by), last))


@dataclass(frozen=True, slots=True)
class Shown:
    """A month as it was read.

    Attributes:
        found: None while it is read for the first time.
        months: those that there are, the newest first.
        book: the version of the work book that holds now; None where there is none.
        seq: the newest entry that it tells.
    """

    month: str
    months: tuple[MonthListed, ...]
    shop: str
    found: Month | None = None
    book: int | None = None
    seq: int = 0

    @property
    def sure(self) -> tuple[ShouldSay, ...]:
        """Lines of the book that a digit adopts."""
        every = self.found.should_say if self.found else ()
        return tuple(one for one in every if one.sure)[:MOST_ADOPTED]


@dataclass(frozen=True, slots=True)
class MonthState:
    """What the screen shows beside the month itself.

    Attributes:
        cursor: name of the figure that one stands on.
        scroll: rows of the page above the first one shown.
        path: steps down from a figure of the page; none on the page.
        who: signed in, in words.
        stale: since when it could not be read.
    """

    cursor: str | None = None
    scroll: int = 0
    path: tuple[Level, ...] = ()
    who: str = ""
    said: str | None = None
    stale: str | None = None
    keys: tuple[Key, ...] = field(default_factory=lambda: keys.last_row(keys.MONTH))
