"""What is done at the desk, ready to be done by whoever proves to be there.

The actions are imported where they run: they bring models that a first paint does not need.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import TYPE_CHECKING, Literal

from store.file.shop import By, Shop
from tui.deeds import Deed

if TYPE_CHECKING:
    from store.actions.acting import Done
    from store.actions.agreeing import WorkedOut

Basis = Literal["fixed price", "ceiling", "time"]
Result = Literal["pass", "pass with conditions", "fail"]
Fault = Literal["ours", "not ours", "not known yet"]
Pays = Literal["shop", "customer", "supplier"]


@dataclass(frozen=True, slots=True)
class Call:
    """What was taken down of a call. `customer`: name and telephone, where they were said."""

    vehicle: str
    complaint: str | None = None
    customer: tuple[str, str] | None = None
    operations: tuple[str, ...] = ()
    family: str = ""
    options: Mapping[str, str] = field(default_factory=dict[str, str])
    grade: int = 2


def enquire(call: Call) -> Deed:
    """Take a call down."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions.desk import acts as desk

        return desk.enquire(
            shop, by, vehicle=call.vehicle, complaint=call.complaint, customer=call.customer,
            operations=call.operations, family=call.family, options=call.options,
            grade=call.grade,
        )  # fmt: skip

    return do


def choose_work(job: str, call: Call) -> Deed:
    """Say what a job that is not agreed yet is about."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions.desk import acts as desk

        return desk.choose_work(
            shop, by, job=job, operations=call.operations, family=call.family,
            options=call.options, vehicle=call.vehicle or None, complaint=call.complaint,
            grade=call.grade,
        )  # fmt: skip

    return do


@dataclass(frozen=True, slots=True)
class Identity:
    """What stands on the vehicle; None is not read."""

    vin: str | None = None
    plate: str | None = None
    engine: str | None = None
    gearbox: str | None = None
    mass_kg: float | None = None


def identify(job: str, read: Identity) -> Deed:
    """Write down what stands on the vehicle."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions.desk import acts as desk

        return desk.identify(
            shop, by, job=job, vin=read.vin, plate=read.plate, engine=read.engine,
            gearbox=read.gearbox, mass_kg=read.mass_kg,
        )  # fmt: skip

    return do


def book(job: str, day: date, note: str | None, deposit: float | None) -> Deed:
    """Book the day on which it comes."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions.desk import acts as desk

        return desk.book(shop, by, job=job, day=day, note=note, deposit=deposit)

    return do


@dataclass(frozen=True, slots=True)
class Arrival:
    """What was seen when it came.

    Attributes:
        read: the odometer, and its unit.
        grade: 1 clean to 4 been apart before.
    """

    read: tuple[float, str] | None = None
    grade: int = 2
    lamps: str | None = None
    photographs: str | None = None
    place: str | None = None
    identity: Identity = Identity()


def arrive(job: str, seen: Arrival) -> Deed:
    """It is here."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions.desk import acts as desk

        value, unit = seen.read if seen.read is not None else (None, None)
        known = seen.identity
        return desk.arrive(
            shop, by, job=job, odometer=value, unit=unit, grade=seen.grade, lamps=seen.lamps,
            photographs=seen.photographs, place=seen.place,
            identity=desk.Identity(
                known.vin, known.plate, known.engine, known.gearbox, known.mass_kg
            ),
        )  # fmt: skip

    return do


def judge(job: str, result: Result, text: str | None) -> Deed:
    """Say what the qualifying check came to."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions.desk import acts as desk

        return desk.judge_check(shop, by, job=job, result=result, text=text)

    return do


@dataclass(frozen=True, slots=True)
class Quote:
    """What the customer is told that it would take.

    Attributes:
        planned: operations and options of the one way that is quoted; None quotes what the other
            answers to its decisions would make of it too.
    """

    basis: Basis = "fixed price"
    ceiling: float | None = None
    promise: datetime | None = None
    means: str = "telephone"
    until: date | None = None
    rough: bool = False
    extras: tuple[str, ...] = ()
    planned: tuple[tuple[str, ...], Mapping[str, str]] | None = None


def give_quote(job: str, quote: Quote) -> Deed:
    """Give a quote; its hours are worked out when it is given."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions.desk import acts as desk

        ways = None if quote.planned is None else [desk.Way(*quote.planned)]
        return desk.quote(
            shop, by, job=job, ways=ways, basis=quote.basis, ceiling=quote.ceiling,
            promise=quote.promise, means=quote.means, until=quote.until, rough=quote.rough,
            extras=quote.extras,
        )  # fmt: skip

    return do


@dataclass(frozen=True, slots=True)
class Agreement:
    """The customer's word: for what, by whom, on which terms.

    Attributes:
        operations: that were agreed; None is all of the job's.
        ahead: answers given before they are asked: about what, and what then.
        free_hand: money up to which extra work needs no call.
    """

    basis: Basis = "fixed price"
    ceiling: float | None = None
    said_by: str = "the customer"
    means: str = "telephone"
    quote: int | None = None
    operations: tuple[str, ...] | None = None
    ahead: tuple[tuple[str, str], ...] = ()
    free_hand: float | None = None
    promise: datetime | None = None
    chance: float | None = None
    told: Callable[[], WorkedOut | None] | None = None


def agree(job: str, word: Agreement) -> Deed:
    """Write the customer's word down; the estimate is frozen."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions.desk import acts as desk

        return desk.agree(
            shop, by, job=job, basis=word.basis, ceiling=word.ceiling, said_by=word.said_by,
            means=word.means, quote=word.quote, operations=word.operations,
            ahead=[desk.AnsweredAhead(about=one, answer=then) for one, then in word.ahead],
            free_hand=word.free_hand,
            promise=word.promise, chance=word.chance, told=word.told() if word.told else None,
        )  # fmt: skip

    return do


def decline(job: str, why: str, said_by: str | None, means: str | None) -> Deed:
    """The customer does not want it."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions.desk import acts as desk

        return desk.decline(shop, by, job=job, why=why, said_by=said_by, means=means)

    return do


def turn_away(job: str, why: str) -> Deed:
    """We do not take it."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions.desk import acts as desk

        return desk.turn_away(shop, by, job=job, why=why)

    return do


def know_customer(job: str, name: str, telephone: str) -> Deed:
    """Keep whose vehicle it is, outside the ledger."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions.desk import acts as desk

        return desk.know_customer(shop, by, job=job, name=name, telephone=telephone)

    return do


def erase_customer(job: str) -> Deed:
    """Erase all that is kept of a job's customer."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions.desk import acts as desk

        return desk.erase_customer(shop, by, customer=desk.customer_id(shop, job))

    return do


@dataclass(frozen=True, slots=True)
class Comeback:
    """The same trouble again: from which job, which of its phases, why, and who pays."""

    of: str
    phase: str | None
    cause: str
    fault: Fault = "not known yet"
    pays: Pays = "shop"


def come_back(job: str, back: Comeback) -> Deed:
    """Link a job to the one that it comes back from."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions.desk import acts as desk

        return desk.come_back(
            shop, by, job=job, of=back.of, phase=back.phase, cause=back.cause, fault=back.fault,
            pays=back.pays,
        )  # fmt: skip

    return do


def note_call(
    job: str, means: str, reached: bool, text: str | None, again: datetime | None
) -> Deed:  # fmt: skip
    """Write down that somebody tried to reach the customer."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import calls

        return calls.note_call(
            shop, by, job=job, means=means, reached=reached, text=text, again=again
        )

    return do
