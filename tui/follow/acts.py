"""What is done with follow-ups: done, moved, dropped, and new ones on the card of their job."""

from __future__ import annotations

import asyncio
from typing import Any

from store.trouble import Refused
from store.views.follow_ups import FollowUp, one_job
from tui.desk.reading import day_to_come, odometer
from tui.follow import deeds
from tui.follow.words import said, when_words
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.prompt import OPTION_KEYS, Option
from tui.parts.when import maybe, some
from tui.words import distance, zone_of

WHO = {"1": "shop", "2": "foreman", "3": "customer", "4": "owner", "5": "parts person"}
NEW = "n"


async def is_done(screen: Painted[Any], one: FollowUp) -> None:
    """Have it said what came of it.

    Raises:
        Back: left.
        Trouble: refused.
    """
    await somebody(screen)
    outcome = await screen.talk.type(
        f"{one.job}: {one.what}", "what came of it", some, text="all well", facts=said(one)
    )
    await screen.act(deeds.done(one.job, one.line, outcome))


async def is_dropped(screen: Painted[Any], one: FollowUp) -> None:
    """Have it said why it is not to be done."""
    await somebody(screen)
    why = await screen.talk.type(
        f"{one.job}: {one.what} is not to be done", "because", some, facts=said(one)
    )
    await screen.act(deeds.done(one.job, one.line, why, dropped=True))


async def is_moved(screen: Painted[Any], one: FollowUp) -> None:
    """Have another day or distance typed."""
    await somebody(screen)
    title, now, zone = f"{one.job}: {one.what}", screen.session.now(), zone_of(screen.zone)
    day = await screen.talk.type(
        title, "on which day at the latest (Enter: none)",
        lambda text: day_to_come(text, now, zone) if text else None,
        text=str(one.day) if one.day and not one.overdue else "", facts=said(one),
    )  # fmt: skip
    at = await screen.talk.type(
        title, "at which odometer (Enter: none)", lambda text: odometer(text, one.unit),
        text=distance(one.distance, one.unit) if one.distance is not None else "",
    )  # fmt: skip
    why = await screen.talk.type(title, "because (Enter: not said)", maybe)
    await screen.act(deeds.move(one.job, one.line, day, at[0] if at else None, why))


async def follow_job(screen: Painted[Any], job: str) -> None:
    """What follows one job: choose a line, or set a new one.

    Raises:
        Back: left.
        Trouble: refused.
    """
    session = screen.session
    lines = await asyncio.to_thread(lambda: one_job(session.shop, job, session.now()))
    still = [one for one in lines if one.state == "open"]
    options = [
        Option(OPTION_KEYS[n], f"{when_words(one)}: {one.what}")
        for n, one in enumerate(still[: OPTION_KEYS.index(NEW)])
    ]
    options.append(Option(NEW, "something else to be done", hot=not still))
    facts = tuple(f"{one.state}: {one.what}: {one.outcome}" for one in lines if one.state != "open")
    chosen = await screen.talk.pick(f"{job}: what follows it", options, facts=facts)
    if chosen == NEW:
        await _new(screen, job)
        return
    one = still[OPTION_KEYS.index(chosen)]
    acts = {"1": is_done, "2": is_moved, "3": is_dropped}
    options = [Option("1", "it is done", hot=True), Option("2", "on another day"),
               Option("3", "it is not to be done")]  # fmt: skip
    await acts[await screen.talk.pick(f"{job}: {one.what}", options)](screen, one)


async def _new(screen: Painted[Any], job: str) -> None:
    await somebody(screen)
    title, now, zone = f"{job}: to be done after it", screen.session.now(), zone_of(screen.zone)
    what = await screen.talk.type(title, "what", some)
    chosen = await screen.talk.pick(
        f"{title}: by whom?", [Option(key, who, hot=key == "1") for key, who in WHO.items()]
    )
    day = await screen.talk.type(
        title, "on which day at the latest (Enter: none)",
        lambda text: day_to_come(text, now, zone) if text else None,
    )  # fmt: skip
    driven = await screen.talk.type(
        title, "after how many km from now (Enter: none)", lambda text: odometer(text, "km")
    )
    if driven is not None and driven[1] != "km":
        raise Refused("Say how far in km; the odometer may read miles.")
    await screen.act(deeds.set_one(job, what, WHO[chosen], day, driven[0] if driven else None))
