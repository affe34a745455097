"""Acts about kits and their suppliers: none gets work past a hold point."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from store.actions.hires import asked as hires
from store.actions.hires import back as hires_back
from store.actions.hires import here as hires_here
from store.actions.hires import kit_dates, kit_let, suppliers
from tests.store.actions.gate_desk import Scene


def _ask(s: Scene) -> object:
    return hires.ask(s.world.shop, s.world.by("FOR"), kit="link", supplier="Loan", job=s.job)


def _received(s: Scene) -> object:
    _ask(s)
    return hires_here.receive(
        s.world.shop, s.world.by("T1"), kit="link", due=s.world.at(12, 0, 4), missing=["pin"]
    )


def _mended(s: Scene) -> object:
    _received(s)
    return hires_here.mend(s.world.shop, s.world.by("T1"), kit="link")


def _sent(s: Scene) -> object:
    _received(s)
    return hires_back.send_back(s.world.shop, s.world.by("T1"), kit="link")


def _given(s: Scene) -> object:
    _ask(s)
    return hires.give(s.world.shop, s.world.by("FOR"), kit="link", to=None)


def _extended(s: Scene) -> object:
    _ask(s)
    return hires.extend(s.world.shop, s.world.by("FOR"), kit="link", due=s.world.at(12, 0, 4))


def _cancelled(s: Scene) -> object:
    _ask(s)
    return hires.cancel(s.world.shop, s.world.by("FOR"), kit="link")


def _arrived(s: Scene) -> object:
    _sent(s)
    return hires_back.arrived(s.world.shop, s.world.by("T1"), kit="link")


def _deposit(s: Scene) -> object:
    _sent(s)
    return hires_back.deposit(s.world.shop, s.world.by("FOR"), kit="link", amount=10)


def _invoice(s: Scene) -> object:
    _sent(s)
    return hires_back.invoice(s.world.shop, s.world.by("FOR"), kit="link", amount=10)


def _let(s: Scene) -> object:
    suppliers.know(s.world.shop, s.world.by("FOR"), name="Loan")
    return kit_let.let(s.world.shop, s.world.by("FOR"), job=s.job, phase=s.shut, why="by hand")


def _offered(s: Scene) -> object:
    suppliers.know(s.world.shop, s.world.by("FOR"), name="Loan")
    return suppliers.offer(s.world.shop, s.world.by("FOR"), kit="link", supplier="Loan", day=20)


def _gone(s: Scene) -> object:
    _offered(s)
    return suppliers.offer_gone(s.world.shop, s.world.by("FOR"), kit="link", supplier="Loan")


ACTS: dict[str, Callable[[Scene], object]] = {
    "hires.asked.ask": _ask,
    "hires.asked.extend": _extended,
    "hires.asked.give": _given,
    "hires.asked.cancel": _cancelled,
    "hires.here.receive": _received,
    "hires.here.mend": _mended,
    "hires.back.send_back": _sent,
    "hires.back.arrived": _arrived,
    "hires.back.deposit": _deposit,
    "hires.back.invoice": _invoice,
    "hires.kit_let.let": _let,
    "hires.suppliers.know": lambda s: suppliers.know(s.world.shop, s.world.by("FOR"), name="Loan"),
    "hires.suppliers.offer": _offered,
    "hires.suppliers.offer_gone": _gone,
    "hires.suppliers.price": lambda s: suppliers.price(
        s.world.shop, s.world.by("FOR"), kit="link", buy=500
    ),
    "hires.kit_dates.know_date": lambda s: kit_dates.know_date(
        s.world.shop, s.world.by("FOR"), kit="link", until=date(2027, 3, 1), source="label"
    ),
}
