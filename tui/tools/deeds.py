"""What keys mean to do with kits, hires and suppliers, ready to be done by whoever proves it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import TYPE_CHECKING

from store.file.shop import By, Shop
from store.sums.hires.terms import House, Rates
from tui.deeds import Deed

if TYPE_CHECKING:
    from store.actions.acting import Done


@dataclass(frozen=True, slots=True)
class Asking:
    """What is said when a kit is asked for."""

    supplier: str | None = None
    job: str | None = None
    expected: datetime | None = None
    due: datetime | None = None
    why: str | None = None


@dataclass(frozen=True, slots=True)
class Looked:
    """What was found when a kit that came was looked through.

    Attributes:
        missing: pieces of its list, one that lacks twice stands twice.
        note: what lacks that is on no list.
    """

    missing: Sequence[str] = ()
    wrong: bool = False
    serial: str | None = None
    valid_until: date | None = None
    due: datetime | None = None
    note: str | None = None

    @property
    def whole(self) -> bool:
        """Nothing is amiss."""
        return not (self.missing or self.wrong or self.note)


@dataclass(frozen=True, slots=True)
class Counted:
    """What was seen before a kit goes back."""

    pieces: int
    lacks: str | None = None
    dirty: bool = False
    damage: str | None = None


def ask(kit: str, how: Asking) -> Deed:
    """Ask a supplier for a kit."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions.hires import asked as hires

        return hires.ask(
            shop, by, kit=kit, supplier=how.supplier, job=how.job, expected=how.expected,
            due=how.due, why=how.why,
        )  # fmt: skip

    return do


def receive(hire: str, found: Looked) -> Deed:
    """Write down that a kit came, and what it lacks."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions.hires import asked as hires

        return hires.receive(
            shop, by, hire=hire, complete=found.whole, note=found.note, due=found.due,
            missing=found.missing, wrong=found.wrong, serial=found.serial,
            valid_until=found.valid_until,
        )  # fmt: skip

    return do


def mend(hire: str, note: str | None) -> Deed:
    """What lacked has come."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions.hires import asked as hires

        return hires.mend(shop, by, hire=hire, note=note)

    return do


def extend(hire: str, due: datetime) -> Deed:
    """Keep a hire until another day."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions.hires import asked as hires

        return hires.extend(shop, by, hire=hire, due=due)

    return do


def give(hire: str, to: str | None) -> Deed:
    """Let another job use it; None is any."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions.hires import asked as hires

        return hires.give(shop, by, hire=hire, to=to)

    return do


def cancel(hire: str) -> Deed:
    """What was asked for is not wanted any more."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions.hires import asked as hires

        return hires.cancel(shop, by, hire=hire)

    return do


def send_back(hire: str, seen: Counted) -> Deed:
    """Hand a hire to the carrier."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions.hires import asked as hires

        return hires.send_back(
            shop, by, hire=hire, complete=seen.lacks is None, pieces=seen.pieces, note=seen.lacks,
            dirty=seen.dirty, damage=seen.damage,
        )  # fmt: skip

    return do


def arrived(hire: str, note: str | None) -> Deed:
    """The supplier has it again."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions.hires import asked as hires

        return hires.arrived(shop, by, hire=hire, note=note)

    return do


def deposit(hire: str, amount: float, note: str | None) -> Deed:
    """The deposit came back."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions.hires import asked as hires

        return hires.deposit(shop, by, hire=hire, amount=amount, note=note)

    return do


def invoice(hire: str, amount: float, late_fee: float, extras: float) -> Deed:
    """What a hire came to."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions.hires import asked as hires

        return hires.invoice(
            shop, by, hire=hire, amount=amount, late_fee=late_fee, extras=extras
        )  # fmt: skip

    return do


def know(supplier: str, house: House) -> Deed:
    """How a supplier counts."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions.hires import suppliers

        return suppliers.know(
            shop, by, name=supplier, cut_off=house.cut_off, counts=house.counts,
            weekend=house.weekend, late=house.late, lead_days=house.lead_days,
            back_days=house.back_days, cleaning=house.cleaning,
        )  # fmt: skip

    return do


def offer(kit: str, supplier: str, rates: Rates) -> Deed:
    """What a kit costs at a supplier's."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions.hires import suppliers

        return suppliers.offer(
            shop, by, kit=kit, supplier=supplier, day=rates.day, week=rates.week or 0.0,
            month=rates.month or 0.0, minimum_days=rates.minimum_days, carriage=rates.carriage,
            deposit=rates.deposit,
        )  # fmt: skip

    return do


def offer_gone(kit: str, supplier: str) -> Deed:
    """A supplier does not hire it out any more."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions.hires import suppliers

        return suppliers.offer_gone(shop, by, kit=kit, supplier=supplier)

    return do


def price(kit: str, buy: float | None, upkeep: float, life_years: float) -> Deed:
    """What a kit costs to buy, and to keep."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions.hires import suppliers

        return suppliers.price(shop, by, kit=kit, buy=buy, upkeep=upkeep, life_years=life_years)

    return do


def date_kit(kit: str, until: date, source: str) -> Deed:
    """Until when a kit of the shop may be used."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions.hires import kit_dates

        return kit_dates.know_date(shop, by, kit=kit, until=until, source=source)

    return do


def let_begin(job: str, phase: str, why: str) -> Deed:
    """The foreman's word that a phase may begin without its kit."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions.hires import kit_let

        return kit_let.let(shop, by, job=job, phase=phase, why=why)

    return do
