"""What a card says of people and firms outside the shop: plain values."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Literal

AdviceAnswer = Literal["declined", "later", "agreed"]


@dataclass(frozen=True, slots=True)
class CallLine:
    """One attempt to reach the customer.

    Attributes:
        who: of the shop.
        text: what was said, or left.
        again: when to try again, as it was said then.
    """

    at: datetime
    who: str
    means: str
    reached: bool
    text: str | None
    again: datetime | None


@dataclass(frozen=True, slots=True)
class OutworkLine:
    """Work of a phase at another firm, away or back again.

    Attributes:
        name: of the phase.
        promised: as the firm said last.
        chase: the day on which it is to be asked.
        said: what it said last.
        price: what it came to, else as it was said.
        readings: of the report.
        away: it is not back, and the phase is under way.
    """

    job: str
    vehicle: str
    phase: str
    name: str
    what: str
    firm: str
    sent_at: datetime
    promised: datetime | None
    chase: date | None
    said: str | None
    price: float | None
    back_at: datetime | None
    report: str | None
    readings: tuple[tuple[str, float], ...]
    away: bool


@dataclass(frozen=True, slots=True)
class AdviceLine:
    """Work that was advised, and the customer's word on it.

    Attributes:
        line: 1, 2 … in the order of time.
        finding: the entry that advised it.
        who: advised it.
        by: who gave the word, as people read it.
        risk_told: None where nothing was answered.
    """

    line: int
    finding: int
    phase: str
    text: str
    hours: float | None
    at: datetime
    who: str
    answer: AdviceAnswer | None = None
    answered_at: datetime | None = None
    risk_told: bool | None = None
    by: str | None = None
    means: str | None = None


@dataclass(frozen=True, slots=True)
class UsedMoney:
    """What was used up so far, by what it went into; `extra`: agreed beside its hours."""

    labour: float
    outwork: float
    parts: float
    extra: float
    total: float


@dataclass(frozen=True, slots=True)
class JobMoney:
    """What was agreed about money, and how far it is.

    Attributes:
        agreed: money of the newest agreement.
        extras: of extra work that was approved.
        price: what a fixed price comes to with it; None on another basis.
        expected: middle and cautious money at the end; None where an hour has no price.
        over: by how much the middle passes the ceiling; 0 where it keeps it, or there is none.
        free_hand: up to which extra work needs no call, and what is left of it.
    """

    basis: str | None
    agreed: float | None
    extras: float
    price: float | None
    ceiling: float | None
    used: UsedMoney
    expected: tuple[float, float] | None
    over: float
    free_hand: float | None
    free_left: float | None
