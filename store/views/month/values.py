"""The owner's month as the view gives it: frozen values, instants in UTC, shares 0 to 1.

What was spent and earned stands in `spent_values`, what is said about it (signals, what the
book should say, prices) in `told_values`.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Literal

from store.sums.accuracy import Accuracy
from store.sums.month.jobs import Change, Clocked, JobJudged, PhaseJudged
from store.sums.month.span import MonthSpan
from store.views.month.spent_values import Held, Hours, Lifts, Money, OddsSeen, Quotes
from store.views.month.told_values import Prices, ShouldSay, Signals
from store.views.month.way import Ranged, Share, Way

__all__ = [
    "Accuracy", "AccuracyLine", "Change", "ChangesAgreed", "Clocked", "JobJudged", "Month",
    "MonthListed", "PhaseJudged", "PromisesKept", "Ranged", "Share", "Way",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class AccuracyLine:
    """Accuracy of one operation, phase, family, lead technician, or month.

    Attributes:
        key: code, family, badge, month; `name` for people.
        says: one plain sentence; says so where there are too few.
        jobs: numbers of its jobs, the way down.
    """

    key: str
    name: str
    accuracy: Accuracy
    says: str
    jobs: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PromisesKept:
    """Promises of the jobs whose work was finished by the end, closed in the month.

    Attributes:
        kept: of those promised, finished by what was told last; `first`: by what was told first.
        likely: of those given at a chance, how many held, and how many should have.
        due: mean of those chances, 0 to 1.
        late: jobs that missed the last promise, the latest first.
        says: in words.
    """

    kept: Share | None
    first: Share | None
    likely: Share | None
    due: float | None
    late: tuple[Way, ...]
    says: str


@dataclass(frozen=True, slots=True)
class ChangesAgreed:
    """What changed the agreed hours of the month's jobs after they were first agreed.

    Attributes:
        extra_h, route_h, other_h: added (below 0: taken out) by extra work, by routes, by the rest.
        extra, route, other: each change, with its job and its entry.
    """

    extra_h: float
    route_h: float
    other_h: float
    extra: tuple[Way, ...]
    route: tuple[Way, ...]
    other: tuple[Way, ...]


@dataclass(frozen=True, slots=True)
class Month:
    """The owner's month.

    Attributes:
        span: which month, and up to when it is told.
        at: now. `as_of_seq`: the last entry.
        previous, following: the months beside it that there are; None beyond the shop's first
            entry and beyond now.
        empty: why there is nothing to judge, with what to do; None where there is.
        said: the first lines: estimates against the months before, share, cautious figure.
        jobs: all closed in the month, by time of closing.
        phases: all labour phases finished in the month.
        kinds: deep jobs and small ones apart. `leads`: owner only, else those of the reader.
        before: months before it, the oldest first, without it.
        reader: role of whoever reads; `owner` where nobody said.
        ways: the way down from its labour: jobs, their phases, their clocks; a job's entries are
            those that closed it.
        of: whose jobs alone are judged; None: all.
        aim: the share of jobs in which the cautious figure is to hold.
    """

    span: MonthSpan
    shop: str
    zone: str
    currency: str
    at: datetime
    as_of_seq: int
    previous: str | None
    following: str | None
    empty: str | None
    said: tuple[str, ...]
    aim: float
    accuracy: Accuracy
    jobs: tuple[JobJudged, ...]
    phases: tuple[PhaseJudged, ...]
    ways: tuple[Way, ...]
    kinds: tuple[AccuracyLine, ...]
    operations: tuple[AccuracyLine, ...]
    by_phase: tuple[AccuracyLine, ...]
    families: tuple[AccuracyLine, ...]
    leads: tuple[AccuracyLine, ...]
    before: tuple[AccuracyLine, ...]
    promises: PromisesKept
    changes: ChangesAgreed
    hours: Hours
    held: Held
    money: Money
    lifts: Lifts
    quotes: Quotes
    odds: tuple[OddsSeen, ...]
    signals: Signals
    should_say: tuple[ShouldSay, ...]
    prices: Prices
    reader: Literal["technician", "foreman", "owner"] = "owner"
    of: str | None = None


@dataclass(frozen=True, slots=True)
class MonthListed:
    """A month that can be opened. `running`: it has not ended."""

    month: str
    first: date
    jobs: int
    running: bool
