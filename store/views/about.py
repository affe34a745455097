"""What the file says of the shop itself."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from store.edges.instants import from_text
from store.file.shop import Shop
from store.sums.zones import zone_named
from store.trouble import Refused


@dataclass(frozen=True, slots=True)
class DemoMade:
    """How an invented shop was made, and the instant at which its own clock starts."""

    seed: int
    months: int
    opens_at: datetime


@dataclass(frozen=True, slots=True)
class About:
    """Name, zone and currency; `demo` is None in a real shop."""

    name: str
    zone: ZoneInfo
    currency: str
    demo: DemoMade | None


def about(shop: Shop) -> About:
    """Return what the file says of the shop itself.

    Raises:
        Refused: the file holds no shop yet.
        UnknownZone: this machine does not know its time zone.
    """
    with shop.reading() as db:
        row = db.execute("select name, zone, currency, demo from shop").fetchone()
    if row is None:
        raise Refused(f"{shop.path} holds no shop yet. Make one in another place: hoistbook init.")
    return About(row["name"], zone_named(row["zone"]), row["currency"], _demo(row["demo"]))


def _demo(text: str | None) -> DemoMade | None:
    if text is None:
        return None
    found = json.loads(text)
    return DemoMade(found["seed"], found["months"], from_text(found["opens_at"]))


def last_entry_at(shop: Shop) -> datetime | None:
    """Return when the newest entry was written; None where there is none."""
    with shop.reading() as db:
        row = db.execute("select recorded_at from ledger order by seq desc limit 1").fetchone()
    return from_text(row[0]) if row else None
