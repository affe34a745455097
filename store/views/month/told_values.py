"""What is said about a month: what changed, what the book should say, what prices would keep."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from store.views.month.way import Share, Way

What = Literal["shop", "operation", "phase", "family", "person", "supplier", "promise", "held"]
"""What a chart is about; `held`: jobs held for a reason."""
SignalKind = Literal["level", "change", "trend"]
"""Off the book for as long as is known; other since a date; ever faster or slower."""


@dataclass(frozen=True, slots=True)
class Signal:
    """A change that luck hardly explains.

    Attributes:
        code, name: of what changed; `what` says of which kind it is.
        since: the day from which on it holds; `early`, `late`: it began between them.
        says: the whole in a plain sentence.
        before, after: labour / hours of today's book, of the same work by the same hands; of a
            level `before` is what the rest of the work takes. Shares of yes of a supplier (late),
            of promises (missed), of holds (held).
        count_before, count_after: how many jobs, deliveries or promises.
        ways: jobs or hires after it.
        chance: luck alone shows as much anywhere in the shop at most so often, 0 to 1.
    """

    what: What
    code: str
    name: str
    since: date
    says: str
    before: float
    after: float
    count_before: int
    count_after: int
    ways: tuple[Way, ...] = ()
    kind: SignalKind = "change"
    early: date | None = None
    late: date | None = None
    chance: float = 0.0


@dataclass(frozen=True, slots=True)
class ChartPoint:
    """One point. `loud`: outside its limits. `label`: a month or a job's number."""

    at: date
    label: str
    value: float
    count: int
    loud: bool = False


@dataclass(frozen=True, slots=True)
class Level:
    """A stretch between two changes: its middle and the limits that luck keeps to."""

    since: date
    until: date
    middle: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Chart:
    """A chart of individual values with limits from their moving ranges."""

    what: What
    code: str
    name: str
    points: tuple[ChartPoint, ...]
    levels: tuple[Level, ...]
    says: str


@dataclass(frozen=True, slots=True)
class Signals:
    """What is signal; all else is noise.

    Attributes:
        found: the newest first; those that fell in the month, and those still true (`old`).
        charts: the shop's by month first, then one for each signal.
        watched: how many charts were looked at.
        false_a_year: how many false ones the rules let through in a year in which nothing changes.
        says: one sentence; "nothing changed that luck does not explain" where so.
    """

    found: tuple[Signal, ...]
    old: tuple[Signal, ...]
    charts: tuple[Chart, ...]
    watched: int
    false_a_year: float
    says: str


@dataclass(frozen=True, slots=True)
class ShouldSay:
    """What the book should say for a phase, everywhere or for one family.

    Attributes:
        operation: of an access phase the access's code.
        book_h, should_h: hours; `low_h`, `high_h` the range of the second.
        finished: how many phases taught it.
        sure: enough to change the book; `says` tells why not.
        year_h: hours lost in a year by leaving it (below 0: too dear).
        command: what adopts it; None where it is not sure.
        jobs: the way down.
    """

    operation: str
    phase: str
    name: str
    family: str | None
    book_h: float
    should_h: float
    low_h: float
    high_h: float
    finished: int
    sure: bool
    year_h: float
    says: str
    command: tuple[str, ...] | None = None
    jobs: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PriceWay:
    """The last twelve months' quotes at other hours or another rate, had the same customers said
    yes.

    Attributes:
        hours: `as quoted` (the middle, as quotes ask it), `book`, `cautious`, `learned`.
        rate: money an hour; None: that of each job's day.
        sold: what customers would have paid of the labour.
        more: of it more than as quoted: all of the difference at a fixed price, none on time.
        kept: what of `sold` is left after what the hours cost; None where no costs are typed.
        below: jobs below cost, of all whose cost is known.
        ways: jobs, with what more each would have fetched; as quoted, with what it fetched.
    """

    hours: str
    rate: float | None
    jobs: int
    sold: float | None
    kept: float | None
    below: Share | None
    says: str
    ways: tuple[Way, ...] = ()
    more: float | None = None


@dataclass(frozen=True, slots=True)
class Earned:
    """What an operation's hour of labour fetched, beside what an hour attended cost in the months
    of its jobs, and what its day on a lift fetched."""

    operation: str
    name: str
    jobs: int
    labour_h: float
    fetched_per_hour: float | None
    cost_per_hour: float | None
    lift_days: float
    per_lift_day: float | None
    says: str
    ways: tuple[Way, ...] = ()


@dataclass(frozen=True, slots=True)
class Costs:
    """What a month cost, as its owner typed it, and the hours attended in it.

    Attributes:
        per_hour: (wages + overheads) / attended; None where nobody attended, or it still runs.
        taken_from: the earlier month whose costs were taken over; None where it has its own.
        seq: the entry that says so.
    """

    month: str
    wages: float
    overheads: float
    attended_h: float
    per_hour: float | None
    taken_from: str | None = None
    seq: int | None = None
    running: bool = False


@dataclass(frozen=True, slots=True)
class Prices:
    """Prices over the twelve months up to the month's end. `says`: what lacks, where it does."""

    since: date
    until: date
    ways: tuple[PriceWay, ...]
    earned: tuple[Earned, ...]
    costs: tuple[Costs, ...]
    says: str
