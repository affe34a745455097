"""Suppliers and hires of the busy shop: terms said anew, a hire from asking to its invoice."""

from __future__ import annotations

from datetime import date, time

from store.actions.hires import asked as hires
from store.actions.hires import kit_let, suppliers
from store.actions.undo import taking_back as undo
from store.edges.events.hires import KitInspected
from store.file.change import By
from tests.store.actions.made import World


def hired_whole(world: World) -> None:
    """A hire gone through whole, another begun; a word to begin without; entries taken back."""
    _suppliers(world)
    job = world.take("TC", lift=None)
    _let(world, job)
    _whole(world, job)
    hires.ask(world.shop, _by(world, "FOR"), kit="link", supplier="Levers", job=job)


def _by(world: World, badge: str) -> By:
    """Six seconds later: the busy shop's morning stays as early as it was."""
    return world.by(badge, minutes=0.1)


def _suppliers(world: World) -> None:
    shop = world.shop
    suppliers.know(
        shop, _by(world, "FOR"), name="Levers", cut_off=time(15), counts="arrival", weekend="free",
        late=2, lead_days=1, back_days=2, cleaning=35,
    )  # fmt: skip
    suppliers.know(shop, _by(world, "OWN"), name=" lev ers", late=1.5)
    suppliers.know(shop, _by(world, "OWN"), name="Levers", cut_off=time(16))
    undo.undo(shop, _by(world, "OWN"))
    suppliers.offer(
        shop, _by(world, "FOR"), kit="link", supplier="Levers", day=24, week=90, month=260,
        minimum_days=3, carriage=15, deposit=200,
    )  # fmt: skip
    suppliers.offer(shop, _by(world, "FOR"), kit="locks", supplier="Levers", day=18)
    suppliers.offer_gone(shop, _by(world, "FOR"), kit="locks", supplier="Levers")
    suppliers.price(shop, _by(world, "FOR"), kit="link", buy=640, upkeep=25, life_years=6)
    with shop.changing(_by(world, "T1")) as change:
        change.record(
            KitInspected(kit="locks", valid_until=date(2027, 3, 1).isoformat(), source="label")
        )


def _let(world: World, job: str) -> None:
    phase = world.phase(job, "B2").phase
    kit_let.let(world.shop, _by(world, "OWN"), job=job, phase=phase, why="shown to somebody")
    undo.undo(world.shop, _by(world, "OWN"))
    kit_let.let(
        world.shop, _by(world, "FOR"), job=job, phase=phase, why="by hand, as the book says"
    )


def _whole(world: World, job: str) -> None:
    shop = world.shop
    hires.ask(shop, _by(world, "FOR"), kit="link", job=job, supplier="levers")
    hires.cancel(shop, _by(world, "FOR"), kit="link", job=job)
    undo.undo(shop, _by(world, "FOR"))
    hires.receive(
        shop, _by(world, "T1"), kit="link", job=job, due=world.at(15, day=3), missing=["pin"],
        wrong=True, serial="LT 7", valid_until=date(2027, 5, 1),
    )  # fmt: skip
    hires.mend(shop, _by(world, "T1"), kit="link", job=job, note="pin came")
    hires.extend(shop, _by(world, "FOR"), kit="link", job=job, due=world.at(15, day=4))
    hires.send_back(
        shop, _by(world, "T1"), kit="link", job=job, pieces=6, dirty=True, damage="tip bent",
        complete=False, note="a pin lacks",
    )  # fmt: skip
    hires.arrived(shop, _by(world, "T1"), kit="link", job=job, note="looked through")
    hires.deposit(shop, _by(world, "FOR"), kit="link", job=job, amount=150)
    hires.invoice(
        shop, _by(world, "FOR"), kit="link", job=job, amount=184.5, late_fee=24, extras=60
    )
    hires.invoice(shop, _by(world, "OWN"), kit="link", hire=_oldest(world), amount=40)
    hires.give(shop, _by(world, "FOR"), kit="locks", to=None)
    undo.undo(shop, _by(world, "FOR"))


def _oldest(world: World) -> str:
    found = world.one("select hire from hire where sent_at is not null order by sent_at limit 1")
    assert isinstance(found, str)
    return found
