"""What a screen adds to the floor's values: where one looks, who looks, what was just said."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from store.views.needs_values import HelpLine, Helps
from store.views.values import Floor, Want
from tui.parts.lines import Key
from tui.words import Chance

KEYS: tuple[Key, ...] = (
    Key("Enter", "open"),
    Key("n", "next that wants somebody", "next"),
    Key("a", "answer"),
    Key("m", "move"),
    Key("c", "call in"),
    Key("h", "hold"),
    Key("z", "zoom"),
    Key("F1", "help"),
)


@dataclass(frozen=True, slots=True)
class Trying:
    """An act that is looked at as if it were done.

    Attributes:
        before: the floor as it is.
        helps: the list that the act is in.
    """

    line: HelpLine
    before: Floor
    helps: Helps


@dataclass(frozen=True, slots=True)
class FloorState:
    """All defaults: nobody looks anywhere.

    Attributes:
        cursor: code of the lift one stands on.
        page: of lifts, from 0; a page beyond the last shows the last.
        zoom: minutes a cell; None chooses.
        want: the one that one was led to.
        who: of the reader, `Ruth, foreman`.
        said: what was just done or refused; instead of the ledger's newest line. A refusal
            begins with `!`.
        stale: the time of the values in words when the file can no longer be read, `10:41`.
        settled: chances as a live screen holds them, by job number.
        keys: key and words of the last line, the lift digits not among them.
        wall: for a wall: no keys, no lists but what wants somebody.
        trying: the floor is one that is not.
    """

    cursor: str | None = None
    page: int = 0
    zoom: int | None = None
    want: Want | None = None
    who: str = ""
    said: str | None = None
    stale: str | None = None
    settled: Mapping[str, Chance] = field(default_factory=dict[str, Chance])
    keys: tuple[Key, ...] = KEYS
    wall: bool = False
    trying: Trying | None = None
