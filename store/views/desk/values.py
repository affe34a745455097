"""What the views of the desk give: frozen values. Hours of labour, money of the shop's currency."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Literal

from store.sums.working_time import Calendar

DeskState = Literal[
    "enquiry", "booked", "arrived", "quoted", "waiting", "declined", "turned-away"
]  # fmt: skip
CheckState = Literal["none", "to come", "under way", "finished"]
QuoteState = Literal["open", "agreed", "declined", "thinking", "withdrawn", "followed"]


@dataclass(frozen=True, slots=True)
class WayNow:
    """One way of a quote. `money` is the sum of what is known of it; None where nothing is."""

    text: str
    operations: tuple[str, ...]
    options: tuple[tuple[str, str], ...]
    middle_h: float
    cautious_h: float
    labour: float | None
    kits: float | None = None
    parts: float | None = None
    outwork: float | None = None

    @property
    def money(self) -> float | None:
        """What is known of its price together."""
        known = [one for one in (self.labour, self.kits, self.parts, self.outwork) if one]
        return sum(known) if known else self.labour


@dataclass(frozen=True, slots=True)
class QuoteNow:
    """A quote as it was given.

    Attributes:
        rough: a range told by voice.
        ways: the planned one first.
        until: last day on which it holds.
        why, answered_by: of the answer; the second as people read it.
    """

    number: int
    at: datetime
    who: str
    rough: bool
    ways: tuple[WayNow, ...]
    state: QuoteState
    basis: str | None = None
    ceiling: float | None = None
    promise: datetime | None = None
    means: str | None = None
    until: date | None = None
    extras: tuple[str, ...] = ()
    answered_at: datetime | None = None
    why: str | None = None
    answered_by: str | None = None


@dataclass(frozen=True, slots=True)
class CheckNow:
    """The qualifying check of a job.

    Attributes:
        state: of its phases; `none` where the work has no check, or it is not laid yet.
        phase: number and name of the phase that is under way or next; None where none is left.
        people: names of those clocked on it.
        result: as it was judged; `text` its conditions, or why it failed.
        labour_h: spent on it.
        price: at which it is sold; None where no rate was set.
    """

    state: CheckState = "none"
    phase: str | None = None
    people: tuple[str, ...] = ()
    result: str | None = None
    text: str | None = None
    labour_h: float = 0.0
    price: float | None = None


@dataclass(frozen=True, slots=True)
class DeskRow:
    """A job that is not on its way through the workshop yet, or will not be.

    Attributes:
        since: when it came into its state.
        arrives: the day it is booked for.
        next: what comes next, in words.
        late: that is overdue.
        quote: the newest; None where none was given.
        customer, telephone: only where whoever looks may see them.
        place: code of the place where it stands.
        why: of what was declined or turned away.
    """

    number: str
    vehicle: str
    plate: str | None
    vin: str | None
    work: str
    complaint: str | None
    operations: tuple[str, ...]
    family: str
    options: tuple[tuple[str, str], ...]
    grade: int
    small: bool
    state: DeskState
    since: datetime
    arrives: date | None
    arrived_at: datetime | None
    next: str
    late: bool
    check: CheckNow
    quote: QuoteNow | None
    promise: datetime | None
    place: str | None
    customer: str | None = None
    telephone: str | None = None
    comeback_of: str | None = None
    why: str | None = None


@dataclass(frozen=True, slots=True)
class Desk:
    """Everything at the desk: what goes on, in the order of its life, and what lately ended."""

    at: datetime = field(compare=False)
    calendar: Calendar = field(compare=False)
    currency: str = ""
    rows: tuple[DeskRow, ...] = ()
    gone: tuple[DeskRow, ...] = ()


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of one job's quotes.

    Attributes:
        rough_h: middle hours of the first range told by voice; `quoted_h` of the last quote.
        agreed_h: as frozen; `worked_h` labour until it was closed. None where it did not come so
            far.
        became: `agreed`, `declined`, `turned away` or `open`.
    """

    job: str
    work: str
    at: datetime
    became: Literal["agreed", "declined", "turned away", "open"]
    rough_h: float | None
    quoted_h: float | None
    quoted_money: float | None
    agreed_h: float | None
    agreed_money: float | None
    worked_h: float | None
    why: str | None = None


@dataclass(frozen=True, slots=True)
class Outcomes:
    """Quotes of some months with what became of them; hours are sums over jobs that have both.

    Attributes:
        quoted: jobs that had a quote; `agreed`, `declined`, `open` of them.
        quoted_h, agreed_h, worked_h: of the closed ones, of which all three are known.
    """

    since: date
    rows: tuple[Outcome, ...]
    quoted: int
    agreed: int
    declined: int
    open: int
    closed: int
    quoted_h: float
    agreed_h: float
    worked_h: float


@dataclass(frozen=True, slots=True)
class AnswerAhead:
    """What the customer said in advance: shown where the question comes up."""

    about: str
    answer: str
    money: float | None


@dataclass(frozen=True, slots=True)
class Agreement:
    """The customer's word on a job.

    Attributes:
        by, means: who gave it, as people read it, and how.
        quote: number of the quote that was agreed to.
        left_out: what had been quoted and was not agreed.
        free_hand: money up to which extra work needs no call.
    """

    at: datetime
    basis: str
    ceiling: float | None
    money: float | None
    by: str | None
    means: str | None
    quote: int | None
    left_out: tuple[str, ...]
    ahead: tuple[AnswerAhead, ...]
    free_hand: float | None


@dataclass(frozen=True, slots=True)
class Comeback:
    """A vehicle that returned with the same trouble.

    Attributes:
        job: the new one; `of` the old one, `phase` of it where one is to blame.
        labour_h: of the new job so far.
    """

    job: str
    of: str
    phase: str | None
    cause: str
    fault: str
    pays: str
    at: datetime
    labour_h: float


@dataclass(frozen=True, slots=True)
class JobDesk:
    """What the desk knows of one job: for its card.

    Attributes:
        quotes: all of them, oldest first.
        agreement: None until the customer agreed.
        comeback_of: the old job that this one comes back from.
        comebacks: jobs that came back from this one; `comebacks_h` their labour together.
        customer, telephone: kept outside the ledger; show them to those who may see them.
    """

    arrives: date | None = None
    arrived_at: datetime | None = None
    lamps: str | None = None
    photographs: str | None = None
    complaint: str | None = None
    odometer: tuple[float, str] | None = None
    vin: str | None = None
    plate: str | None = None
    engine: str | None = None
    gearbox: str | None = None
    check: CheckNow = field(default_factory=CheckNow)
    quotes: tuple[QuoteNow, ...] = ()
    agreement: Agreement | None = None
    comeback_of: Comeback | None = None
    comebacks: tuple[Comeback, ...] = ()
    customer: str | None = None
    telephone: str | None = None

    @property
    def comebacks_h(self) -> float:
        """Labour of what came back from this job."""
        return sum(one.labour_h for one in self.comebacks)
