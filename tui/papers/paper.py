"""A paper as a row of blocks: what it says, not how it looks."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias


@dataclass(frozen=True, slots=True)
class Heading:
    """Begins a section."""

    text: str


@dataclass(frozen=True, slots=True)
class Words:
    """A paragraph. `note`: small print."""

    text: str
    note: bool = False


@dataclass(frozen=True, slots=True)
class Facts:
    """Things by their names."""

    rows: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Items:
    """A list."""

    texts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a table. `void`: it counts no more, and says so in its words."""

    cells: tuple[str, ...]
    void: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under heads; each row is named by its first cell."""

    caption: str
    heads: tuple[str, ...]
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True)
class Lines:
    """Lines to be signed by hand, with what stands under each."""

    under: tuple[str, ...]


Block: TypeAlias = "Heading | Words | Facts | Items | Table | Lines"


@dataclass(frozen=True, slots=True)
class Paper:
    """A whole paper.

    Attributes:
        title: what it is; `about` which job and vehicle.
        foot: stands at its end: who it is from, when it was written.
    """

    title: str
    about: str
    blocks: tuple[Block, ...]
    foot: str
