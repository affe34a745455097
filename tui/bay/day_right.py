"""Putting a day right: what a clock was on, and what stands for a gap or an overlap."""

from __future__ import annotations

import asyncio
from typing import Any

from store.trouble import Refused
from store.views.bay import bay
from store.views.values import Choice, DayClock, Hole
from tui import deeds
from tui.bay.choosing import CHOICE_MARGIN, INDIRECT, INDIRECT_REASONS, choice_words
from tui.deeds import Deed
from tui.parts.painted import Painted
from tui.parts.prompt import Option
from tui.words import time, zone_of

Thing = DayClock | Hole
"""What a row of the sheet is about."""
NO_JOB = "9"
MOST = 8
"""Phases that are offered beside no job."""


async def put_right(screen: Painted[Any], thing: Thing, *, ask: bool) -> None:
    """A gap or an overlap takes what is proposed; a clock asks what it was on.

    Args:
        ask: what is proposed is not wanted: a gap asks too.

    Raises:
        Back: left with Esc.
        Trouble: refused; nothing was changed.
    """
    if isinstance(thing, Hole) and thing.ends is not None:
        await do_here(screen, deeds.end_clock(thing.ends, thing.since))
        return
    if isinstance(thing, Hole):
        where = (thing.job, thing.phase, thing.reason)
        if ask or where == (None, None, None):
            where = await _where(screen, thing)
        await do_here(screen, deeds.enter_clock(*where, (thing.since, thing.until)))
        return
    await do_here(screen, deeds.clock_was_on(thing.seq, *await _where(screen, thing)))


async def do_here(screen: Painted[Any], deed: Deed) -> None:
    """Do it and say so, without a way back: on this sheet 0 leaves it.

    Raises:
        Back, Trouble: as `act`.
    """
    screen.say((await screen.act(deed)).says)


async def _where(screen: Painted[Any], thing: Thing) -> tuple[str | None, str | None, str | None]:
    """Job and phase, or the reason on no job."""
    session, title = screen.session, _title(screen, thing)
    badge = session.who.badge if session.who else ""
    view = await asyncio.to_thread(lambda: bay(session.shop, badge, session.now(), session.lift))
    offered = [one for one in view.choices if not _is_on(thing, one)][:MOST]
    width = screen.board_size[0] - CHOICE_MARGIN
    options = [Option(str(n), choice_words(one, width)) for n, one in enumerate(offered, 1)]
    chosen = await screen.talk.pick(title, [*options, Option(NO_JOB, "no job ...")])
    if chosen == NO_JOB:
        reason = INDIRECT_REASONS[await screen.talk.pick(title, INDIRECT)]
        return None, None, reason
    one = offered[int(chosen) - 1]
    return one.job, one.phase, None


def _is_on(thing: Thing, choice: Choice) -> bool:
    return isinstance(thing, DayClock) and (thing.job, thing.phase) == (choice.job, choice.phase)


def _title(screen: Painted[Any], thing: Thing) -> str:
    zone = zone_of(screen.zone)
    span = f"{time(thing.since, zone)} to {time(thing.until, zone) if thing.until else 'now'}"
    if isinstance(thing, Hole):
        return f"{span}: what was it?"
    was = f"{thing.job}.{thing.phase}" if thing.job else thing.name
    return f"{span} was not {was}, but"


def nothing_here() -> Refused:
    """There is no row to put right."""
    return Refused("No clock and no gap on this day: there is nothing to put right.")
