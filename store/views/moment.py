"""Reading the shop as of a given moment."""

from __future__ import annotations

from datetime import datetime

from store.edges.instants import from_text, to_text
from store.file.facts import calendar_of
from store.file.shop import Shop
from store.trouble import Refused


def check_moment(shop: Shop, at: datetime) -> None:
    """Refuse a moment before the last event: the file holds the present, not the past.

    Raises:
        Refused: naming the earliest moment that can be asked for.
    """
    with shop.reading() as db:
        row = db.execute("select max(recorded_at), max(happened_at) from ledger").fetchone()
        last = max(row[0], row[1])
        if to_text(at) < last:
            zone = calendar_of(db).zone
            when = from_text(last).astimezone(zone).isoformat()
            raise Refused(f"--at lies before the last entry. The earliest is {when}.")
