"""What keys of a card mean to do with customers and other firms, ready to be done."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import TYPE_CHECKING, Literal

from store.file.shop import By, Shop
from tui.deeds import Deed

if TYPE_CHECKING:
    from store.actions.acting import Done

AdviceWord = Literal["declined", "later", "agreed"]


@dataclass(frozen=True, slots=True)
class Sent:
    """What goes to another firm. `chase`: the day on which it is to be asked."""

    what: str = ""
    firm: str = ""
    promised: datetime | None = None
    chase: date | None = None
    price: float | None = None


def send_outwork(job: str, phase: str, sent: Sent) -> Deed:
    """Send work of a phase to another firm."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import outwork

        return outwork.send(
            shop, by, job=job, phase=phase, what=sent.what, firm=sent.firm,
            promised=sent.promised, chase=sent.chase, price=sent.price,
        )  # fmt: skip

    return do


def chase_outwork(
    job: str, phase: str, said: str, promised: datetime | None, chase: date | None
) -> Deed:
    """Write down what a firm said when it was asked."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import outwork

        return outwork.chase(
            shop, by, job=job, phase=phase, said=said, promised=promised, chase=chase
        )

    return do


@dataclass(frozen=True, slots=True)
class Report:
    """What came back with work of another firm: values by `STEP:NAME`, answers by step."""

    text: str | None = None
    readings: Mapping[str, float] = field(default_factory=dict[str, float])
    answers: Mapping[str, str] = field(default_factory=dict[str, str])
    price: float | None = None


def outwork_back(job: str, phase: str, report: Report) -> Deed:
    """Take work of another firm in again."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import outwork

        return outwork.receive(
            shop, by, job=job, phase=phase, report=report.text, readings=report.readings,
            answers=report.answers, price=report.price,
        )  # fmt: skip

    return do


@dataclass(frozen=True, slots=True)
class OnAdvice:
    """The customer's word on advice; hours and phase belong to what is agreed."""

    answer: AdviceWord
    risk_told: bool = False
    told_by: str | None = None
    means: str | None = None
    hours: float | None = None
    phase: str | None = None


def answer_advice(job: str, finding: int, word: OnAdvice) -> Deed:
    """Write the customer's word on advice down."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import advice

        return advice.answer_advice(
            shop, by, job=job, finding=finding, answer=word.answer, risk_told=word.risk_told,
            told_by=word.told_by, means=word.means, hours=word.hours, phase=word.phase,
        )  # fmt: skip

    return do
