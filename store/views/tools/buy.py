"""Hire or buy: what the past year's hires came to, and whether the kit would pay."""

from __future__ import annotations

import math
import sqlite3
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from statistics import fmean, stdev

from store.edges.instants import from_text, to_text
from store.file.kits.terms import Price, terms_of
from store.sums.hires import or_buy as sums
from store.sums.hires.charge import charge
from store.sums.hires.days import ShopDays
from store.views.tools.read import KitRow, Known
from store.views.tools.values import HireOrBuy
from store.views.tools.words import counted, tenths, whole

YEAR = timedelta(days=365)
YEAR_DAYS = 365.25
FEWEST = 2
"""Hires in a year below which nothing is said of a kit."""
SHORTEST = 0.25
"""Of a year, for which hires are known at least, before anything is said of a year to come."""


@dataclass(frozen=True, slots=True)
class Past:
    """One hire that is over or runs: its days, and what it came to."""

    days: float
    cost: float | None


def hire_or_buy(db: sqlite3.Connection, known: Known, days: ShopDays) -> tuple[HireOrBuy, ...]:
    """Return what is to be said of each kit that was hired more than once in the past year."""
    since = known.now - YEAR
    past, first = _past(db, known, days, since)
    years = min(1.0, max(0.0, (known.now - first) / timedelta(days=YEAR_DAYS))) if first else 0.0
    if years < SHORTEST:
        return ()
    return tuple(
        _weighed(kit, past[kit.code], years, known.prices.get(kit.code))
        for kit in known.kits
        if not kit.owned and len(past[kit.code]) >= FEWEST
    )


def _past(
    db: sqlite3.Connection, known: Known, days: ShopDays, since: datetime
) -> tuple[dict[str, list[Past]], datetime | None]:
    """Hires of the past year by kit, and since when hires are kept here."""
    found: dict[str, list[Past]] = defaultdict(list)
    for row in db.execute(
        "select kit, terms, received_at, sent_at, due, invoiced from hire "
        "where received_at > ? order by received_at",
        [to_text(since)],
    ):
        found[row["kit"]].append(_one(row, known, days))
    first = db.execute("select min(received_at) from hire").fetchone()[0]
    return found, None if first is None else from_text(first)


def _one(row: sqlite3.Row, known: Known, days: ShopDays) -> Past:
    came, terms = from_text(row["received_at"]), terms_of(row["terms"])
    end = row["sent_at"] or row["due"]
    last = known.now if end is None else max(came, from_text(end))
    if terms is None:
        return Past((last - came) / timedelta(days=1), row["invoiced"])
    handed = max(days.handed(last, terms.house.cut_off), known.calendar.day_of(came))
    due = None if row["due"] is None else known.calendar.day_of(from_text(row["due"]))
    reckoned = charge(terms, came, handed, days, due=due)
    return Past(reckoned.days, reckoned.total if row["invoiced"] is None else row["invoiced"])


def _weighed(kit: KitRow, past: Sequence[Past], years: float, price: Price | None) -> HireOrBuy:
    costs = [one.cost for one in past if one.cost is not None]
    spent, days = sum(costs), sum(one.days for one in past)
    if not costs:
        says = f"{counted(len(past), 'hire')} in the past year; what they came to is not known"
        return _unsaid(kit, len(past), days, 0.0, says)
    uses = sums.Uses(len(past), years, fmean(costs), stdev(costs) if len(costs) > 1 else 0.0)
    seen = f"hired {len(past)} times in the past year, {whole(spent)} in all"
    if price is None or price.buy is None:
        return _unsaid(kit, len(past), days, spent, f"{seen}; its price is not known")
    found = sums.hire_or_buy(uses, sums.Own(price.buy, price.upkeep, price.life_years))
    return HireOrBuy(
        kit.code, kit.name, len(past), days, spent,
        (found.low, found.next_year, found.high), price.buy,
        None if math.isinf(found.break_even) else found.break_even, found.buy_cheaper,
        _says(seen, found, price),
    )  # fmt: skip


def _unsaid(kit: KitRow, jobs: int, days: float, spent: float, says: str) -> HireOrBuy:
    ahead = (float(jobs), float(jobs), float(jobs))
    return HireOrBuy(kit.code, kit.name, jobs, days, spent, ahead, None, None, None, says)


def _says(seen: str, found: sums.HireOrBuy, price: Price) -> str:
    """In plain words: what was, what is to come, where it turns, and how sure that is."""
    assert price.buy is not None
    upkeep = f" and {whole(price.upkeep)} a year" if price.upkeep else ""
    ahead = f"next year {found.low} to {found.high}"
    if math.isinf(found.break_even):
        return f"{seen}; {ahead}. Hiring costs nothing: do not buy."
    turn = f"pays from {counted(math.ceil(found.break_even), 'hire')} a year"
    better = "Buy" if found.buy_cheaper >= 0.5 else "Go on hiring"
    odds = tenths(max(found.buy_cheaper, 1 - found.buy_cheaper))
    life = f"over {price.life_years:g} years"
    return (
        f"{seen}; {ahead}. Buying for {whole(price.buy)}{upkeep} {turn}. "
        f"{better}: cheaper {life} {odds}."
    )
