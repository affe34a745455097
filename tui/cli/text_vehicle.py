"""A vehicle over its visits as text, at most 80 columns."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from zoneinfo import ZoneInfo

from store.views.vehicle_values import VehicleHistory, Visit
from tui import words
from tui.cli.text_floor import WIDTH


def lines(found: VehicleHistory, zone: ZoneInfo) -> Iterator[str]:
    """Who it is, then its visits, newest first, then what was advised and not done."""
    yield from _head(found, zone)
    for visit in found.visits:
        yield ""
        yield from _visit(visit, zone)
    if found.comebacks:
        yield ""
        yield "came back"
    for one in found.comebacks:
        where = one.of if one.phase is None else f"{one.of}.{one.phase}"
        text = f"{one.job} of {where}: {one.cause}; {one.fault}; {one.pays} pays"
        yield from _folded(f"{text}; {words.hours(one.labour_h)}", "  ")
    if found.advice:
        yield ""
        yield "advised and not done"
    for advice in found.advice:
        said = f", {advice.answer}" if advice.answer else ", not answered"
        at = _day(advice.at, zone)
        yield from _folded(f"{advice.job}, {at}{said}: {advice.text}", "  ")


def _head(found: VehicleHistory, zone: ZoneInfo) -> Iterator[str]:
    yield words.cut(words.plain(found.label), WIDTH)
    known = [
        found.plate, found.vin, found.family or None,
        f"engine {found.engine}" if found.engine else None,
        f"gearbox {found.gearbox}" if found.gearbox else None,
        f"{found.mass_kg:,.0f} kg" if found.mass_kg is not None else None,
    ]  # fmt: skip
    yield from _folded(", ".join(one for one in known if one) or "nothing more is known", "  ")
    for at, value, unit in found.odometers[:3]:
        yield f"  {_day(at, zone)}  {value:,.0f} {unit}"


def _visit(visit: Visit, zone: ZoneInfo) -> Iterator[str]:
    closed = f" to {_day(visit.closed_at, zone)}" if visit.closed_at else ""
    state = "" if visit.state == "closed" else f", {visit.state.replace('-', ' ')}"
    yield from _folded(
        f"{visit.number} {visit.work}: {_day(visit.opened_at, zone)}{closed}{state}, "
        f"{words.hours(visit.labour_h)}",
        "",
    )
    if visit.complaint:
        yield from _folded(f"said: {visit.complaint}", "  ")
    if visit.odometer:
        yield f"  {visit.odometer[0]:,.0f} {visit.odometer[1]}"
    if visit.done:
        yield from _folded(f"done: {', '.join(visit.done)}", "  ")
    for one in visit.measured:
        values = ", ".join(f"{name} {value:g}" for name, value in one.readings)
        out = "" if one.in_limits else " (outside limits)"
        yield from _folded(f"{one.text}: {values}{out}", "  ")


def _day(at: datetime, zone: ZoneInfo) -> str:
    """With its year: a vehicle is known for ten of them."""
    return words.local(at, zone).date().isoformat()


def _folded(text: str, before: str) -> Iterator[str]:
    """The text on as many lines as it takes, those after the first further in."""
    for nth, piece in enumerate(words.wrapped(words.plain(text), WIDTH - len(before) - 2)):
        yield f"{before}{'  ' if nth else ''}{piece}"
