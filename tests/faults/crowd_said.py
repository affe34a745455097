"""What each terminal of a crowd writes down: a line of JSON for each act and each look."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any


@dataclass(frozen=True, slots=True)
class Did:
    """An act. Instants in seconds of the machine's steady clock, one for all processes.

    Attributes:
        key: of the act, made before it began.
        recorded: entries that were acknowledged.
        refused: class of what refused it; empty where nothing did.
        says: what whoever did it was told.
        again: it was done before, with its answer thrown away.
        wanted, had, over: the write lock was wanted, was had, was let go; zeros where never.
    """

    terminal: str
    key: str
    name: str
    recorded: tuple[int, ...]
    refused: str
    says: str
    again: bool
    wanted: float
    had: float
    over: float


@dataclass(frozen=True, slots=True)
class Saw:
    """A look.

    Attributes:
        what: `tables` or the name of a view.
        seqs: newest entry of the ledger in each look that it took.
        after: newest entry right after it.
        now: instant for which the view was asked, as text.
        badge: whose bay.
        digest: SHA-256 of everything that was seen.
    """

    terminal: str
    what: str
    seqs: tuple[int, ...]
    after: int
    now: str
    badge: str
    digest: str


@dataclass(frozen=True, slots=True)
class Fell:
    """A terminal stumbled over something that is no refusal."""

    terminal: str
    says: str


Line = Did | Saw | Fell
KINDS: dict[str, type[Did] | type[Saw] | type[Fell]] = {"did": Did, "saw": Saw, "fell": Fell}

LISTS = {"recorded", "seqs"}
"""Fields that are tuples, which JSON does not know."""


def written(line: Line) -> str:
    """A line as it stands in the file."""
    return json.dumps({"kind": type(line).__name__.lower(), **asdict(line)}) + "\n"


def read(folder: Path) -> Iterator[Line]:
    """Every line of every terminal."""
    for path in sorted(folder.glob("*.said")):
        for text in path.read_text("utf-8").splitlines():
            yield _line(json.loads(text))


def _line(said: dict[str, Any]) -> Line:
    kind: Any = KINDS[said.pop("kind")]
    line: Line = kind(
        **{name: said[name] for name in said.keys() - LISTS},
        **{name: tuple(said[name]) for name in said.keys() & LISTS},
    )
    return line
