"""The grid for any size: what was typed on paper as rows, each with what it means or what lacks."""

from __future__ import annotations

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from rich.cells import cell_len

from store.edges.tables.paper_rows import RowRead
from tui.colours import Ink
from tui.paper.state import Grid
from tui.parts.canvas import Canvas
from tui.parts.lines import LEAST, Key, paint_keys, paint_rule, paint_said, too_small
from tui.parts.prompt import Field
from tui.parts.said import paint_long_said, said_rows
from tui.signs import Signs
from tui.words import counted, cut, full_date, hours, tenth, time, zone_of

DIM, TEXT, BOLD = Ink("dim"), Ink("text"), Ink("text", bold=True)
PICK, HOT = Ink("text", bold=True, ground="pick"), Ink("text", loud=True, ground="pick")
TOP, FOOT = 4, 3
TIMES = 22
"""Cells of from, to and hours at the right end."""
KEYS = (
    Key("Enter", "next row; on an empty one: write them", "next, write"),
    Key("up down", "to a row", "row"), Key("Esc", "leave; rows are kept", "leave"),
)  # fmt: skip
HOW = "2417.3 0730 1000   .4 1200: the same job, from where the row above ended"


def paper_canvas(grid: Grid, size: tuple[int, int], signs: Signs, said: str) -> Canvas:
    """The page before it is coloured."""
    canvas = Canvas(*size)
    if size[0] < LEAST[0] or size[1] < LEAST[1]:
        too_small(canvas)
        return canvas
    width, height = size
    zone = zone_of(grid.view.sheet.zone)
    rows, faults = grid.read()
    _head(canvas, grid, rows, zone, signs)
    room = height - TOP - FOOT - max(0, said_rows(said, width) - 1)
    lines = len(grid.typed) + 1
    first = min(max(0, grid.here - room + 1), max(0, lines - room))
    for y, n in enumerate(range(first, min(lines, first + room)), TOP):
        if n == grid.here:
            _paint_typing(canvas, y, grid, zone, signs)
        elif n < len(rows):
            _paint_row(canvas, y, (n, grid), rows[n], n + 1 in faults, zone, signs)
        else:
            canvas.right(5, y, str(n + 1), DIM)
    _there(canvas, TOP + min(lines, room) + 1, grid, zone, signs)
    paint_said(canvas, height - 2, said, signs)
    paint_long_said(canvas, said, signs)
    paint_keys(canvas, height - 1, KEYS, signs)
    return canvas


def _head(
    canvas: Canvas, grid: Grid, rows: list[RowRead | None], zone: ZoneInfo, signs: Signs
) -> None:
    width = canvas.width
    noon = datetime.combine(grid.page.day, datetime.min.time(), zone) + timedelta(hours=12)
    shown = f"{full_date(noon, zone)} {grid.page.day.year}"
    start = canvas.right(width - 1, 0, shown, TEXT)
    title = f"from paper: {grid.view.sheet.name}"
    canvas.put(1, 0, cut(title, start - 3, signs.more), BOLD)
    good = [row for row in rows if row is not None]
    total = sum(grid.hours(row) for row in good)
    figures = f"{counted(len(good), 'row')}, {hours(total)} of {hours(grid.view.sheet.attended_h)}"
    start = canvas.right(width - 1, 1, figures, DIM)
    reasons = ", ".join(f"{one[0]} {one}" for one in grid.page.reasons)
    canvas.put(1, 1, cut(f"or {reasons}", start - 3, signs.more), DIM)
    canvas.put(1, 2, cut(HOW, width - 2, signs.more), DIM)
    paint_rule(canvas, 3, (0, width), "rows", signs)


def _paint_row(
    canvas: Canvas, y: int, at: tuple[int, Grid], row: RowRead | None, wrong: bool,
    zone: ZoneInfo, signs: Signs,
) -> None:  # fmt: skip
    n, grid = at
    canvas.right(5, y, str(n + 1), DIM)
    canvas.put(2, y, signs.of("act" if wrong else "done"),
               Ink("behind", bold=True) if wrong else DIM)  # fmt: skip
    ink = Ink("behind") if wrong else TEXT
    if row is None:
        canvas.put(7, y, cut(grid.typed[n], canvas.width - 9, signs.more), ink)
        return
    _times(canvas, y, row, grid, zone)
    canvas.put(7, y, cut(what(row, grid), canvas.width - TIMES - 9, signs.more), ink)


def what(row: RowRead, grid: Grid) -> str:
    """`2417.3  gearbox out, panel van`, or the reason of time on no job."""
    if row.job is None:
        return row.reason or ""
    place = f"{row.job}.{row.phase}"
    name, vehicle = grid.view.phases.get(place, ("", ""))
    return f"{place}  {name}{', ' if name else ''}{vehicle}".rstrip()


def _times(canvas: Canvas, y: int, row: RowRead, grid: Grid, zone: ZoneInfo) -> None:
    span = f"{time(row.since, zone)}  {time(row.until, zone)}"
    canvas.right(canvas.width - 1, y, f"{span}  {tenth(grid.hours(row)):>4} h", TEXT)


def _paint_typing(canvas: Canvas, y: int, grid: Grid, zone: ZoneInfo, signs: Signs) -> None:
    """The row at hand: what is typed, and at the right end from when, where that is left out."""
    width = canvas.width
    canvas.fill(0, y, width, Ink("text", ground="pick"))
    canvas.put(0, y, signs.of("running"), PICK)
    canvas.right(5, y, str(grid.here + 1), PICK)
    begins = grid.page.begins(grid.above())
    hint = f"from {time(begins, zone)}" if begins else ""
    end = canvas.right(width - 1, y, hint, Ink("dim", ground="pick")) if hint else width - 1
    _text(canvas, (7, y), grid.line, end - 9)


def _text(canvas: Canvas, at: tuple[int, int], field: Field, room: int) -> None:
    x, y = at
    before, after = field.text[: field.at], field.text[field.at :]
    here, after = after[:1] or " ", after[1:]
    while cell_len(before) + cell_len(here) > room and before:
        before = before[1:]
    x = canvas.put(x, y, before, PICK)
    x = canvas.put(x, y, here, HOT)
    canvas.put(x, y, cut(after, max(0, at[0] + room - x), ""), PICK)


def _there(canvas: Canvas, y: int, grid: Grid, zone: ZoneInfo, signs: Signs) -> None:
    """Clocks that the day has already, as far as there is room."""
    clocks = grid.view.sheet.clocks
    room = canvas.height - FOOT - y - 1
    if not clocks or room < 1:
        return
    paint_rule(canvas, y, (0, canvas.width), "there already", signs)
    for nth, one in enumerate(clocks[: room if len(clocks) <= room else room - 1], 1):
        end = time(one.until, zone) if one.until else "now"
        what_on = f"{one.job}.{one.phase} {one.name}" if one.job else one.name
        text = f"{time(one.since, zone)} to {end}   {what_on}"
        canvas.put(7, y + nth, cut(text, canvas.width - 9, signs.more), DIM)
    if len(clocks) > room:
        canvas.put(7, y + room, f"and {len(clocks) - room + 1} more", DIM)
