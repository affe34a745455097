"""Hires that went back and are not settled yet, and what the forms of suppliers need."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime

from store.edges.instants import from_text
from store.file.kits.terms import (
    Offer,
    Price,
    houses_now,
    offers_now,
    prices_now,
    terms_of,
    valid_until,
)
from store.file.shop import Shop
from store.sums.hires.terms import House, Terms

OPEN = (
    "sent_at is not null and (arrived_at is null or invoiced_at is null or "
    "(deposit_at is null and coalesce(json_extract(terms, '$.deposit'), 0) > 0))"
)


@dataclass(frozen=True, slots=True)
class HireBack:
    """A hire that was handed to the carrier, of which something is still to come.

    Attributes:
        deposit: that was paid; 0 where none was, or its terms are not known.
    """

    hire: str
    kit: str
    name: str
    supplier: str
    job: str | None
    sent_at: datetime
    arrived_at: datetime | None
    deposit: float
    deposit_at: datetime | None
    invoiced_at: datetime | None
    terms: Terms | None = None

    @property
    def to_come(self) -> tuple[str, ...]:
        """What is still to come of it: `arrival`, `deposit`, `invoice`."""
        parts = (
            ("arrival", self.arrived_at is None),
            ("deposit", self.deposit > 0 and self.deposit_at is None),
            ("invoice", self.invoiced_at is None),
        )
        return tuple(name for name, comes in parts if comes)


@dataclass(frozen=True, slots=True)
class Supply:
    """What is known of suppliers and kits.

    Attributes:
        houses: how each supplier counts.
        offers: by kit, what it costs where.
        prices, dates: by kit, to buy and its calibration or inspection.
        names: suppliers that were ever named, the latest asked first.
    """

    houses: Mapping[str, House]
    offers: Mapping[str, tuple[Offer, ...]]
    prices: Mapping[str, Price]
    dates: Mapping[str, date]
    names: tuple[str, ...] = ()


def hires_back(shop: Shop) -> tuple[HireBack, ...]:
    """Return what was sent back and is not settled, the oldest first.

    Raises:
        Trouble: the file cannot be read.
    """
    with shop.reading() as db:
        rows = db.execute(
            "select hire.*, coalesce(name, hire.kit) as name from hire "
            f"left join kit on kit.code = hire.kit where {OPEN} order by sent_at, hire"
        ).fetchall()
    return tuple(_back(row) for row in rows)


def _back(row: sqlite3.Row) -> HireBack:
    terms = terms_of(row["terms"])
    return HireBack(
        row["hire"], row["kit"], row["name"], row["supplier"], row["job"],
        from_text(row["sent_at"]), _at(row["arrived_at"]),
        terms.rates.deposit if terms else 0.0, _at(row["deposit_at"]), _at(row["invoiced_at"]),
        terms,
    )  # fmt: skip


def _at(text: str | None) -> datetime | None:
    return from_text(text) if text else None


def supply(shop: Shop) -> Supply:
    """Return what suppliers and kits cost, as it is known now.

    Raises:
        Trouble: the file cannot be read.
    """
    with shop.reading() as db:
        asked = db.execute(
            "select supplier from hire group by supplier order by max(asked_at) desc, supplier"
        )
        houses = houses_now(db)
        names = dict.fromkeys([*(row["supplier"] for row in asked), *houses])
        return Supply(houses, offers_now(db), prices_now(db), valid_until(db), tuple(names))
