"""The day sheet: the day drawn with its gaps and overlaps, and one key to confirm it."""

from __future__ import annotations

import asyncio
from collections.abc import Sequence
from datetime import timedelta
from functools import partial
from typing import Any

from store.views.day import day
from store.views.values import Day, DayClock
from tui import deeds, keys
from tui.bay.day_confirm import confirm, stop_clock
from tui.bay.day_paint import Row, day_canvas, day_rows
from tui.bay.day_right import do_here, nothing_here, put_right, split
from tui.parts.everywhere import everywhere, no_key
from tui.parts.painted import Painted
from tui.words import local, zone_of

LAST = -1
"""For a row: the newest clock's."""


async def day_sheet(screen: Painted[Any]) -> None:
    """Show one's day, and the days before it; Enter confirms, 3 puts a row right."""
    session = screen.session
    badge = session.who.badge if session.who else ""
    today = local(session.now(), zone_of(screen.zone)).date()
    on, row = today, LAST
    screen.say("")  # on this sheet 0 leaves: what it takes back on the bay is not said here
    try:
        while True:
            shown = await asyncio.to_thread(day, session.shop, badge, on, session.now())
            rows = day_rows(shown)
            row = _newest(rows) if row == LAST else min(row, max(0, len(rows) - 1))
            _show(screen, shown, row)
            key = (await screen.talk.key()).key
            match keys.meant(keys.DAY, key):
                case "confirm":
                    await screen.doing(partial(confirm, screen, shown))
                case "right" | "other" | "split" as how:
                    await screen.doing(partial(_put_right, screen, rows, row, how))
                case "stop":
                    await screen.doing(partial(stop_clock, screen, shown))
                case "undo":
                    await screen.doing(partial(do_here, screen, deeds.undo))
                case "up" | "down" as way:
                    row = max(0, row + (1 if way == "down" else -1))
                case "after" if on >= today:
                    screen.remark("This is today: no later day has been.")
                case "before" | "after" as way:
                    step = timedelta(days=1 if way == "after" else -1)
                    on, row = min(today, on + step), LAST
                case "back":
                    return
                case None:
                    no_key(screen, key, keys.DAY)
                case common:
                    await screen.doing(partial(everywhere, screen, common, keys.DAY))
    finally:
        screen.cover(None)


async def _put_right(screen: Painted[Any], rows: Sequence[Row], row: int, how: str) -> None:
    if not rows:
        raise nothing_here()
    if how == "split":
        await split(screen, rows[row].thing)
    else:
        await put_right(screen, rows[row].thing, ask=how == "other")


def _newest(rows: Sequence[Row]) -> int:
    """The newest clock: it is the one that was started by mistake just now."""
    clocks = [nth for nth, row in enumerate(rows) if isinstance(row.thing, DayClock)]
    return clocks[-1] if clocks else 0


def _show(screen: Painted[Any], shown: Day, row: int) -> None:
    signs = screen.session.signs
    screen.cover(lambda size: day_canvas(shown, size, signs, screen.saying or "", row))
