"""What the screen of special tools shows, as it is painted."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from store.views.parts_values import HireOut
from store.views.tools.hires_back import HireBack
from store.views.tools.values import KitNow, KitWanted, Tools, Verb
from tui import keys
from tui.parts.canvas import ON_SCREEN
from tui.parts.lines import Key

ROW = f"{ON_SCREEN}kit "
"""What a press of a line presses; then its name."""
FOLD = "at rest"
"""The name of the line that stands for all kits with nothing to do."""
BACK = "back "
"""Before the name of a hire that went back."""
Kind = Literal["loud", "moving", "rest", "fold", "back", "gap"]
GROUPS: tuple[tuple[str, tuple[Verb, ...]], ...] = (
    ("send back", ("OVERDUE", "SEND BACK")), ("extend", ("EXTEND",)),
    ("order", ("ASK",)), ("look at", ("RECEIVE", "NOT WHOLE", "CLASH", "CALL OFF", "OUT OF DATE")),
)  # fmt: skip
"""What a foreman asks, and the verbs that answer it."""


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the list: its name, what it is, and so many rows."""

    name: str
    kind: Kind
    height: int
    kit: KitNow | None = None
    back: HireBack | None = None


@dataclass(frozen=True, slots=True)
class Shown:
    """All kits, and the hires that went back and are not settled.

    Attributes:
        suppliers: whether any supplier is known, or anything was ever hired.
    """

    tools: Tools
    shop: str = ""
    back: tuple[HireBack, ...] = ()
    suppliers: bool = True

    @property
    def zone(self) -> str:
        """The shop's zone by its name."""
        return str(self.tools.calendar.zone)

    @property
    def wants(self) -> tuple[str, ...]:
        """Kits about which something is to be done, first things first."""
        return tuple(one.code for one in self.tools.kits if one.verb is not None)

    def kit(self, code: str | None) -> KitNow | None:
        """The kit of a code."""
        return next((one for one in self.tools.kits if one.code == code), None)

    def went_back(self, name: str | None) -> HireBack | None:
        """The hire that a line is about which went back."""
        return next((one for one in self.back if f"{BACK}{one.hire}" == name), None)


@dataclass(frozen=True, slots=True)
class ToolsState:
    """What the screen shows beside the kits themselves.

    Attributes:
        cursor: name of the line that one stands on.
        open: kits with nothing to do stand each on a line of its own.
        zoom: minutes a cell; None chooses.
        who: signed in, in words.
        stale: since when it could not be read.
    """

    cursor: str | None = None
    open: bool = False
    zoom: int | None = None
    who: str = ""
    said: str | None = None
    stale: str | None = None
    keys: tuple[Key, ...] = field(default_factory=lambda: keys.last_row(keys.TOOLS))


def at_rest(kit: KitNow) -> bool:
    """Whether nothing is to be done about it, it is nowhere in use, and nobody needs it."""
    return not (kit.verb or kit.hires or kit.needed_by or _used(kit))


def _used(kit: KitNow) -> bool:
    return kit.state not in ("free", "not hired", "")


def here_of(kit: KitNow) -> HireOut | None:
    """The hire of it that is here: the one that its line is about, else the first to go back."""
    here = [one for one in kit.hires if one.here]
    return next((one for one in here if one.hire == kit.hire), here[0] if here else None)


def asked_of(kit: KitNow) -> HireOut | None:
    """The hire of it that is still to come."""
    return next((one for one in kit.hires if one.received_at is None), None)


def next_need(kit: KitNow) -> KitWanted | None:
    """The stretch that needs it now or next."""
    return min(kit.needed_by, key=lambda one: (not one.begun, one.since), default=None)


HEIGHTS = ((3, 3), (3, 2), (3, 1), (2, 1))
"""Rows of a kit about which something is to be done, and of one that is about: as there is room."""


def rows_of(shown: Shown, state: ToolsState, room: int) -> list[Row]:
    """All lines in their order: what is to be done, what is about, what is at rest, what went
    back; as high as so many rows allow."""
    rows: list[Row] = []
    for heights in HEIGHTS:
        rows = _rows(shown, state, heights)
        if sum(row.height for row in rows) <= room:
            break
    return rows


def _rows(shown: Shown, state: ToolsState, heights: tuple[int, int]) -> list[Row]:
    kits = shown.tools.kits
    rest = [one for one in kits if at_rest(one)]
    about = [one for one in kits if not at_rest(one)]
    rows = [
        *(Row(one.code, "loud", heights[0], one) for one in about if one.verb),
        *(
            Row(one.code, "moving", min(heights[1], 3 if one.says else 2), one)
            for one in about
            if not one.verb
        ),
    ]
    if rest and state.open:
        rows += [Row(one.code, "rest", 1, one) for one in rest]
    elif rest:
        rows.append(Row(FOLD, "fold", 1))
    return [*rows, *(Row(f"{BACK}{one.hire}", "back", 1, back=one) for one in shown.back)]
