"""The work book's versions, and what screens need of them without reading the whole."""

from __future__ import annotations

import json
import sqlite3
from typing import Any

from store.edges.events.book import BookLoaded, KitKnown
from store.file.ledger import Row, canonical
from store.file.tables.applying import applies


@applies(BookLoaded)
def loaded(db: sqlite3.Connection, row: Row, event: BookLoaded) -> None:
    db.execute(
        "insert into book values (?, ?, ?, ?, ?)",
        (event.version, event.from_day, row.happened_at, event.source, event.content),
    )
    book = json.loads(event.content)
    _conditions(db, event.version, book)
    shared = {step["code"]: step for step in book.get("hold_points", [])}
    extras: dict[str, dict[str, Any]] = {}
    for operation in book["operations"]:
        for extra in operation.get("extras", []):
            extras.setdefault(extra["phase"], {})[extra["step"]["code"]] = extra["step"]
    for phase in book["phases"]:
        code = phase["code"]
        _phase(db, event.version, phase)
        steps = {**shared, **{one["code"]: one for one in phase.get("steps", [])}}
        _steps(db, event.version, code, {**steps, **extras.get(code, {})})


def _conditions(db: sqlite3.Connection, version: int, book: dict[str, Any]) -> None:
    db.executemany(
        "insert into book_condition values (?, ?, ?, ?)",
        [
            (version, one["code"], one["text"], json.dumps(one["forbids"]))
            for one in book.get("conditions", [])
        ],
    )


def _phase(db: sqlite3.Connection, version: int, phase: dict[str, Any]) -> None:
    lists = [
        json.dumps(phase.get(name, []), ensure_ascii=False)
        for name in ("cautions", "needs", "opens", "closes")
    ]
    db.execute(
        "insert into book_phase values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        (version, phase["code"], phase["name"], phase["kind"], json.dumps(phase["place"]),
         phase["after"], phase["phase_class"], *lists),
    )  # fmt: skip


def _steps(db: sqlite3.Connection, version: int, phase: str, steps: dict[str, Any]) -> None:
    db.executemany(
        "insert into book_step values (?, ?, ?, ?, ?)",
        [(version, phase, code, step["kind"], canonical(step)) for code, step in steps.items()],
    )


@applies(KitKnown)
def kit(db: sqlite3.Connection, row: Row, event: KitKnown) -> None:
    db.execute(
        "insert into kit values (?, ?, ?, ?) "
        "on conflict (kit) do update set name = excluded.name, owned = excluded.owned",
        (event.kit, event.code, event.name, event.owned),
    )
