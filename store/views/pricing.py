"""Prices and costs alone, for whoever asks for them without the rest of a month."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime

from store.file.books import NoBook, book_on
from store.file.facts import calendar_of
from store.file.month.facts import facts
from store.file.shop import Shop
from store.rules.book import WorkBook
from store.sums.month.span import month_of
from store.trouble import Refused
from store.views.month.look import Look
from store.views.month.open import opened, reader_of
from store.views.month.prices import OWNERS, prices_of
from store.views.month.told_values import Prices


@dataclass(frozen=True, slots=True)
class Pricing:
    """The prices of the twelve months that end with a month."""

    month: str
    currency: str
    prices: Prices


def pricing(
    shop: Shop,
    now: datetime,
    *,
    month: str | None = None,
    rate: float | None = None,
    by: str | None = None,
) -> Pricing:
    """Return what prices would have kept, what operations earned and what months cost.

    Args:
        month: `2026-09`; None: the one that runs.
        rate: money an hour at which the quotes are looked at as well.
        by: badge of whoever reads; None is whoever can open the file.

    Raises:
        Refused: no such month, a rate of nought or below, or whoever reads is no owner.
    """
    with shop.reading() as db:
        reader, calendar = reader_of(db, by, None), calendar_of(db)
        if reader.role != "owner":
            raise Refused(OWNERS)
        newest = month_of(now.astimezone(calendar.zone).date())
        span = opened(db, month or newest, now, calendar.zone)
        book: WorkBook | None = None
        with suppress(NoBook):
            book = book_on(db, span.last)[1]
        look = Look(db, span, now, calendar, facts(db, span.until, now), book)
        currency = db.execute("select currency from shop").fetchone()[0]
        return Pricing(span.month, currency, prices_of(look, rate))
