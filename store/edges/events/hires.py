"""Kinds of event about special tools: suppliers and their terms, hires, dates of kits."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from store.edges.events.base import Day, Event, Id, JobNumber, Moment, PhaseNumber, Piece, Seq, Text
from store.edges.events.desk import Money

Days = Annotated[int, Field(ge=0, le=366)]
Times = Annotated[float, Field(ge=0, le=100, allow_inf_nan=False)]
Clock = Annotated[str, Field(pattern=r"^([01][0-9]|2[0-3]):[0-5][0-9]$")]
"""A local time of day, `15:30`."""


class SupplierKnown(Event):
    """Who hires kits out, and how they count; what is said anew stands from now on."""

    kind = "supplier-known"
    supplier: Text
    cut_off: Clock
    counts: Literal["hand-over", "arrival"]
    weekend: Literal["counted", "half", "free"]
    late: Times
    """Times the day rate, for each day begun."""
    lead_days: Days
    """Working days from asking to delivery."""
    back_days: Days
    """Working days from the carrier to the supplier."""
    cleaning: Money = 0.0
    """Charged for a kit that comes back dirty."""


class OfferKnown(Event):
    """What one kit costs at one supplier's from now on; not offered any more without a day rate."""

    kind = "offer-known"
    kit: Text
    """Its code."""
    supplier: Text
    day: Money | None = None
    week: Money | None = None
    month: Money | None = None
    minimum_days: Annotated[int, Field(ge=1, le=366)] = 1
    carriage: Money = 0.0
    """Each way."""
    deposit: Money = 0.0


class TermsTakenBack(Event):
    """Terms, a price or a date of a kit that were entered by mistake are as before that entry."""

    kind = "terms-taken-back"
    entry: Seq


class KitPriced(Event):
    """What a kit costs to buy, and to keep. None: nobody knows."""

    kind = "kit-priced"
    kit: Text
    buy: Money | None = None
    upkeep: Money = 0.0
    """A year: calibration, repairs, room."""
    life_years: Annotated[float, Field(gt=0, le=50, allow_inf_nan=False)] = 8.0


class KitInspected(Event):
    """A kit, hoist or sling was calibrated or inspected; it may be used until a day."""

    kind = "kit-inspected"
    kit: Text
    valid_until: Day
    source: Text
    """Who did it, or what says so."""


class KitLet(Event):
    """The foreman's word that a phase may be begun without a kit that it needs."""

    kind = "kit-let"
    job: JobNumber
    phase: PhaseNumber
    kits: Annotated[list[Text], Field(min_length=1)]
    why: Text


class KitLetTakenBack(Event):
    """That word was never given."""

    kind = "kit-let-taken-back"
    job: JobNumber
    entry: Seq


class HireTerms(Piece):
    """What was agreed when a kit was asked for: later terms of the supplier do not touch it."""

    day: Money
    week: Money | None = None
    month: Money | None = None
    minimum_days: Annotated[int, Field(ge=1, le=366)] = 1
    carriage: Money = 0.0
    deposit: Money = 0.0
    cut_off: Clock
    counts: Literal["hand-over", "arrival"]
    weekend: Literal["counted", "half", "free"]
    late: Times
    lead_days: Days
    back_days: Days
    cleaning: Money = 0.0


class HireAsked(Event):
    """A kit was asked for at a supplier's."""

    kind = "hire-asked"
    hire: Id
    kit: Text
    """Its code."""
    supplier: Text
    job: JobNumber | None = None
    expected: Moment | None = None
    due: Moment | None = None
    """When it is to be handed to the carrier again."""
    terms: HireTerms | None = None
    """None: the supplier's terms are not known."""
    note: Text | None = None
    """Why it was asked for, where no job needs it or the shop owns one."""


class HireReceived(Event):
    """A hired kit is here."""

    kind = "hire-received"
    hire: Id
    complete: bool = True
    note: Text | None = None
    """What lacks, where it is not complete."""
    due: Moment | None = None
    """When it is to be handed to the carrier again, where that is said only now."""
    serial: Text | None = None
    missing: list[Text] = []
    """Pieces of its list that were not there."""
    wrong: bool = False
    """The wrong variant came."""
    valid_until: Day | None = None
    """Its own calibration or inspection date, where it carries one."""


class HireMended(Event):
    """What lacked of a kit came later, or the right variant did."""

    kind = "hire-mended"
    hire: Id
    note: Text | None = None


class HireExtended(Event):
    """A hired kit goes back on another day."""

    kind = "hire-extended"
    hire: Id
    due: Moment


class HireGiven(Event):
    """A hired kit is for another job now; without one: for any."""

    kind = "hire-given"
    hire: Id
    to: JobNumber | None = None


class HireSentBack(Event):
    """A hired kit was handed to the carrier. `pieces`: counted before."""

    kind = "hire-sent-back"
    hire: Id
    complete: bool = True
    pieces: Annotated[int, Field(ge=0)] | None = None
    note: Text | None = None
    clean: bool = True
    damage: Text | None = None


class HireArrivedBack(Event):
    """The supplier has it again, and has looked it through."""

    kind = "hire-arrived-back"
    hire: Id
    note: Text | None = None
    """What the supplier says of it."""


class DepositReturned(Event):
    """The deposit came back; less than was paid where something was kept."""

    kind = "deposit-returned"
    hire: Id
    amount: Money
    note: Text | None = None


class HireInvoiced(Event):
    """What a hire came to. All parts are in `amount`."""

    kind = "hire-invoiced"
    hire: Id
    amount: Money
    late_fee: Money = 0.0
    extras: Money = 0.0
    """Missing pieces, damage, cleaning."""
    note: Text | None = None


class HireWas(Piece):
    """A hire as it was before somebody's slip."""

    job: JobNumber | None = None
    due: Moment | None = None
    first_due: Moment | None = None
    received_at: Moment | None = None
    complete: bool | None = None
    came_complete: bool | None = None
    sent_at: Moment | None = None
    sent_complete: bool | None = None
    pieces: int | None = None
    note: Text | None = None
    serial: Text | None = None
    missing: list[Text] = []
    wrong: bool = False
    valid_until: Day | None = None
    clean: bool | None = None
    damage: Text | None = None
    arrived_at: Moment | None = None
    deposit_at: Moment | None = None
    deposit_back: Money | None = None
    invoiced_at: Moment | None = None
    invoiced: Money | None = None
    late_fee: Money | None = None
    extras: Money | None = None


class HireTakenBack(Event):
    """An entry of a hire that never was. `was`: as it is again; None: the kit is not hired."""

    kind = "hire-taken-back"
    hire: Id
    kit: Text
    was: HireWas | None = None
