"""Acts that are open to somebody now: what, to which job, who may, by when, and how it is done."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from store.sums.working_time import Calendar

ActKind = Literal[
    "answer", "sign", "decide", "let stand", "release", "person", "bring in", "clear", "parts",
    "kit here", "kit back", "kit keep", "kit ask", "call", "chase", "judge", "quote", "assign",
    "clock", "look over",
    "inspect", "line",
]  # fmt: skip
"""`answer`: the customer's word on extra work; `sign`: another person's name under a hold point;
`let stand`: a reading outside its limits is decided; `release`: what holds has ended, or is asked
after; `person`:
somebody on a job that could go on; `clear`: off its lift; `chase`: outwork asked after;
`clock`: one left running is put right; `line`: a job comes in before the one ahead of it."""

MINUTES: Mapping[ActKind, int] = {
    "answer": 5, "sign": 5, "decide": 10, "let stand": 10, "release": 5, "person": 5,
    "bring in": 15, "clear": 40, "parts": 10, "kit here": 15, "kit back": 15, "kit keep": 5,
    "kit ask": 5, "call": 5,
    "chase": 5, "judge": 10, "quote": 20, "assign": 2, "clock": 2, "look over": 5, "inspect": 60,
    "line": 2,
}  # fmt: skip
"""How long it takes somebody. Common practice, no source."""

MOVES: frozenset[ActKind] = frozenset(
    {"answer", "sign", "let stand", "release", "person", "bring in", "clear", "line"}
)
"""Acts after which a forecast is other at once; all others only begin something."""


def ends_later(expected: datetime | None, now: datetime, calendar: Calendar) -> bool:
    """Whether what holds is said to end on a later day: nobody is needed before that day."""
    return expected is not None and calendar.day_of(expected) > calendar.day_of(now)


@dataclass(frozen=True, slots=True)
class Act:
    """One act that somebody could do now.

    Attributes:
        lift: code of the lift it is about: where the job stands, or is to stand.
        place: code of the place it goes to.
        badge: whose badge the command names.
        who: who may do it, in words.
        by: until when it is wanted; None where nobody said.
        since: since when it is open.
        minutes: that it takes, typically.
        says: what it is about, in words.
        command: words after `hoistbook` that do it; what stands there in capitals with a hyphen
            before it is for whoever does it to fill in.
        ends: holds that it ends: reason, and since when (POSIX seconds).
        hours: labour that a no of the customer would spare.
        owed_since: since when (POSIX seconds) a second name is owed once it is done.
        line: of the extra work, the part or the hire, where it is about one; the job before which
            one comes in.
        stuck: nothing of the job can go on before it.
        other: words of a command that answers it otherwise: a no, a reading measured again, a
            part that is there after all.
    """

    kind: ActKind
    job: str | None
    phase: str | None
    step: str | None
    lift: str | None
    place: str | None
    badge: str | None
    who: str
    by: datetime | None
    since: datetime | None
    minutes: int
    says: str
    command: tuple[str, ...]
    ends: tuple[tuple[str, float], ...] = ()
    hours: float = 0.0
    owed_since: float | None = None
    line: str | None = None
    stuck: bool = False
    other: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """It, and no other act that is open at the same time, is called so."""
        about = (self.job, self.phase, self.step, self.line, self.place or self.lift)
        return " ".join((self.kind.replace(" ", "-"), *(one or "-" for one in about)))

    @property
    def ending(self) -> tuple[str, ...]:
        """Words of the command after which the shop is as if it were done.

        Asking after a part ends no hold: what is reckoned is the part that is there.
        """
        return self.other if self.command[0] == "hold" else self.command

    @property
    def where(self) -> str | None:
        """`2417.4.3`, as far as it names any of it."""
        if self.job is None:
            return None
        return ".".join(one for one in (self.job, self.phase, self.step) if one is not None)
