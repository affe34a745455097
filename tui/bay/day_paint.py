"""The day sheet for any size: the day along its hours, then a row for all that was or lacks."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import NamedTuple
from zoneinfo import ZoneInfo

from rich.cells import cell_len

from store.views.values import Day, DayClock, Hole, Overrun
from tui import keys
from tui.bay.day_right import Thing
from tui.colours import Ink
from tui.parts.canvas import Canvas
from tui.parts.lines import paint_keys, paint_said
from tui.signs import STATES, Signs, State
from tui.words import counted, cut, full_date, hours, listed, local, tenth, time, zone_of

DIM, TEXT, BOLD = Ink("dim"), Ink("text"), Ink("text", bold=True)
LIST_TOP = 6


def day_canvas(shown: Day, size: tuple[int, int], signs: Signs, said: str, here: int) -> Canvas:
    """The sheet: a line of time, then clocks, gaps and overlaps in order."""
    canvas = Canvas(*size)
    width, height = size
    zone = zone_of(shown.zone)
    noon = datetime.combine(shown.day, datetime.min.time(), zone) + timedelta(hours=12)
    canvas.put(1, 0, f"day sheet of {shown.name}", BOLD)
    canvas.right(width - 1, 0, full_date(noon, zone), TEXT)
    labour = sum(one.labour_h for one in shown.clocks)
    figures = f"here {hours(shown.attended_h)}, clocked {hours(labour)}"
    _state(canvas, canvas.put(1, 1, figures, DIM) + 2, shown, signs)
    _line_of_time(canvas, shown, zone, signs)
    rows, room = day_rows(shown), max(1, height - LIST_TOP - 3)
    first = min(max(0, here - room + 1), max(0, len(rows) - room))
    for nth, row in enumerate(rows[first : first + room]):
        _paint_row(canvas, LIST_TOP + nth, row, signs, here=first + nth == here)
    if not rows:
        canvas.put(4, LIST_TOP, "No clock on this day.", DIM)
    paint_said(canvas, height - 2, said, signs)
    paint_keys(canvas, height - 1, keys.last_row(keys.DAY), signs)
    return canvas


def _state(canvas: Canvas, x: int, shown: Day, signs: Signs) -> None:
    """What the day wants, at the right end of the cells from `x` on."""
    open_ = [
        counted(len(found), word)
        for found, word in ((shown.gaps, "gap"), (shown.overlaps, "overlap"))
        if found
    ]
    text = "confirmed" if shown.confirmed else keys.filled("{day.confirm} confirms it")
    room = canvas.width - 1 - x
    if open_ and not shown.confirmed:
        longer = f"{listed(open_)}; {text}"
        text = longer if cell_len(longer) <= room else listed(open_)
    canvas.right(canvas.width - 1, 1, cut(text, room, signs.more), TEXT)


def _paint_row(canvas: Canvas, y: int, row: Row, signs: Signs, *, here: bool) -> None:
    width = canvas.width
    canvas.put(2, y, signs.of(row.state), Ink(STATES[row.state].role, bold=True))
    start = canvas.right(width - 2, y, row.right, DIM) if row.right else width - 1
    canvas.put(4, y, cut(row.text, start - 5, signs.more), row.ink)
    if here:
        canvas.ground(0, y, width, 1, "pick")
        canvas.put(0, y, signs.of("running"), Ink("text", bold=True, ground="pick"))


class Row(NamedTuple):
    """One line of the sheet, and what it is about."""

    since: datetime
    state: State
    ink: Ink
    text: str
    right: str
    thing: Thing


def day_rows(shown: Day) -> list[Row]:
    """Clocks, gaps, overlaps and what went over its hours, in the order of their beginnings."""
    zone = zone_of(shown.zone)
    rows = [_clock_row(one, zone) for one in shown.clocks]
    rows += [_hole_row(one, "gap", Ink("behind"), zone) for one in shown.gaps]
    rows += [_hole_row(one, "overlap", Ink("blocked"), zone) for one in shown.overlaps]
    rows += [_overrun_row(one) for one in shown.overruns]
    return sorted(rows, key=lambda row: row.since)


def _overrun_row(one: Overrun) -> Row:
    text = f"{one.job}.{one.phase} {one.name}   {hours(one.labour_h)}, cautious "
    text += f"{hours(one.cautious_h)}   why?"
    return Row(one.finished_at, "answer", Ink("due"), text, "", one)


def _hole_row(hole: Hole, word: str, ink: Ink, zone: ZoneInfo) -> Row:
    text = f"{time(hole.since, zone)} to {time(hole.until, zone)}   {word}   {hole.proposal}"
    return Row(hole.since, "act", ink, text, "", hole)


def _clock_row(one: DayClock, zone: ZoneInfo) -> Row:
    end = time(one.until, zone) if one.until else "now  "
    what = f"{one.job}.{one.phase} {one.name}" if one.job else one.name
    part = f"   as {one.part}" if one.part != "lead" else ""
    left = "   left running" if one.left_running else ""
    state: State = "running" if one.until is None else "done"
    ink = Ink("due") if one.left_running else TEXT
    text = f"{time(one.since, zone)} to {end}   {what}{part}{left}"
    return Row(one.since, state, ink, text, f"{tenth(one.labour_h)} h", one)


def _line_of_time(canvas: Canvas, shown: Day, zone: ZoneInfo, signs: Signs) -> None:
    """The day along its hours: worked full, breaks dotted, gaps empty, hours above."""
    spans = [*shown.shifts, *((one.since, one.until or shown.at) for one in shown.clocks)]
    if not spans:
        return
    start, end = min(one[0] for one in spans), max(one[1] for one in spans)
    start = local(start, zone).replace(minute=0, second=0, microsecond=0)
    cells = canvas.width - 4
    scale = cells / max(1.0, (end - start) / timedelta(hours=1))

    def cell(at: datetime) -> int:
        return 2 + min(cells - 1, max(0, round((at - start) / timedelta(hours=1) * scale)))

    hour = start
    while hour <= end:
        if cell(hour) + 3 < canvas.width and hour.hour % 2 == 0:
            canvas.put(cell(hour), 3, f"{hour.hour}h", DIM)
        hour = hour + timedelta(hours=1)
    for since, until in shown.shifts:
        canvas.fill(cell(since), 4, cell(until) - cell(since), Ink("line"), signs.low)
    for one in shown.clocks:
        until = one.until or shown.at
        ink = Ink("running") if one.until is None else Ink("past") if one.job else Ink("waiting")
        first, last = cell(one.since), max(cell(one.since) + 1, cell(until))
        canvas.fill(first, 4, last - first, ink, signs.worked)
        canvas.put(last - 1, 4, signs.last, ink)
    for since, until in shown.breaks:
        canvas.fill(cell(since), 4, max(1, cell(until) - cell(since)), Ink("line"), signs.quiet)
    for hole in shown.gaps:
        first, last = cell(hole.since), max(cell(hole.since) + 1, cell(hole.until))
        canvas.fill(first, 4, last - first, Ink("behind"), signs.held)
    for hole in shown.overlaps:
        first, last = cell(hole.since), max(cell(hole.since) + 1, cell(hole.until))
        canvas.fill(first, 4, last - first, Ink("blocked"), signs.beyond)
