"""A vehicle over its visits: what stands on it, its odometer, each job with what was measured."""

from __future__ import annotations

import asyncio
from functools import partial
from typing import Any

from store.views.desk.at_desk import AtDesk
from store.views.vehicle_values import VehicleHistory, Visit
from tui.colours import Ink
from tui.desk.reading import day_words
from tui.desk.words import distance
from tui.parts.canvas import Canvas, Piece
from tui.parts.lines import LEAST, Key, paint_keys, put_pieces, too_small
from tui.parts.painted import Painted
from tui.parts.sheet import Sheet
from tui.signs import Signs
from tui.words import cut, hours, local, wrapped, zone_of

DIM, TEXT, BOLD = Ink("dim"), Ink("text"), Ink("text", bold=True)
TOP, FOOT = 3, 2
UNDER = 8
"""First cell of what stands under a visit's number."""
KEYS = (Key("up down", "rows"), Key("Space", "a page"), Key("Esc", "back"))


async def show_visits(screen: Painted[Any], here: AtDesk) -> None:
    """Show a vehicle's visits until a key leaves them."""
    from store.views.vehicle import vehicle

    session = screen.session
    history = await asyncio.to_thread(lambda: vehicle(session.shop, here.job, session.now()))
    before, first, signs = screen.page, 0, session.signs
    try:
        while True:
            screen.cover(partial(_page, history, screen.zone, signs, first))
            rows = screen.board_size[1] - TOP - FOOT
            last = max(0, visits_sheet(history, screen.zone, screen.board_size[0], signs).height
                       - rows)  # fmt: skip
            key = (await screen.talk.key()).key
            step = {"up": -1, "down": 1, " ": rows, "page down": rows, "page up": -rows}.get(key)
            if step is None:
                return
            first = min(max(0, first + step), last)
    finally:
        screen.cover(before)


def _page(
    history: VehicleHistory, zone: str, signs: Signs, first: int, size: tuple[int, int]
) -> Canvas:
    return visits_canvas(history, zone, size, signs, first)


def visits_canvas(
    history: VehicleHistory, zone: str, size: tuple[int, int], signs: Signs, first: int = 0
) -> Canvas:
    """The page from a row on."""
    canvas = Canvas(*size)
    width, height = size
    if width < LEAST[0] or height < LEAST[1]:
        too_small(canvas)
        return canvas
    x = canvas.put(1, 0, cut(history.label, width // 2, signs.more), BOLD) + 2
    odometer = distance(*history.odometers[-1][1:]) if history.odometers else "odometer not read"
    start = canvas.right(width - 1, 0, odometer, DIM)
    plates = "  ".join(filter(None, (history.plate, history.vin)))
    canvas.put(x, 0, cut(plates, start - x - 2, signs.more), DIM)
    codes = [f"engine {history.engine}" if history.engine else "",
             f"gearbox {history.gearbox}" if history.gearbox else "", history.family,
             f"{history.mass_kg / 1000:.1f} t" if history.mass_kg else ""]  # fmt: skip
    canvas.put(1, 1, cut("   ".join(filter(None, codes)), width - 2, signs.more), DIM)
    sheet = visits_sheet(history, zone, width, signs)
    rows = height - TOP - FOOT
    sheet.show(canvas, (0, TOP), rows, min(first, max(0, sheet.height - rows)))
    below = sheet.height - rows - first
    if below > 0:
        canvas.right(width - 1, height - 2, f"{below} more lines below", DIM)
    paint_keys(canvas, height - 1, KEYS, signs)
    return canvas


def visits_sheet(history: VehicleHistory, zone: str, width: int, signs: Signs) -> Sheet:
    """Every visit, the newest first; then what was advised and not done."""
    sheet = Sheet(width)
    for visit in history.visits:
        sheet.gap()
        _visit(sheet, visit, history, zone, signs)
    if history.advice:
        sheet.gap()
        sheet.block().put(1, 0, "advised and not done", DIM)
        for one in history.advice:
            took = f", {hours(one.hours)}" if one.hours else ""
            text = f"{one.job}  {one.text}{took}  {one.answer or 'not answered yet'}"
            sheet.block().put(UNDER, 0, cut(text, width - UNDER - 1, signs.more), TEXT)
    if not history.visits:
        sheet.block().put(1, 0, "It was never here before.", DIM)
    return sheet


def _visit(sheet: Sheet, visit: Visit, history: VehicleHistory, zone: str, signs: Signs) -> None:
    today = local(history.at, zone_of(zone)).date()
    ended = visit.closed_at or visit.opened_at
    when = day_words(local(ended, zone_of(zone)).date(), today)
    said = f"{'closed' if visit.closed_at else visit.state.replace('-', ' ')} {when}"
    row = sheet.block()
    read = f"   {distance(*visit.odometer)}" if visit.odometer else ""
    took = f"   {hours(visit.labour_h)}" if visit.labour_h > 0 else ""
    back = f"   comes back from {visit.comeback_of}" if visit.comeback_of else ""
    pieces: list[Piece] = [
        (f"{visit.number:<{UNDER - 1}}", BOLD), (visit.work, TEXT), (f"   {said}", DIM),
        (read, DIM), (took, DIM), (back, Ink("due")),
    ]  # fmt: skip
    put_pieces(row, (1, 0), pieces, sheet.width - 2, signs)
    if visit.complaint:
        _under(sheet, f"said: {visit.complaint}", TEXT)
    if visit.done:
        _under(sheet, f"done: {', '.join(visit.done)}", DIM)
    for one in visit.measured:
        values = ", ".join(f"{name} {value:g}".strip() for name, value in one.readings)
        out = "" if one.in_limits else ", outside its limits"
        _under(sheet, f"{one.text}: {values}{out}", TEXT if one.in_limits else Ink("behind"))


def _under(sheet: Sheet, text: str, ink: Ink) -> None:
    for line in wrapped(text, sheet.width - UNDER - 1)[:3]:
        sheet.block().put(UNDER, 0, line, ink)
