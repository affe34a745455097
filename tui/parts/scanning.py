"""What a scanned code does on the floor and the job card, and what is the same everywhere."""

from __future__ import annotations

import asyncio
from typing import Any

from store.rules.codes import Code
from store.trouble import Refused
from store.views.door import PlaceLine, places
from store.views.job import job_card
from store.views.values import JobCard
from tui import keys
from tui.parts.painted import Painted
from tui.parts.where import Elsewhere, Where, home


async def take(screen: Painted[Any], code: Code) -> None:
    """A badge signs in, a job or what belongs to one is opened, a lift shows its job.

    Raises:
        Elsewhere: to the job's card, or to the home of whoever came.
        Refused: nothing of the shop has that code.
    """
    match code.kind:
        case "badge":
            await come(screen, code.name)
        case "kit":
            screen.say(await kit_words(screen, code.name))
        case "lift":
            found = await lift(screen, code.name)
            if found.job is None:
                screen.say(f"Lift {found.code}: {_empty(found)}.")
            else:
                await open_job(screen, found.job)
        case "job" | "phase" | "step":
            await open_job(screen, code.parts[0])


async def come(screen: Painted[Any], badge: str) -> None:
    """Somebody scans a badge where none was asked for: they are here now.

    Raises:
        Elsewhere: to their home.
        Refused: nobody of today's roll has that badge.
    """
    who = (await screen.at_door()).who(badge)
    before = screen.session.who
    if before is not None and before.badge == who.badge:
        screen.say(f"{who.name} is signed in already.")
        return
    screen.session.sign_in(who)
    screen.session.said = f"{who.name} is signed in."
    raise Elsewhere(home(who.role))


async def open_job(screen: Painted[Any], job: str) -> None:
    """Open a job's card.

    Raises:
        Elsewhere: to the card.
        Refused: there is no such job.
    """
    await card(screen, job)
    raise Elsewhere(Where("job", job))


async def card(screen: Painted[Any], job: str) -> JobCard:
    """The card of a job.

    Raises:
        Refused: there is no such job.
    """
    session = screen.session
    return await asyncio.to_thread(lambda: job_card(session.shop, job, session.now()))


async def lift(screen: Painted[Any], code: str) -> PlaceLine:
    """A lift by its code.

    Raises:
        Refused: there is none.
    """
    for one in await asyncio.to_thread(places, screen.session.shop):
        if one.kind == "lift" and one.code == code:
            return one
    raise Refused(f"There is no lift {code}. {keys.key_of(keys.BAY, 'floor')} shows them.")


async def lift_words(screen: Painted[Any], code: str) -> str:
    """What stands on a lift, in one line.

    Raises:
        Refused: there is no such lift.
    """
    found = await lift(screen, code)
    if found.job is None:
        return f"Lift {code}: {_empty(found)}."
    there = (await card(screen, found.job)).job
    return f"Lift {code}: {there.number} {there.vehicle}, {there.work}."


def _empty(found: PlaceLine) -> str:
    return "free" if found.in_service else "out of service"


async def kit_words(screen: Painted[Any], code: str) -> str:
    """What is known of a kit and where it is, in one line.

    Raises:
        Refused: the work book has no such kit, or there is no book.
    """
    from store.views.book import book_now
    from store.views.tools.page import kits_now

    session = screen.session
    book = (await asyncio.to_thread(lambda: book_now(session.shop, session.now()))).book
    found = next((one for one in book.kits if one.code == code), None)
    if found is None:
        raise Refused(f"The work book has no kit {code}. Ask whoever keeps the book.")
    there = await asyncio.to_thread(kits_now, session.shop, session.now())
    state = next((one.state for one in there if one.code == code), "")
    owned = f"ours, {state}" if found.owned else state
    holds = f"; in it: {', '.join(found.contains)}" if found.contains else ""
    return f"Kit {code}: {found.name}, {owned}{holds}."
