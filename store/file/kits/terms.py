"""What suppliers ask for kits, what kits cost to buy, until when they are valid: as it is now."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, time
from typing import Any, cast

from store.sums.hires.terms import Counts, House, Rates, Terms, Weekend


@dataclass(frozen=True, slots=True)
class Offer:
    """A kit at one supplier's. `since`: the entry that said so."""

    kit: str
    supplier: str
    terms: Terms
    since: int


@dataclass(frozen=True, slots=True)
class Price:
    """What a kit costs to buy, to keep a year, and how long it lasts. `buy`: None is not known."""

    buy: float | None
    upkeep: float
    life_years: float


def terms_of(text: str | None) -> Terms | None:
    """Return the terms that a hire was asked for under, out of its row's JSON."""
    if text is None:
        return None
    row: dict[str, Any] = json.loads(text)
    return Terms(
        Rates(row["day"], row.get("week"), row.get("month"), row.get("minimum_days", 1),
              row.get("carriage", 0.0), row.get("deposit", 0.0)),
        House(time.fromisoformat(row["cut_off"]), cast("Counts", row["counts"]),
              cast("Weekend", row["weekend"]), row["late"], row["lead_days"], row["back_days"],
              row.get("cleaning", 0.0)),
    )  # fmt: skip


HOUSES = (
    "select * from supplier where seq in (select max(seq) from supplier group by supplier) "
    "order by supplier"
)
OFFERS = (
    "select * from offer where seq in (select max(seq) from offer group by kit, supplier) "
    "and day is not null order by kit, supplier"
)


def houses_now(db: sqlite3.Connection) -> dict[str, House]:
    """Return how each supplier counts, by its name."""
    return {row["supplier"]: _house(row) for row in db.execute(HOUSES)}


def _house(row: sqlite3.Row) -> House:
    return House(
        time.fromisoformat(row["cut_off"]), cast("Counts", row["counts"]),
        cast("Weekend", row["weekend"]), row["late"], row["lead_days"], row["back_days"],
        row["cleaning"],
    )  # fmt: skip


def offers_now(db: sqlite3.Connection) -> Mapping[str, tuple[Offer, ...]]:
    """Return what stands on offer, by kit; the supplier's usual way of counting where unsaid."""
    houses, found = houses_now(db), dict[str, tuple[Offer, ...]]()
    for row in db.execute(OFFERS):
        rates = Rates(
            row["day"], row["week"], row["month"], row["minimum_days"], row["carriage"],
            row["deposit"],
        )  # fmt: skip
        terms = Terms(rates, houses.get(row["supplier"], House()))
        one = Offer(row["kit"], row["supplier"], terms, row["seq"])
        found[one.kit] = (*found.get(one.kit, ()), one)
    return found


def prices_now(db: sqlite3.Connection) -> dict[str, Price]:
    """Return what kits cost to buy, by kit."""
    rows = db.execute(
        "select * from kit_price where seq in (select max(seq) from kit_price group by kit)"
    )
    return {row["kit"]: Price(row["buy"], row["upkeep"], row["life_years"]) for row in rows}


def valid_until(db: sqlite3.Connection) -> dict[str, date]:
    """Return until when kits may be used by their calibration or inspection, by kit."""
    rows = db.execute(
        "select kit, valid_until from kit_date "
        "where seq in (select max(seq) from kit_date group by kit)"
    )
    return {row["kit"]: date.fromisoformat(row["valid_until"]) for row in rows}
