"""Sentences of the desk: who was here before, what was quoted, what a day is called."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from store.views.desk.at_desk import AtDesk, VehicleFacts, VisitLine
from store.views.desk.values import QuoteNow, WayNow
from tui.desk.reading import day_words
from tui.words import hours, local, money, zone_of

SHOWN = 2
"""Visits before that are named."""
BASES = {"fixed price": "fixed price", "ceiling": "estimate with a ceiling",
         "time": "time and materials"}  # fmt: skip


def visits_words(
    vehicle: VehicleFacts, before: Sequence[VisitLine], now: datetime, zone: str
) -> str:
    """`here before: 2417 clutch, closed 3 Mar; 84,200 km`."""
    today = local(now, zone_of(zone)).date()
    named = [
        f"{one.job} {one.work}, "
        + (f"closed {day_words(one.closed, today)}" if one.closed else one.state.replace("-", " "))
        for one in before[:SHOWN]
    ]
    more = len(before) - len(named)
    parts = [*named, *([f"{more} more"] if more > 0 else [])]
    if vehicle.odometer is not None:
        parts.append(distance(vehicle.odometer[0], vehicle.odometer[1]))
    return f"here before: {'; '.join(parts)}"


def distance(value: float, unit: str) -> str:
    """`84,200 km`"""
    return f"{value:,.0f} {unit}"


def way_words(way: WayNow) -> str:
    """`two-piece flywheel: 11.3 h, 1,040`"""
    price = f", {money(way.money)}" if way.money is not None else ""
    return f"{way.text}: {hours(way.middle_h)}{price}"


def quote_words(quote: QuoteNow, now: datetime, zone: str) -> tuple[str, ...]:
    """What was quoted, one line a way, and on which terms."""
    today = local(now, zone_of(zone)).date()
    on = day_words(local(quote.at, zone_of(zone)).date(), today)
    terms = [f"quoted {on}"]
    terms += [BASES[quote.basis]] if quote.basis else []
    terms += [f"ceiling {money(quote.ceiling)}"] if quote.ceiling is not None else []
    terms += [f"holds until {day_words(quote.until, today)}"] if quote.until else []
    return (*(way_words(one) for one in quote.ways), ", ".join(terms))


def title(here: AtDesk, asks: str) -> str:
    """`2438 old saloon: asks`"""
    plate = here.vehicle.plate
    more = f" {plate}" if plate and plate not in here.vehicle.label else ""
    return f"{here.job} {here.vehicle.label}{more}: {asks}"
