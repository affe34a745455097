"""The work book that holds."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from store.file.books import book_on
from store.file.facts import calendar_of
from store.file.shop import Shop
from store.rules.book import WorkBook


@dataclass(frozen=True, slots=True)
class BookNow:
    """A version of the work book; `source` is the TOML as it was written."""

    version: int
    from_day: date
    source: str
    book: WorkBook


def book_now(shop: Shop, now: datetime) -> BookNow:
    """Return the work book that holds at a moment.

    Raises:
        NoBook: there is none.
    """
    with shop.reading() as db:
        version, book = book_on(db, calendar_of(db).day_of(now))
        row = db.execute(
            "select from_day, source from book where version = ?", [version]
        ).fetchone()
        return BookNow(version, date.fromisoformat(row["from_day"]), row["source"], book)
