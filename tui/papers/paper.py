"""A paper as a row of blocks: what it says, not how it looks."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from tui.papers.pictures import Bars, Run, Strip


@dataclass(frozen=True, slots=True)
class Heading:
    """Begins a section. `id`: where a link leads."""

    text: str
    id: str = ""


@dataclass(frozen=True, slots=True)
class Words:
    """A paragraph. `note`: small print; `first`: what is read before all else; `link`: where the
    rows are that it is made of."""

    text: str
    note: bool = False
    first: bool = False
    link: str = ""


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
    """One row of a table. `void`: it counts no more, and says so in its words.

    Attributes:
        id: where a link leads.
        links: of each cell, where it leads, "" for nowhere; none at all where no cell has one.
        keys: of each cell, by what it is sorted where that is not its text.
    """

    cells: tuple[str, ...]
    void: bool = False
    id: str = ""
    links: tuple[str, ...] = ()
    keys: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under heads; each row is named by its first cell.

    Attributes:
        figures: columns (from 0) that hold figures, to be read from the right.
        id: where a link leads.
        sorts: its rows may be put in another order.
        folded: on a page only its caption shows until somebody wants its rows.
    """

    caption: str
    heads: tuple[str, ...]
    rows: tuple[Row, ...]
    figures: tuple[int, ...] = ()
    id: str = ""
    sorts: bool = False
    folded: bool = False


@dataclass(frozen=True, slots=True)
class Lines:
    """Lines to be signed by hand, with what stands under each."""

    under: tuple[str, ...]


Block: TypeAlias = "Heading | Words | Facts | Items | Table | Lines | Strip | Bars | Run"


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
