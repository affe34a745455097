"""What was found, as plain values, and how rarely it is found where nothing is."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

What = Literal["shop", "operation", "phase", "family", "person", "supplier", "promise", "held"]
Kind = Literal["level", "change", "trend"]
"""Off the book for as long as is known; other since a date; ever faster or slower."""

STRIP, OWN = "strip", "own"
"""Parts of a subject: a family's strip work; an operation's own phases, access left out."""

LOOKS_A_YEAR = 12
FALSE_A_YEAR = 0.1
"""Of shops in which nothing changes, so many are told of something false within a year."""
ALPHA = FALSE_A_YEAR / LOOKS_A_YEAR
"""Of one look at everything together: one in 120."""
OF_WORK, OF_SUPPLIERS, OF_ROWS = 0.7, 0.2, 0.1
"""How alpha is shared out: among all subjects of work alike, among suppliers, among promises and
reasons of holds."""
FEWEST = 5
"""Jobs on each side of a change, and of a level: three never make a verdict."""


@dataclass(frozen=True, slots=True)
class Found:
    """One thing that luck hardly explains.

    Attributes:
        part: `STRIP` or `OWN` where only that part of it is concerned; else empty.
        since: POSIX seconds from which on it holds; of a level and a trend the first phase.
        early, late: the change fell between them, in 9 of 10.
        before, after: labour / today's book hours, of the same work by the same hands; of a level
            `before` is what the rest takes. Days late, shares or hours of what is no work.
        book_h: usual hours of the book for it, of a phase; else 0.
        count_before, count_after: jobs; of a level `count_before` is 0.
        chance: at most so often would luck alone find something as loud, anywhere in the shop.
    """

    kind: Kind
    what: What
    code: str
    part: str
    since: float
    early: float
    late: float
    before: float
    after: float
    book_h: float
    count_before: int
    count_after: int
    chance: float


@dataclass(frozen=True, slots=True)
class Search:
    """What a search gave. `watched`: how many subjects were looked at."""

    found: tuple[Found, ...]
    watched: int
