"""A small job in ten seconds: what is to be done, on which vehicle, on which lift."""

from __future__ import annotations

import asyncio
from typing import Any

from store.views.door import places
from tui import deeds
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.prompt import OPTION_KEYS, Option
from tui.parts.when import number, some

TITLE = "a small job"
HOURS = "z"
WAITS = "Enter"


async def small_job(screen: Painted[Any]) -> None:
    """Have a small job taken: one phase and free text; hours are the usual ones unless said.

    Raises:
        Back: left with Esc; what was typed is kept.
        Trouble: refused.
    """
    await somebody(screen)
    text = await screen.talk.type(TITLE, "what is to be done", some)
    vehicle = await screen.talk.type(
        TITLE, "vehicle", some, facts=(text, "Number plate, or how you call it.")
    )
    shop, own = screen.session.shop, screen.session.lift
    free = [
        one.code
        for one in await asyncio.to_thread(places, shop)
        if one.kind == "lift" and one.job is None and one.in_service
    ]
    hours: float | None = None
    while True:
        took = "the usual hours" if hours is None else f"{hours:g} h"
        options = [
            Option(key, f"on lift {code}{', here' if code == own else ''}")
            for key, code in zip(OPTION_KEYS, free, strict=False)
        ]
        options += [Option(HOURS, "other hours ..."), Option(WAITS, "it waits", hot=True)]
        key = await screen.talk.pick(f"{vehicle}: {text}, {took}", options)
        if key != HOURS:
            break
        hours = await screen.talk.type(
            TITLE, "hours", lambda typed: number(typed, above=0.0), facts=(f"{vehicle}: {text}",)
        )
    lift = None if key == WAITS else free[OPTION_KEYS.index(key)]
    await screen.act(deeds.take_small(text, vehicle, hours, lift))
