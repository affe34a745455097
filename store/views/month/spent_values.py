"""Hours, held time, money, lifts and quotes of a month, as `hours` and `money` give
them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from store.views.month.way import Figure, Share, Way

NO_HOURS = Figure(0.0, "h", "")
NO_MONEY = Figure(None, "money", "")


@dataclass(frozen=True, slots=True)
class PersonHours:
    """One person's month. Owner only, else the reader's own."""

    badge: str
    name: str
    attended_h: float
    on_jobs_h: float
    indirect_h: float
    estimated_h: float


@dataclass(frozen=True, slots=True)
class LeftRunning:
    """A clock that ran on past the shift's end; `stopped_at` None: it still does."""

    badge: str
    job: str | None
    phase: str | None
    since: datetime
    stopped_at: datetime | None
    seq: int
    says: str


@dataclass(frozen=True, slots=True)
class ComebackSeen:
    """A comeback's labour in the month. `fault`, `pays` as they were said last."""

    job: str
    of: str
    fault: str
    pays: str
    labour_h: float
    money: float | None
    way: tuple[Way, ...] = ()


@dataclass(frozen=True, slots=True)
class Hours:
    """Where the hours went.

    Attributes:
        attended: calendar less absence, corrected on the day sheet.
        on_jobs: labour of everybody, learners apart as the contract says: their hours are
            `learning`.
        indirect: clocked on no job; its ways are the reasons. `unclocked`: attended and not
            clocked; below 0 where more was clocked than attended.
        estimated: hours as agreed of the phases finished in the month; `finished` their labour.
        sold: labour that customers pay of the jobs whose work ended in the month.
        utilisation, efficiency, productivity: as the contract defines them; each explains itself.
        people: owner only.
    """

    attended: Figure
    on_jobs: Figure
    indirect: Figure
    estimated: Figure
    sold: Figure
    utilisation: Figure
    efficiency: Figure
    productivity: Figure
    people: tuple[PersonHours, ...] = ()
    left_running: tuple[LeftRunning, ...] = ()
    comebacks: tuple[ComebackSeen, ...] = ()
    learning: Figure = NO_HOURS
    unclocked: Figure = NO_HOURS
    finished: Figure = NO_HOURS


@dataclass(frozen=True, slots=True)
class Held:
    """Working hours held, by reason in the order of most; the ways are holds."""

    total: Figure
    reasons: tuple[tuple[str, Figure], ...] = ()


@dataclass(frozen=True, slots=True)
class NotCharged:
    """Labour worked that nobody paid, by cause and price basis."""

    cause: str
    basis: str
    hours: float
    money: float | None
    ways: tuple[Way, ...] = ()


@dataclass(frozen=True, slots=True)
class Money:
    """Money of the month, of the shop's currency; None in a figure where no rate was set.

    Attributes:
        labour_worked: hours on jobs at the rate of their day; `labour_estimated` estimated hours
            at it; `labour_sold` what customers pay of the labour on jobs that ended in the month.
        not_charged: worked on those and not charged, the most first.
        not_billed: labour, parts, outwork and hires of jobs that were not over by the month's end.
        hire: of kits, on the days they were here; of it `hire_idle` and `late_fees`. `idle_days`
            in shop days. `deposits`: paid and not back by the month's end.
        supplements: money of extra work agreed in the month; `supplements_asked` and
            `supplements_refused` in it.
        parts, outwork: that came in the month, where their prices are known.
    """

    labour_worked: Figure
    labour_estimated: Figure
    labour_sold: Figure
    not_charged: tuple[NotCharged, ...]
    not_billed: Figure
    hire: Figure
    hire_idle: Figure
    idle_days: Figure
    late_fees: Figure
    supplements: Figure
    supplements_asked: Figure = NO_MONEY
    supplements_refused: Figure = NO_MONEY
    deposits: Figure = NO_MONEY
    parts: Figure = NO_MONEY
    outwork: Figure = NO_MONEY


@dataclass(frozen=True, slots=True)
class LiftHours:
    """A lift's open hours: worked, out of service, held, with a vehicle on it and nobody there
    (`dead_h`), and `empty_h` the rest; each moment is counted once, in that order.

    Attributes:
        earned: labour worked on the vehicles that stood on it, at the rates of the days, without
            comebacks that the shop pays.
        days: shop days on which it was in service.
        per_day: what it earned for each of them; None of none, or where no rate was set.
        ways: jobs that stood on it, in open hours.
    """

    lift: str
    open_h: float
    worked_h: float
    held_h: float
    dead_h: float
    empty_h: float
    out_h: float
    ways: tuple[Way, ...] = ()
    earned: float | None = None
    days: float = 0.0
    per_day: float | None = None


@dataclass(frozen=True, slots=True)
class Lifts:
    """Lifts in the shop's order. `booked_ahead`: shop days of work agreed and not begun, at the
    month's end."""

    lifts: tuple[LiftHours, ...]
    booked_ahead: Figure


@dataclass(frozen=True, slots=True)
class Quotes:
    """Quotes given in the month.

    Attributes:
        became_jobs: of those answered.
        given, agreed, declined, open: counts, with their jobs.
        supplements: extra work asked in the month and agreed, of those answered.
    """

    given: Figure
    agreed: Figure
    declined: Figure
    open: Figure
    became_jobs: Share | None
    supplements: Share | None
    says: str


@dataclass(frozen=True, slots=True)
class OddsSeen:
    """A surprise or an answer of a decision: how often it came beside the book's odds.

    Attributes:
        kind: `surprise` or `decision`.
        text: the surprise, or the question; `answer` of a decision.
        month: of the phases finished in the month; `ever`: of all up to its end.
        book: the book's chance; None where it says none.
        says: plain; says so where there are too few.
    """

    kind: str
    phase: str
    name: str
    text: str
    answer: str | None
    month: Share | None
    ever: Share | None
    book: float | None
    says: str
    ways: tuple[Way, ...] = ()
