"""Putting a day right: what a clock was on, where it is split, what stands for a gap."""

from __future__ import annotations

import asyncio
from datetime import datetime
from typing import Any

from store.trouble import Refused
from store.views.bay import bay
from store.views.values import Choice, DayClock, Hole, Overrun
from tui import deeds
from tui.bay.choosing import CHOICE_MARGIN, INDIRECT, INDIRECT_REASONS, choice_words
from tui.deeds import Deed
from tui.keys import filled
from tui.parts.finishing import say_why
from tui.parts.in_keys import in_keys
from tui.parts.painted import Painted
from tui.parts.prompt import Option
from tui.parts.when import inside
from tui.words import time, zone_of

Thing = DayClock | Hole | Overrun
"""What a row of the sheet is about."""
WAY_BACK = "    {day.undo} takes it back"
NO_JOB = "9"
MOST = 8
"""Phases that are offered beside no job."""


async def put_right(screen: Painted[Any], thing: Thing, *, ask: bool) -> None:
    """A gap or an overlap takes what is proposed; a clock asks what it was on, an overrun why.

    Args:
        ask: what is proposed is not wanted: a gap asks too.

    Raises:
        Back: left with Esc.
        Trouble: refused; nothing was changed.
    """
    if isinstance(thing, Overrun):
        await say_why(screen, f"{thing.job}.{thing.phase}", thing.labour_h, thing.cautious_h)
        return
    if isinstance(thing, Hole) and thing.ends is not None:
        await do_here(screen, deeds.end_clock(thing.ends, thing.since))
        return
    if isinstance(thing, Hole):
        where = (thing.job, thing.phase, thing.reason)
        if ask or where == (None, None, None):
            where = await _where(screen, thing, _title(screen, thing))
        await do_here(screen, deeds.enter_clock(*where, (thing.since, thing.until)))
        return
    where = await _where(screen, thing, _title(screen, thing))
    await do_here(screen, deeds.clock_was_on(thing.seq, *where))


async def split(screen: Painted[Any], thing: Thing) -> None:
    """A clock becomes two: what came after a time was something else.

    Raises:
        Back: left with Esc.
        Trouble: the row is no clock, or refused; nothing was changed.
    """
    if not isinstance(thing, DayClock):
        raise Refused(filled("Only a clock can be split. {day.up} and {day.down} go to one."))
    zone, end = zone_of(screen.zone), thing.until or screen.session.now()
    at = await screen.talk.type(
        f"{_span(screen, thing.since, thing.until)} {_was(thing)}: split it", "from, like 13:05",
        lambda text: inside(text, thing.since, end, zone),
        facts=("What it was from then on is asked next.",),
    )  # fmt: skip
    title = f"{_span(screen, at, thing.until)} was not {_was(thing)}, but"
    where = await _where(screen, thing, title)
    if thing.until is None:
        await do_here(screen, deeds.went_over(*where, at))
    else:
        await do_here(screen, deeds.split_clock(thing.seq, at, *where))


async def do_here(screen: Painted[Any], deed: Deed) -> None:
    """Do it and say so, with the way back of this sheet: here 0 leaves it.

    Raises:
        Back, Trouble: as `act`.
    """
    done = await screen.act(deed)
    screen.say(in_keys(done.says) + (filled(WAY_BACK) if done.can_undo else ""))


async def _where(
    screen: Painted[Any], thing: DayClock | Hole, title: str
) -> tuple[str | None, str | None, str | None]:
    """Job and phase, or the reason on no job."""
    session = screen.session
    badge = session.who.badge if session.who else ""
    view = await asyncio.to_thread(lambda: bay(session.shop, badge, session.now(), session.lift))
    offered = [one for one in view.choices if not _is_on(thing, one)][:MOST]
    width, more = screen.board_size[0] - CHOICE_MARGIN, session.signs.more
    options = [Option(str(n), choice_words(one, width, more)) for n, one in enumerate(offered, 1)]
    chosen = await screen.talk.pick(title, [*options, Option(NO_JOB, "no job ...")])
    if chosen == NO_JOB:
        reason = INDIRECT_REASONS[await screen.talk.pick(title, INDIRECT)]
        return None, None, reason
    one = offered[int(chosen) - 1]
    return one.job, one.phase, None


def _is_on(thing: DayClock | Hole, choice: Choice) -> bool:
    return isinstance(thing, DayClock) and (thing.job, thing.phase) == (choice.job, choice.phase)


def _title(screen: Painted[Any], thing: DayClock | Hole) -> str:
    span = _span(screen, thing.since, thing.until)
    if isinstance(thing, Hole):
        return f"{span}: what was it?"
    return f"{span} was not {_was(thing)}, but"


def _span(screen: Painted[Any], since: datetime, until: datetime | None) -> str:
    zone = zone_of(screen.zone)
    return f"{time(since, zone)} to {time(until, zone) if until else 'now'}"


def _was(clock: DayClock) -> str:
    return f"{clock.job}.{clock.phase}" if clock.job else clock.name


def nothing_here() -> Refused:
    """There is no row to put right."""
    return Refused("No clock and no gap on this day: there is nothing to put right.")
