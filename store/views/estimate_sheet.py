"""The estimate sheet of a job: what the customer reads before the word is given, and after."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date, datetime

from store.edges.instants import from_text
from store.file.books import NoBook
from store.file.facts import calendar_of, rate_on
from store.file.shop import Shop
from store.trouble import Refused
from store.views.desk.check import checks_of
from store.views.desk.told import quotes_of
from store.views.desk.values import QuoteNow, WayNow
from store.views.estimate import Estimate, estimate
from store.views.record import told as record_told
from store.views.record.values import Agreed, ExtraWork

LOW, HIGH = 1, 17
"""Places of the quantiles .10 and .90 among the nineteen: a rough range is right 8 times in 10."""
BESIDE = ("hired tools", "parts", "other firms")
"""What the labour of an estimate does not hold."""
MOST_EXTRAS = 6
"""Neighbouring work where none was offered by name: the likeliest."""
NO_MORE = ("finished", "closed", "declined", "turned-away")
"""States in which nothing is offered any more."""


@dataclass(frozen=True, slots=True)
class SheetWay:
    """One way that the work may go. Money of the shop's currency; None where it is not known.

    Attributes:
        low, high: of a rough range; `price` of a quote.
        includes: what the price holds beside labour; `excludes` what it does not.
    """

    text: str
    planned: bool
    price: float | None = None
    low: float | None = None
    high: float | None = None
    includes: tuple[str, ...] = ()
    excludes: tuple[str, ...] = ()
    ends: bool = False


@dataclass(frozen=True, slots=True)
class SheetExtra:
    """Neighbouring work: what it adds now, and what it costs alone later; None where unknown."""

    text: str
    now: float | None
    later: float | None


@dataclass(frozen=True, slots=True)
class EstimateSheet:
    """What the sheet says.

    Attributes:
        quote: its number; None where none was given yet and the range is a rough one.
        given: when, by whom and how.
        promise: when the vehicle is to be ready, as it was told.
        check: price of the check before the work; None where there is none or no rate.
        agreed: the customer's word so far.
    """

    shop: str
    job: str
    at: datetime = field(compare=False)
    zone: str
    currency: str
    state: str
    vehicle: str
    plate: str | None
    vin: str | None
    customer: str | None
    complaint: str | None
    work: str
    quote: int | None
    rough: bool
    given: tuple[datetime, str, str | None] | None
    ways: tuple[SheetWay, ...]
    basis: str | None
    ceiling: float | None
    promise: datetime | None
    until: date | None
    extras: tuple[SheetExtra, ...]
    check: float | None
    agreed: tuple[Agreed, ...]
    asked: tuple[ExtraWork, ...]


ROW = (
    "select job.*, label, vin, plate from job join vehicle on vehicle.vehicle = job.vehicle "
    "where job = ?"
)


def estimate_sheet(shop: Shop, job: str, now: datetime, *, names: bool = False) -> EstimateSheet:
    """Return the sheet of a job, from the first call to its end.

    Args:
        names: with the names of people outside the shop: whoever reads may see them.

    Raises:
        Refused: no job has that number.
    """
    with shop.reading() as db:
        row = db.execute(ROW, [job]).fetchone()
        if row is None:
            raise Refused(f"There is no job {job}. See the numbers with `hoistbook floor`.")
        calendar = calendar_of(db)
        rate = rate_on(db, calendar.day_of(now))
        quotes = quotes_of(db, [job]).get(job, [])
        quote = _shown(quotes)
        check = checks_of(db, calendar, [job], now).of(db, row)
        about = db.execute("select name, currency from shop").fetchone()
        agreed = record_told.agreed(db, job, names=names, money=True)
        asked = record_told.extra_work(db, job, names=names, money=True)
        customer = record_told.customer_name(db, job, names=names)
        priced = check.price if check.state in ("to come", "under way") else None
    live = _live(shop, row, now)
    return EstimateSheet(
        shop=about["name"], job=job, at=now, zone=str(calendar.zone), currency=about["currency"],
        state=row["state"], vehicle=row["label"], plate=row["plate"], vin=row["vin"],
        customer=customer, complaint=row["complaint"], work=row["work"],
        quote=quote.number if quote else None,
        rough=(quote is None or quote.rough) and not [one for one in agreed if not one.check],
        given=(quote.at, quote.who, quote.means) if quote else None,
        ways=_ways(row, quote, agreed, live, rate),
        basis=row["basis"] or (quote.basis if quote else None),
        ceiling=row["ceiling"] if row["ceiling"] is not None else quote.ceiling if quote else None,
        promise=from_text(row["promise"]) if row["promise"] else quote.promise if quote else None,
        until=quote.until if quote else None, extras=_extras(quote, live, rate), check=priced,
        agreed=agreed, asked=asked,
    )  # fmt: skip


def _shown(quotes: Sequence[QuoteNow]) -> QuoteNow | None:
    """The quote that was agreed to, else the newest."""
    agreed = [one for one in quotes if one.state == "agreed"]
    found = agreed or quotes
    return found[-1] if found else None


def _live(shop: Shop, row: sqlite3.Row, now: datetime) -> Estimate | None:
    """What the work would take by today; None where that is not to be told any more, or cannot."""
    if row["small"] or row["state"] in NO_MORE or not row["family"] or row["operations"] == "[]":
        return None
    try:
        return estimate(
            shop, now, operations=json.loads(row["operations"]), family=row["family"],
            options=json.loads(row["options"]), grade=row["grade"],
        )  # fmt: skip
    except (NoBook, Refused):
        return None


def _ways(
    row: sqlite3.Row,
    quote: QuoteNow | None,
    agreed: Sequence[Agreed],
    live: Estimate | None,
    rate: float | None,
) -> tuple[SheetWay, ...]:
    """What was quoted; else what was agreed at once; else a rough range of today."""
    if quote is not None and not quote.rough:
        return tuple(_quoted(one, quote.ways[0]) for one in quote.ways)
    words = [one for one in agreed if not one.check and one.money is not None]
    if words:
        return (SheetWay(row["work"], True, price=words[0].money, excludes=BESIDE),)
    return _rough(row, live, rate)


def _quoted(way: WayNow, planned: WayNow) -> SheetWay:
    kinds = (("hired tools", way.kits), ("parts", way.parts), ("other firms", way.outwork))
    return SheetWay(
        way.text, way == planned, price=way.money,
        includes=tuple(name for name, money in kinds if money is not None),
        excludes=tuple(name for name, money in kinds if money is None),
    )  # fmt: skip


def _rough(row: sqlite3.Row, live: Estimate | None, rate: float | None) -> tuple[SheetWay, ...]:
    """The planned way and what may come of open decisions, as ranges of labour."""
    if live is None:
        return ()
    found = [_range(row["work"], live.total.quantiles, rate, planned=True)]
    for fork in (*live.forks, *live.unknown):
        found += [
            SheetWay(f"{fork.text} {way.text}", False, ends=True)
            if way.ends
            else _range(f"{fork.text} {way.text}", way.total.quantiles, rate)
            for way in fork.ways
            if not way.planned
        ]
    return tuple(found)


def _range(
    text: str, quantiles: Sequence[float], rate: float | None, *, planned: bool = False
) -> SheetWay:
    if rate is None:
        return SheetWay(text, planned, excludes=BESIDE)
    low, high = (_rounded(rate * quantiles[one]) for one in (LOW, HIGH))
    return SheetWay(text, planned, low=low, high=high, excludes=BESIDE)


def _rounded(money: float) -> float:
    """A rough sum in tens: nobody knows it closer."""
    return round(money / 10) * 10.0


def _extras(
    quote: QuoteNow | None, live: Estimate | None, rate: float | None
) -> tuple[SheetExtra, ...]:
    """What was offered with the quote, else all that is nearly free now, with prices by today."""
    known = {one.text: one for one in live.extras} if live else {}
    named = [one.split(": now +")[0] for one in quote.extras] if quote else []
    offered = named or list(known)[:MOST_EXTRAS]
    found: list[SheetExtra] = []
    for text in offered:
        one = known.get(text)
        if one is None or rate is None:
            found.append(SheetExtra(text, None, None))
        else:
            now, later = (_rounded(rate * hours) for hours in (one.adds_h, one.alone_h))
            found.append(SheetExtra(text, now, later))
    return tuple(found)
