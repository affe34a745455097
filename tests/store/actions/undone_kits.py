"""Acts about kits, their suppliers and their dates that can be taken back."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, time

from store.actions import books, clock
from store.actions.hires import asked as hires
from store.actions.hires import kit_dates, kit_let, suppliers
from tests.store.actions.made import BOOK, World

Made = Callable[[World], str]
Act = Callable[[World, str], object]
OWNED = BOOK.replace(
    'name = "chain link tool"\nowned = false', 'name = "chain link tool"\nowned = true'
)


def waiting(w: World) -> str:
    """A job that needs the link tool, two of them."""
    w.to(8)
    w.take(lift=None)
    return w.take(lift=None)


def with_supplier(w: World) -> str:
    """A supplier's way of counting and its terms are known."""
    job = waiting(w)
    suppliers.know(w.shop, w.by("FOR"), name="Loan", cut_off=time(15))
    suppliers.offer(w.shop, w.by("FOR"), kit="link", supplier="Loan", day=20, deposit=200)
    suppliers.price(w.shop, w.by("FOR"), kit="link", buy=500)
    return job


def asked(w: World) -> str:
    """Asked for, kept longer than first said."""
    job = with_supplier(w)
    hires.ask(w.shop, w.by("FOR"), kit="link", job=job, due=w.at(15, day=3))
    hires.extend(w.shop, w.by("FOR"), kit="link", due=w.at(15, day=4))
    return job


def lacking(w: World) -> str:
    """Here, and a pin of it lacks."""
    job = asked(w)
    hires.receive(w.shop, w.by("T1"), kit="link", missing=["pin"], serial="7")
    return job


def sent(w: World) -> str:
    """Handed to the carrier."""
    job = lacking(w)
    hires.send_back(w.shop, w.by("T1"), kit="link", dirty=True, damage="bent")
    return job


def _owned(w: World) -> str:
    job = waiting(w)
    books.load_workbook(w.shop, w.by("FOR"), source=OWNED)
    return job


def _open_to_link(w: World) -> str:
    """Everything before the phase that needs the link tool is done."""
    w.to(8)
    job = w.take()
    w.do("T2", job, "1")
    w.on("T2", job, "2")
    w.sign("T2", job, "HL", readings={"gross": 2000})
    w.sign("T2", job, "GB-off:1")
    w.sign("T2", job, "LK", readings={"a": 0.1, "b": 0.12})
    w.sign("T1", job, "LK")
    w.finish("T2", job, "2")
    w.on("T2", job, "3")
    w.sign("T2", job, "BU", answer="A")
    w.finish("T2", job, "3")
    suppliers.know(w.shop, w.by("FOR"), name="Loan")
    return job


OF_KITS: dict[str, tuple[Made, str, Act]] = {
    "supplier-known": (
        with_supplier, "FOR", lambda w, j: suppliers.know(w.shop, w.by("FOR"), name="LOAN", late=2)
    ),
    "offer-known": (
        with_supplier, "FOR",
        lambda w, j: suppliers.offer_gone(w.shop, w.by("FOR"), kit="link", supplier="Loan"),
    ),
    "kit-priced": (
        with_supplier, "FOR",
        lambda w, j: suppliers.price(w.shop, w.by("FOR"), kit="link", upkeep=30),
    ),
    "kit-inspected": (
        _owned, "T1",
        lambda w, j: kit_dates.know_date(
            w.shop, w.by("T1"), kit="link", until=date(2027, 3, 1), source="its label"
        ),
    ),
    "kit-let": (
        with_supplier, "FOR",
        lambda w, j: kit_let.let(w.shop, w.by("FOR"), job=j, phase="4", why="by hand"),
    ),
    "kit-let, with the clock": (
        _open_to_link, "FOR",
        lambda w, j: clock.clock_on(w.shop, w.by("FOR"), job=j, phase="4", why="by hand"),
    ),
    "hire-taken-back": (
        asked, "FOR", lambda w, j: hires.cancel(w.shop, w.by("FOR"), kit="link")
    ),
    "hire-received, with what lacks": (
        asked, "T1",
        lambda w, j: hires.receive(
            w.shop, w.by("T1"), kit="link", missing=["pin"], wrong=True, serial="7",
            valid_until=date(2027, 3, 1), due=w.at(12, day=8),
        ),
    ),
    "hire-mended": (
        lacking, "T1", lambda w, j: hires.mend(w.shop, w.by("T1"), kit="link", note="pin came")
    ),
    "hire-given": (
        lacking, "FOR", lambda w, j: hires.give(w.shop, w.by("FOR"), kit="link", to=None)
    ),
    "hire-arrived-back": (
        sent, "T1", lambda w, j: hires.arrived(w.shop, w.by("T1"), kit="link", note="bent")
    ),
    "deposit-returned": (
        sent, "FOR", lambda w, j: hires.deposit(w.shop, w.by("FOR"), kit="link", amount=120)
    ),
    "hire-invoiced": (
        sent, "FOR",
        lambda w, j: hires.invoice(w.shop, w.by("FOR"), kit="link", amount=140, extras=40),
    ),
}  # fmt: skip
