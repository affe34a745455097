"""What is true of the demo shop and nobody there knows yet: planted in hours and dates only.

Whoever reads the shop's months should come upon it; no record says it, and no other part of the
program knows of it. Another story, or none, can be given to `make_demo` in its place.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from demo.people import NOOR


@dataclass(frozen=True, slots=True)
class Tool:
    """A new tool.

    Attributes:
        phase: code of the phase that it makes faster.
        since: first day with it.
        factor: hours with it against hours without.
    """

    phase: str
    since: date
    factor: float


@dataclass(frozen=True, slots=True)
class Learning:
    """An apprentice who leads simple phases, slowly at first.

    Attributes:
        since: first day of leading.
        until: from here on the pace stays `last`.
        first, last: hours against their own pace in `demo.people`.
        leads: codes of the phases, all of which need no qualification.
    """

    badge: str
    since: date
    until: date
    first: float
    last: float
    leads: frozenset[str]

    def factor(self, day: date) -> float:
        """Return the hours against their own pace: `first`, then in equal steps to `last`."""
        share = (day - self.since) / (self.until - self.since)
        return self.first + (self.last - self.first) * min(1.0, max(0.0, share))


@dataclass(frozen=True, slots=True)
class Story:
    """What is to be found.

    Attributes:
        books: operations whose book is wrong: true hours of their own phases against it.
        tools: see `Tool`.
        rust: families that rust: true hours of their strip work against that of others.
        learning: see `Learning`.
        late: suppliers that are late more often than theirs: odds of a day at least.
    """

    books: Mapping[str, float] = field(default_factory=dict[str, float])
    tools: tuple[Tool, ...] = ()
    rust: Mapping[str, float] = field(default_factory=dict[str, float])
    learning: tuple[Learning, ...] = ()
    late: Mapping[str, float] = field(default_factory=dict[str, float])

    def factor(self, code: str, phase_class: str, family: str, badge: str, day: date) -> float:
        """Return what the story makes of the true hours of a phase that is begun on a day.

        Args:
            code: of the phase; those of an operation begin with the operation's two letters.
            badge: whoever leads it.
        """
        factor = self.books.get(code[:2], 1.0)
        if phase_class == "strip":
            factor *= self.rust.get(family, 1.0)
        for tool in self.tools:
            if tool.phase == code and day >= tool.since:
                factor *= tool.factor
        for one in self.learning:
            if one.badge == badge:
                factor *= one.factor(day)
        return factor

    def lets_lead(self, badge: str, code: str, day: date) -> bool:
        """Tell whether an apprentice leads a phase on a day."""
        return any(
            one.badge == badge and day >= one.since and code in one.leads for one in self.learning
        )


NO_STORY = Story()
"""Nothing to be found."""
STORY = Story(
    books={"TC": 1.3},
    tools=(Tool("GB-on", date(2026, 3, 2), 0.7),),
    rust={"B4-M-F": 1.4},
    learning=(
        Learning(
            NOOR.badge, date(2025, 10, 6), date(2026, 8, 3), 1.45, 0.87, frozenset(
                f"{access}-{way}" for access in ("PS", "FW", "CO", "FR", "TP")
                for way in ("off", "on")
            ),
        ),
    ),
    late={"Kade kits": 0.34},
)  # fmt: skip
"""Of the demo that everybody opens."""
