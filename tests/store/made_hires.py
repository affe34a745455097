"""Suppliers and hires of the busy shop: terms said anew, a hire from asking to its invoice."""

from __future__ import annotations

from datetime import date, time

from store.actions import hires, kit_let, suppliers, undo
from store.edges.events_hire import KitInspected
from tests.store.actions.made import World


def hired_whole(world: World) -> None:
    """A hire gone through whole, another begun; a word to begin without; entries taken back."""
    _suppliers(world)
    job = world.take("TC", lift=None)
    _let(world, job)
    _whole(world, job)
    hires.ask(world.shop, world.by("FOR"), kit="link", supplier="Levers", job=job)


def _suppliers(world: World) -> None:
    shop = world.shop
    suppliers.know(
        shop, world.by("FOR"), name="Levers", cut_off=time(15), counts="arrival", weekend="free",
        late=2, lead_days=1, back_days=2, cleaning=35,
    )  # fmt: skip
    suppliers.know(shop, world.by("OWN"), name=" lev ers", late=1.5)
    suppliers.know(shop, world.by("OWN"), name="Levers", cut_off=time(16))
    undo.undo(shop, world.by("OWN"))
    suppliers.offer(
        shop, world.by("FOR"), kit="link", supplier="Levers", day=24, week=90, month=260,
        minimum_days=3, carriage=15, deposit=200,
    )  # fmt: skip
    suppliers.offer(shop, world.by("FOR"), kit="locks", supplier="Levers", day=18)
    suppliers.offer_gone(shop, world.by("FOR"), kit="locks", supplier="Levers")
    suppliers.price(shop, world.by("FOR"), kit="link", buy=640, upkeep=25, life_years=6)
    with shop.changing(world.by("T1")) as change:
        change.record(
            KitInspected(kit="locks", valid_until=date(2027, 3, 1).isoformat(), source="label")
        )


def _let(world: World, job: str) -> None:
    phase = world.phase(job, "B2").phase
    kit_let.let(world.shop, world.by("OWN"), job=job, phase=phase, why="shown to somebody")
    undo.undo(world.shop, world.by("OWN"))
    kit_let.let(world.shop, world.by("FOR"), job=job, phase=phase, why="by hand, as the book says")


def _whole(world: World, job: str) -> None:
    shop = world.shop
    hires.ask(shop, world.by("FOR"), kit="link", job=job, supplier="levers")
    hires.cancel(shop, world.by("FOR"), kit="link", job=job)
    undo.undo(shop, world.by("FOR"))
    hires.receive(
        shop, world.by("T1"), kit="link", job=job, due=world.at(15, day=3), missing=["pin"],
        wrong=True, serial="LT 7", valid_until=date(2027, 5, 1),
    )  # fmt: skip
    hires.mend(shop, world.by("T1"), kit="link", job=job, note="pin came")
    hires.extend(shop, world.by("FOR"), kit="link", job=job, due=world.at(15, day=4))
    hires.send_back(
        shop, world.by("T1"), kit="link", job=job, pieces=6, dirty=True, damage="tip bent",
        complete=False, note="a pin lacks",
    )  # fmt: skip
    hires.arrived(shop, world.by("T1"), kit="link", job=job, note="looked through")
    hires.deposit(shop, world.by("FOR"), kit="link", job=job, amount=150)
    hires.invoice(shop, world.by("FOR"), kit="link", job=job, amount=184.5, late_fee=24, extras=60)
    hires.invoice(shop, world.by("OWN"), kit="link", hire=_oldest(world), amount=40)
    hires.give(shop, world.by("FOR"), kit="locks", to=None)
    undo.undo(shop, world.by("FOR"))


def _oldest(world: World) -> str:
    found = world.one("select hire from hire where sent_at is not null order by sent_at limit 1")
    assert isinstance(found, str)
    return found
