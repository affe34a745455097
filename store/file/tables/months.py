"""What a month cost the shop."""

from __future__ import annotations

import sqlite3

from store.edges.events.month import MonthCosts, MonthCostsTakenBack
from store.file.ledger import Row
from store.file.tables.applying import applies


@applies(MonthCosts)
def costs(db: sqlite3.Connection, row: Row, event: MonthCosts) -> None:
    db.execute(
        "insert into month_cost values (?, ?, ?, ?)",
        (row.seq, event.month, event.wages, event.overheads),
    )


@applies(MonthCostsTakenBack)
def costs_back(db: sqlite3.Connection, row: Row, event: MonthCostsTakenBack) -> None:
    db.execute("delete from month_cost where seq = ?", (event.entry,))
