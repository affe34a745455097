"""What the desk shows, as it is painted: groups of lines, and what the screen adds to them."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime

from tui import keys
from tui.colours import Role
from tui.parts.canvas import ON_SCREEN
from tui.parts.lines import Key
from tui.signs import State

ROW = f"{ON_SCREEN}row "
"""What a press of a line presses; then the number of its job."""


@dataclass(frozen=True, slots=True)
class Row:
    """One job that is not on a lift.

    Attributes:
        vehicle: how it is called.
        plate: its number plate, where that is no part of it.
        about: what is wrong with it, or its work.
        state, role: its sign and the colour of that.
        says: what it waits for, in words.
        loud: the loud word, where it wants somebody now; "" else.
        told: more of it, one sentence each, for whoever stands on it.
    """

    job: str
    vehicle: str
    about: str
    state: State
    says: str
    loud: str = ""
    role: Role = "text"
    told: tuple[str, ...] = ()
    plate: str = ""


@dataclass(frozen=True, slots=True)
class Group:
    """Lines that wait for the same thing; `more` are not shown."""

    name: str
    rows: tuple[Row, ...]
    more: int = 0


@dataclass(frozen=True, slots=True)
class Shown:
    """The whole desk.

    Attributes:
        wants: numbers of the jobs that want somebody, the most urgent first.
        counts: what is to be done today, each in a few words and in fewer: `2 calls to return`,
            `2 to ring`.
        next: what comes first where nothing is wanted; "" where nothing comes.
    """

    shop: str
    at: datetime = field(compare=False)
    zone: str = "UTC"
    groups: tuple[Group, ...] = ()
    wants: tuple[str, ...] = ()
    counts: tuple[tuple[str, str], ...] = ()
    next: str = ""

    @property
    def rows(self) -> tuple[Row, ...]:
        """All lines in their order."""
        return tuple(row for group in self.groups for row in group.rows)

    def row(self, job: str | None) -> Row | None:
        """The line of a job."""
        return next((row for row in self.rows if row.job == job), None)


@dataclass(frozen=True, slots=True)
class DeskState:
    """What the screen shows beside the desk itself.

    Attributes:
        cursor: the job that one stands on; None where there is none.
        who: signed in, in words.
        said: what was just done or refused.
        stale: since when it could not be read.
    """

    cursor: str | None = None
    who: str = ""
    said: str | None = None
    stale: str | None = None
    keys: tuple[Key, ...] = keys.last_row(keys.DESK)
