"""Confirming a day: a clock that runs, overlaps and overruns are dealt with by one key each."""

from __future__ import annotations

import asyncio
from typing import Any

from store.trouble import Refused
from store.views.bay import bay
from store.views.day import day
from store.views.values import Day, DayClock, Hole
from tui import deeds
from tui.bay.day_right import do_here
from tui.bay.left_running import stopped_when
from tui.parts.finishing import say_why
from tui.parts.painted import Painted
from tui.parts.prompt import Option
from tui.parts.talk import Back
from tui.words import counted, time, zone_of


async def confirm(screen: Painted[Any], shown: Day) -> None:
    """Confirm a day; what stands in the way is offered to be cleared by one key.

    Raises:
        Back: left with Esc; the day is not confirmed.
        Trouble: refused.
    """
    running = _running(shown)
    if running is not None and not running.left_running:
        await _pick(
            screen, f"Your clock on {_what(running)} still runs.", "stop it, confirm the day"
        )
    if running is not None:
        await _stop(screen, running)
        shown = await asyncio.to_thread(
            day, screen.session.shop, shown.badge, shown.day, screen.session.now()
        )
    if shown.overlaps:
        many = counted(len(shown.overlaps), "overlap stands", "overlaps stand")
        facts = tuple(_hole_words(screen, one) for one in shown.overlaps)
        await _pick(screen, f"{many} in the way.", "take what is proposed, confirm", facts)
        for one in shown.overlaps:
            if one.ends is not None:
                await screen.act(deeds.end_clock(one.ends, one.since))
    await do_here(screen, deeds.confirm_day(shown.day))
    for over in shown.overruns:
        try:
            await say_why(screen, f"{over.job}.{over.phase}", over.labour_h, over.cautious_h)
        except Back:
            continue


async def stop_clock(screen: Painted[Any], shown: Day) -> None:
    """Stop the clock that runs on this sheet.

    Raises:
        Back: it was left running, and later is soon enough.
        Trouble: none runs on this day, or refused.
    """
    running = _running(shown)
    if running is None:
        raise Refused("No clock of this day runs: there is nothing to stop.")
    await _stop(screen, running)


async def _stop(screen: Painted[Any], running: DayClock) -> None:
    session = screen.session
    if not running.left_running:
        await do_here(screen, deeds.clock_off)
        return
    badge = session.who.badge if session.who else ""
    view = await asyncio.to_thread(lambda: bay(session.shop, badge, session.now()))
    if view.clock is not None:
        await stopped_when(screen, view.clock)


def _running(shown: Day) -> DayClock | None:
    return next((one for one in shown.clocks if one.until is None), None)


async def _pick(screen: Painted[Any], title: str, offer: str, facts: tuple[str, ...] = ()) -> None:
    """One key does what is offered.

    Raises:
        Back: any other answer.
    """
    options = [Option("1", offer, hot=True), Option("2", "not yet")]
    if await screen.talk.pick(title, options, facts=facts) != "1":
        raise Back


def _what(clock: DayClock) -> str:
    return f"{clock.job}.{clock.phase}" if clock.job else clock.name


def _hole_words(screen: Painted[Any], hole: Hole) -> str:
    zone = zone_of(screen.zone)
    return f"{time(hole.since, zone)} to {time(hole.until, zone)}: {hole.proposal}"
