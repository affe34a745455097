"""Dates, money and choices as papers say them: whole, so that they are understood in ten years."""

from __future__ import annotations

from datetime import date, datetime, tzinfo

from tui.words import MONTHS, local, plain

BASES = {
    "fixed price": "fixed price",
    "ceiling": "estimate with a ceiling",
    "time": "time and materials",
}
BASES_MEAN = {
    "fixed price": "The price stands, whatever the work takes; extra work is asked about first.",
    "ceiling": "What is used is charged, up to the ceiling; beyond it nothing is done unasked.",
    "time": "The time and the materials that are used are charged.",
}
GRADES = {
    1: "clean", 2: "usual for its age", 3: "rusty or neglected", 4: "taken apart before by others",
}  # fmt: skip
DECIDE = (
    "The vehicle maker's service data, the lift maker's manual, local rules and qualified people "
    "decide. This paper tells what was done, measured and said; it does not say that a vehicle is "
    "safe."
)


def on_day(day: date) -> str:
    """`14 Oct 2026`"""
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


def at(instant: datetime, zone: tzinfo) -> str:
    """`14 Oct 2026, 10:40`"""
    here = local(instant, zone)
    return f"{on_day(here.date())}, {here:%H:%M}"


def amount(value: float, currency: str) -> str:
    """`1,250.00 EUR`"""
    return f"{value:,.2f} {currency}"


def number(value: float) -> str:
    """A measured value as it was typed: `0.42`, `1980.5`, `45`."""
    return f"{value:.6f}".rstrip("0").rstrip(".") if value == round(value, 6) else repr(value)


def given(by: str | None, means: str | None) -> str:
    """`by the customer, by telephone`; empty where nothing was said."""
    who = f"by {by}" if by else ""
    how = plain(means) if means else ""
    return ", ".join(filter(None, (who, how)))
