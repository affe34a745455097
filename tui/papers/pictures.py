"""Pictures of a paper as values: what they show, not how it is drawn."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

HALF, DOUBLE = 0.5, 2.0
"""Ends of a strip: labour half of what was told, and twice as much."""
NEAR = (0.8, 4 / 3)
"""Labour / estimate where the miss is a quarter of the labour: 1 / 1.25 and 1 / .75."""

Kind = Literal["text", "past", "running", "ahead", "behind", "blocked", "dim"]
"""A colour by what it is for."""


@dataclass(frozen=True, slots=True)
class Mark:
    """One job. `ratio`: labour / estimate, above 0; `link`: id of its row."""

    ratio: float
    says: str
    link: str = ""

    @property
    def near(self) -> bool:
        """Whether it came within a quarter."""
        return NEAR[0] <= self.ratio <= NEAR[1]


@dataclass(frozen=True, slots=True)
class Strip:
    """One mark a job between half and double. `says`: the same in words."""

    marks: tuple[Mark, ...]
    says: str


@dataclass(frozen=True, slots=True)
class Piece:
    """A stretch of a bar. `name`: what it is, the same in every bar."""

    name: str
    value: float
    kind: Kind


@dataclass(frozen=True, slots=True)
class Bar:
    """A bar of pieces one after another. `told`: its figure; `note`: what is said beside it."""

    name: str
    pieces: tuple[Piece, ...]
    told: str
    note: str = ""
    link: str = ""


@dataclass(frozen=True, slots=True)
class Bars:
    """Bars on one scale from 0. `legend`: pieces are named below. `says`: the same in words."""

    bars: tuple[Bar, ...]
    says: str
    legend: bool = False


@dataclass(frozen=True, slots=True)
class Point:
    """One point of a chart of individual values. `loud`: outside its limits."""

    label: str
    value: float
    says: str
    loud: bool = False


@dataclass(frozen=True, slots=True)
class Stretch:
    """Points `first` to `last` (numbers of points, both in it) with their middle and limits.

    Attributes:
        since: the day of the change that begins it; None for the first.
    """

    first: int
    last: int
    middle: float
    low: float
    high: float
    since: date | None = None


@dataclass(frozen=True, slots=True)
class Run:
    """A chart of individual values with limits and dated changes.

    Attributes:
        target: a line across, with its name: `as told` at 1.
        middle_says: what each stretch's middle is called.
        scale: values with their names, so that heights can be read.
    """

    name: str
    points: tuple[Point, ...]
    stretches: tuple[Stretch, ...]
    middle_says: tuple[str, ...]
    says: str
    target: tuple[float, str] | None = None
    scale: tuple[tuple[float, str], ...] = ()
