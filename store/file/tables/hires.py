"""Special tools: suppliers and their terms, hires, dates of kits."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Sequence

from store.edges.events.hires import (
    DepositReturned,
    HireArrivedBack,
    HireAsked,
    HireExtended,
    HireGiven,
    HireInvoiced,
    HireMended,
    HireReceived,
    HireSentBack,
    HireTakenBack,
    KitInspected,
    KitLet,
    KitLetTakenBack,
    KitPriced,
    OfferKnown,
    SupplierKnown,
    TermsTakenBack,
)
from store.file.ledger import Row, canonical
from store.file.tables.applying import applies

TERMS = ("supplier", "offer", "kit_price", "kit_date")
"""Tables of which the newest row of each name stands."""
_BY = "(select person from person where badge = ?)"


def _texts(these: Sequence[str]) -> str:
    return json.dumps(list(these), ensure_ascii=False)


@applies(SupplierKnown)
def supplier(db: sqlite3.Connection, row: Row, event: SupplierKnown) -> None:
    db.execute(
        "insert into supplier values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        (row.seq, event.supplier, row.happened_at, event.cut_off, event.counts, event.weekend,
         event.late, event.lead_days, event.back_days, event.cleaning),
    )  # fmt: skip


@applies(OfferKnown)
def offer(db: sqlite3.Connection, row: Row, event: OfferKnown) -> None:
    db.execute(
        "insert into offer values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        (row.seq, event.kit, event.supplier, row.happened_at, event.day, event.week, event.month,
         event.minimum_days, event.carriage, event.deposit),
    )  # fmt: skip


@applies(KitPriced)
def priced(db: sqlite3.Connection, row: Row, event: KitPriced) -> None:
    db.execute(
        "insert into kit_price values (?, ?, ?, ?, ?, ?)",
        (row.seq, event.kit, row.happened_at, event.buy, event.upkeep, event.life_years),
    )


@applies(KitInspected)
def inspected(db: sqlite3.Connection, row: Row, event: KitInspected) -> None:
    db.execute(
        "insert into kit_date values (?, ?, ?, ?, ?)",
        (row.seq, event.kit, row.happened_at, event.valid_until, event.source),
    )


@applies(TermsTakenBack)
def terms_back(db: sqlite3.Connection, row: Row, event: TermsTakenBack) -> None:
    for table in TERMS:
        db.execute(f"delete from {table} where seq = ?", (event.entry,))


@applies(KitLet)
def let(db: sqlite3.Connection, row: Row, event: KitLet) -> None:
    db.execute(
        f"insert into kit_let values (?, ?, ?, ?, {_BY}, ?, ?)",
        (row.seq, event.job, event.phase, _texts(event.kits), row.badge, row.happened_at,
         event.why),
    )  # fmt: skip


@applies(KitLetTakenBack)
def let_back(db: sqlite3.Connection, row: Row, event: KitLetTakenBack) -> None:
    db.execute("delete from kit_let where seq = ?", (event.entry,))


@applies(HireAsked)
def asked(db: sqlite3.Connection, row: Row, event: HireAsked) -> None:
    terms = None if event.terms is None else canonical(event.terms.model_dump())
    db.execute(
        "insert into hire (hire, kit, supplier, job, asked_at, terms, expected, due, first_due, "
        "missing, wrong, note) values (?, ?, ?, ?, ?, ?, ?, ?, ?, '[]', 0, ?)",
        (event.hire, event.kit, event.supplier, event.job, row.happened_at, terms, event.expected,
         event.due, event.due, event.note),
    )  # fmt: skip


@applies(HireReceived)
def received(db: sqlite3.Connection, row: Row, event: HireReceived) -> None:
    db.execute(
        "update hire set received_at = ?1, complete = ?2, came_complete = ?2, "
        "note = coalesce(?3, note), due = coalesce(?4, due), first_due = coalesce(first_due, ?4), "
        "serial = ?5, missing = ?6, wrong = ?7, valid_until = ?8 where hire = ?9",
        (row.happened_at, event.complete, event.note, event.due, event.serial,
         _texts(event.missing), event.wrong, event.valid_until, event.hire),
    )  # fmt: skip


@applies(HireMended)
def mended(db: sqlite3.Connection, row: Row, event: HireMended) -> None:
    db.execute(
        "update hire set complete = 1, missing = '[]', wrong = 0, note = coalesce(?, note) "
        "where hire = ?",
        (event.note, event.hire),
    )


@applies(HireExtended)
def extended(db: sqlite3.Connection, row: Row, event: HireExtended) -> None:
    db.execute("update hire set due = ? where hire = ?", (event.due, event.hire))


@applies(HireGiven)
def given(db: sqlite3.Connection, row: Row, event: HireGiven) -> None:
    db.execute("update hire set job = ? where hire = ?", (event.to, event.hire))


@applies(HireSentBack)
def sent_back(db: sqlite3.Connection, row: Row, event: HireSentBack) -> None:
    db.execute(
        "update hire set sent_at = ?, sent_complete = ?, pieces = ?, note = coalesce(?, note), "
        "clean = ?, damage = ? where hire = ?",
        (row.happened_at, event.complete, event.pieces, event.note, event.clean, event.damage,
         event.hire),
    )  # fmt: skip


@applies(HireArrivedBack)
def arrived_back(db: sqlite3.Connection, row: Row, event: HireArrivedBack) -> None:
    db.execute(
        "update hire set arrived_at = ?, note = coalesce(?, note) where hire = ?",
        (row.happened_at, event.note, event.hire),
    )


@applies(DepositReturned)
def deposit(db: sqlite3.Connection, row: Row, event: DepositReturned) -> None:
    db.execute(
        "update hire set deposit_at = ?, deposit_back = ?, note = coalesce(?, note) where hire = ?",
        (row.happened_at, event.amount, event.note, event.hire),
    )


@applies(HireInvoiced)
def invoiced(db: sqlite3.Connection, row: Row, event: HireInvoiced) -> None:
    db.execute(
        "update hire set invoiced_at = ?, invoiced = ?, late_fee = ?, extras = ?, "
        "note = coalesce(?, note) where hire = ?",
        (row.happened_at, event.amount, event.late_fee, event.extras, event.note, event.hire),
    )


@applies(HireTakenBack)
def taken_back(db: sqlite3.Connection, row: Row, event: HireTakenBack) -> None:
    was = event.was
    if was is None:
        db.execute("delete from hire where hire = ?", (event.hire,))
        return
    db.execute(
        "update hire set job = ?, due = ?, first_due = ?, received_at = ?, complete = ?, "
        "came_complete = ?, sent_at = ?, sent_complete = ?, pieces = ?, note = ?, serial = ?, "
        "missing = ?, wrong = ?, valid_until = ?, clean = ?, damage = ?, arrived_at = ?, "
        "deposit_at = ?, deposit_back = ?, invoiced_at = ?, invoiced = ?, late_fee = ?, "
        "extras = ? where hire = ?",
        (was.job, was.due, was.first_due, was.received_at, was.complete, was.came_complete,
         was.sent_at,
         was.sent_complete, was.pieces, was.note, was.serial, _texts(was.missing), was.wrong,
         was.valid_until, was.clean, was.damage, was.arrived_at, was.deposit_at, was.deposit_back,
         was.invoiced_at, was.invoiced, was.late_fee, was.extras, event.hire),
    )  # fmt: skip
