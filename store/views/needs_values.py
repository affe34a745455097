"""What the views of open acts give: frozen values, no markup.

Hours are open hours of the shop; a lift-day is a shop day for which a lift stands for nothing.
"""

from __future__ import annotations

import shlex
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import Literal

from store.rules.acts import Act, ActKind
from store.sums.working_time import Calendar
from store.views.values import Floor

NeedWord = Literal[
    "ANSWER", "SIGN", "DECIDE", "READING", "HELD", "NOBODY", "FREE", "CLEAR", "PARTS", "KIT HERE",
    "SEND BACK", "EXTEND", "ASK", "CALL", "CHASE", "JUDGE", "QUOTE", "ASSIGN", "CLOCK",
    "LOOK OVER", "INSPECT", "LINE",
]  # fmt: skip
WORDS: dict[ActKind, NeedWord] = {
    "answer": "ANSWER", "sign": "SIGN", "decide": "DECIDE", "let stand": "READING",
    "release": "HELD", "person": "NOBODY", "bring in": "FREE", "clear": "CLEAR", "parts": "PARTS",
    "kit here": "KIT HERE", "kit back": "SEND BACK", "kit keep": "EXTEND", "kit ask": "ASK",
    "call": "CALL", "chase": "CHASE",
    "judge": "JUDGE", "quote": "QUOTE", "assign": "ASSIGN", "clock": "CLOCK",
    "look over": "LOOK OVER", "inspect": "INSPECT",
    "line": "LINE",
}  # fmt: skip
"""Loud words for lists and lanes."""


@dataclass(frozen=True, slots=True)
class Need:
    """Something that somebody must do, and the act by which it is done.

    Attributes:
        vehicle: how people call it; None where it is about no job.
        lift_days: that waiting costs, likely; None where it is about no lift.
        gain: promises kept more if it were done now; None where that was not reckoned.
        due: it is due today or was due before.
    """

    act: Act
    vehicle: str | None
    lift_days: float | None
    gain: float | None
    due: bool

    @property
    def word(self) -> NeedWord:
        """The loud word."""
        return WORDS[self.act.kind]

    @property
    def command(self) -> str:
        """The command that does it, to be copied; words in capitals are to be filled in."""
        return _typed(self.act.command)

    @property
    def other(self) -> str | None:
        """The command that answers it otherwise; None where there is one way only."""
        return _typed(self.act.other) if self.act.other else None

    @property
    def fill(self) -> tuple[str, ...]:
        """What of the command is to be filled in."""
        return tuple(shown(one) for one in self.act.command if shown(one) != one)


def _typed(command: Sequence[str]) -> str:
    return shlex.join(["hoistbook", *(shown(one) for one in command)])


def shown(word: str) -> str:
    """Return a word of a command as people see it: without the mark of what is filled in."""
    if word.startswith("--"):
        return word
    before, sign, after = word.partition("=-")
    return f"{before}={after}" if sign else word.removeprefix("-")


@dataclass(frozen=True, slots=True)
class Needs:
    """Who must do what by when, what matters most first.

    Attributes:
        helped_at: when gains were reckoned last; None where they never were.
    """

    at: datetime = field(compare=False)
    calendar: Calendar = field(compare=False)
    needs: tuple[Need, ...] = ()
    helped_at: datetime | None = None


@dataclass(frozen=True, slots=True)
class ChanceMoved:
    """The chance that a job's promise is kept, before and after an act."""

    job: str
    vehicle: str
    before: float
    after: float


@dataclass(frozen=True, slots=True)
class OutMoved:
    """When a job on a lift is likely to leave it, before and after an act."""

    job: str
    lift: str
    before: datetime
    after: datetime


@dataclass(frozen=True, slots=True)
class HelpLine:
    """One act that helps.

    Attributes:
        place: its number in the list, from 1.
        gain: promises kept more, in expectation.
        lift_h: open hours of a lift that it saves, likely.
        frees: promised jobs whose chance moves, the most moved first.
        outs: lifts that would be free at another time, the most moved first.
        refused_gain: the same as `gain` where the customer says no; None for any other act.
        told: it can be tried: what would become of every job is known.
    """

    place: int
    need: Need
    gain: float
    lift_h: float
    frees: tuple[ChanceMoved, ...]
    outs: tuple[OutMoved, ...] = ()
    refused_gain: float | None = None
    refused: tuple[ChanceMoved, ...] = ()
    told: bool = True


@dataclass(frozen=True, slots=True)
class NextFree:
    """The lift that is likely to be free first, and when."""

    lift: str
    job: str | None
    middle: datetime | None


@dataclass(frozen=True, slots=True)
class Helps:
    """What helps most, best first; empty when nothing is worth a line.

    Attributes:
        seq: the entry of the ledger at which it was reckoned; None where it never was.
        made_at: when.
        age_h: open hours since then.
        behind: entries that came since.
        comes: what comes next where nobody is needed.
    """

    at: datetime = field(compare=False)
    calendar: Calendar = field(compare=False)
    lines: tuple[HelpLine, ...] = ()
    seq: int | None = None
    made_at: datetime | None = None
    age_h: float = field(default=0.0, compare=False)
    behind: int = 0
    comes: NextFree | None = None


@dataclass(frozen=True, slots=True)
class Tried:
    """The floor as it is and as if an act were done now: nothing is written."""

    line: HelpLine
    before: Floor
    after: Floor


@dataclass(frozen=True, slots=True)
class Link:
    """One link of a chain of causes, read downwards.

    Attributes:
        depth: how far it is set in; 0 is the job that waits.
        job, lift, kit: what it is about.
        until: when it is likely to be over.
        need: what somebody can do about it now.
        gain, lift_h: what that act is worth, where it was reckoned.
    """

    depth: int
    says: str
    job: str | None = None
    lift: str | None = None
    kit: str | None = None
    until: datetime | None = None
    need: Need | None = None
    gain: float | None = None
    lift_h: float | None = None


@dataclass(frozen=True, slots=True)
class Chain:
    """What one job waits for, down to what somebody can do now."""

    job: str
    vehicle: str
    promise: datetime | None
    promise_chance: float | None
    links: tuple[Link, ...]


@dataclass(frozen=True, slots=True)
class Why:
    """What waits for what, and under it all acts that help, best first."""

    at: datetime = field(compare=False)
    calendar: Calendar = field(compare=False)
    chains: tuple[Chain, ...] = ()
    helps: tuple[HelpLine, ...] = ()
