"""Parts and outwork of an owner's month, where their prices are known."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from store.edges.instants import from_text, to_text
from store.sums.month.span import MonthSpan

HERE = ("here", "fitted")
MOVED = (
    "select seq, kind, happened_at, payload from ledger "
    "where kind in ('parts-moved', 'parts-taken-back') and happened_at < ? order by seq"
)
PRICED = "select job, line, text from part where price is not null"
OUTWORK = (
    "select seq, back_seq, job, what, firm, back_at, coalesce(charged, price) as money "
    "from outwork where back_at < ? order by back_at"
)


@dataclass(frozen=True, slots=True)
class Bought:
    """A part that is here or fitted, or outwork that is back. `at`: when it came."""

    job: str
    says: str
    money: float
    at: datetime
    seq: int
    outwork: bool = False


def bought_until(db: sqlite3.Connection, until: datetime) -> list[Bought]:
    """Return what came before an instant and was not sent back by then, where its price is known,
    as it came."""
    found = [*_parts(db, until), *_outwork(db, until)]
    return sorted(found, key=lambda one: (one.at, one.seq))


def came_in(bought: list[Bought], span: MonthSpan) -> list[Bought]:
    """Return what came in a month."""
    return [one for one in bought if span.holds(one.at)]


def _parts(db: sqlite3.Connection, until: datetime) -> Iterator[Bought]:
    """As the entries moved them: the table knows only how they stand now."""
    texts = {(row[0], row[1]): row[2] for row in db.execute(PRICED)}
    if not texts:
        return
    at: dict[tuple[str, int], tuple[datetime, int]] = {}
    prices: dict[tuple[str, int], float] = {}
    for row in db.execute(MOVED, [to_text(until)]):
        moved = json.loads(row["payload"])
        lines = (
            [(line, moved["state"], moved.get("price")) for line in moved["lines"]]
            if row["kind"] == "parts-moved"
            else [(one["line"], one["state"], one.get("price")) for one in moved.get("back", ())]
        )
        for line, state, price in lines:
            key = (moved["job"], line)
            if price is not None:
                prices[key] = price
            if state not in HERE:
                at.pop(key, None)
            elif key not in at:
                at[key] = (from_text(row["happened_at"]), row["seq"])
    for key, (came, seq) in at.items():
        if key in texts and key in prices:
            yield Bought(key[0], texts[key], prices[key], came, seq)


def _outwork(db: sqlite3.Connection, until: datetime) -> Iterator[Bought]:
    for row in db.execute(OUTWORK, [to_text(until)]):
        if row["money"] is not None:
            says = f"{row['what']}, {row['firm']}"
            seq = row["back_seq"] or row["seq"]
            yield Bought(row["job"], says, row["money"], from_text(row["back_at"]), seq, True)
