"""Lifts and other places."""

from __future__ import annotations

import sqlite3

from store.edges.events.places import (
    LiftInspected,
    LiftLookedOver,
    LiftReturned,
    LiftWithdrawn,
    PlaceAdded,
)
from store.file.ledger import Row
from store.file.tables.applying import applies


@applies(PlaceAdded)
def added(db: sqlite3.Connection, row: Row, event: PlaceAdded) -> None:
    db.execute(
        "insert into place (place, code, kind, lift_kind, rated_kg, position, in_service) "
        "values (?, ?, ?, ?, ?, ?, 1)",
        (event.place, event.code, event.place_kind, event.lift_kind, event.rated_kg,
         event.position),
    )  # fmt: skip


@applies(LiftInspected)
def inspected(db: sqlite3.Connection, row: Row, event: LiftInspected) -> None:
    db.execute(
        "update place set inspected = ?, months = ?, interval_source = ? where place = ?",
        (event.day, event.months, event.source, event.place),
    )


@applies(LiftLookedOver)
def looked_over(db: sqlite3.Connection, row: Row, event: LiftLookedOver) -> None:
    db.execute("update place set looked_over = ? where place = ?", (event.day, event.place))


@applies(LiftWithdrawn)
def withdrawn(db: sqlite3.Connection, row: Row, event: LiftWithdrawn) -> None:
    db.execute(
        "update place set in_service = 0, out_reason = ? where place = ?",
        (event.reason, event.place),
    )


@applies(LiftReturned)
def returned(db: sqlite3.Connection, row: Row, event: LiftReturned) -> None:
    db.execute("update place set in_service = 1, out_reason = null where place = ?", (event.place,))
