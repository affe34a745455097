"""The day sheet as text."""

from __future__ import annotations

from collections.abc import Iterator
from zoneinfo import ZoneInfo

from store.views.values import Day, DayClock, Hole
from tui import words


def lines(day: Day) -> Iterator[str]:
    """The day sheet, a line a clock, at most 80 columns."""
    zone = ZoneInfo(day.zone)
    head = f"{day.name} ({day.badge})  {words.DAYS[day.day.weekday()]} {day.day.isoformat()}"
    total = sum(one.labour_h for one in day.clocks if one.job)
    yield words.cut(
        f"{head}   here {words.hours(day.attended_h)}, on jobs {words.hours(total)}", 80
    )
    if not day.clocks:
        yield "  No clock on this day. Start one: hoistbook clock on JOB.PHASE."
    for one in day.clocks:
        yield words.cut(_clock(one, zone), 80)
    for hole in day.gaps:
        yield words.cut(f"  gap      {_span(hole, zone)}  {hole.proposal}", 80)
    for hole in day.overlaps:
        yield words.cut(f"  overlap  {_span(hole, zone)}  {hole.proposal}", 80)
    for over in day.overruns:
        where, took = f"{over.job}.{over.phase}", words.hours(over.labour_h)
        text = f"{where} took {took}, cautious {words.hours(over.cautious_h)}"
        yield words.cut(f"  why?     {text}: hoistbook finish {where} --why TEXT", 80)
    if day.clocks:
        yield "  confirmed" if day.confirmed else "  not confirmed: hoistbook day --confirm"


def _clock(clock: DayClock, zone: ZoneInfo) -> str:
    start = words.time(clock.since, zone)
    end = "now  " if clock.until is None else words.time(clock.until, zone)
    where = clock.reason or f"{clock.job}.{clock.phase}"
    notes = [clock.part] if clock.part != "lead" else []
    notes += ["left running"] if clock.left_running else []
    notes += ["runs"] if clock.until is None and not clock.left_running else []
    name = "" if clock.reason else clock.name
    return (
        f"  {clock.seq:>6}  {start} to {end}  {words.hours(clock.labour_h):>7}  "
        f"{where:<9} {name}{'  ' if notes else ''}{', '.join(notes)}"
    ).rstrip()


def _span(hole: Hole, zone: ZoneInfo) -> str:
    return f"{words.time(hole.since, zone)} to {words.time(hole.until, zone)}"
