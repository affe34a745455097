"""The promise: a date by its chance, or any date with the chance that it has."""

from __future__ import annotations

import asyncio
from datetime import datetime
from typing import Any

from store.views.promising import Offer, Promising, promising
from store.views.values import Job
from tui import deeds
from tui.learner import is_off
from tui.parts.painted import Painted
from tui.parts.prompt import Option
from tui.parts.when import coming
from tui.words import chance, day_time, hours, zone_of

LOOKS, EVERY_S = 30, 0.1
"""How often, and how far apart, it is looked whether the forecast knows an answer: 3 s in all."""
OTHER = "9"


async def promise(screen: Painted[Any], number: str, *, after: int | None = None) -> None:
    """Have a promise chosen and write it down.

    Args:
        after: an entry that the dates shall know of; it is waited for, a moment.

    Raises:
        Back: left with Esc; what was promised stays.
        Trouble: refused.
    """
    told = await _known(screen, number, after)
    options = [
        Option(str(n), _offer_words(one, told), hot=n == 1) for n, one in enumerate(told.offers, 1)
    ]
    options.append(Option(OTHER, "another time ..."))
    chosen = await screen.talk.pick(
        f"{number} {told.job.vehicle}: what is the customer told?".replace("  ", " "), options,
        facts=_facts(told, after),
    )  # fmt: skip
    if chosen == OTHER:
        at = await _typed(screen, told)
    else:
        at = told.offers[int(chosen) - 1].at
    await screen.act(deeds.promise(number, at, told.chance(at)))


async def _known(screen: Painted[Any], number: str, after: int | None) -> Promising:
    session = screen.session
    told = await asyncio.to_thread(lambda: promising(session.shop, number, session.now()))
    if after is None or is_off():
        return told
    said = screen.said
    for _ in range(LOOKS):
        if told.seq is None or told.seq >= after:
            break
        screen.remark(f"{said}  The new dates are being worked out ...")
        await asyncio.sleep(EVERY_S)
        told = await asyncio.to_thread(lambda: promising(session.shop, number, session.now()))
    screen.say(said)
    return told


def _offer_words(offer: Offer, told: Promising) -> str:
    when = day_time(offer.at, told.calendar.zone, told.at)
    if offer.chance is None:
        return f"{when}   at the {'cautious' if offer.level == told.cautious else 'middle'} figure"
    own = "   the shop's own chance" if offer.level == told.cautious else ""
    return f"{when}   {_likely(offer.chance)}{own}"


def _likely(value: float) -> str:
    """`likely 8 in 10`; a sure one has no tenths."""
    found = chance(value)
    return f"{found.word} {found.tenths}".rstrip()


def _facts(told: Promising, after: int | None) -> tuple[str, ...]:
    facts = [_told(told.job, told), f"About {hours(told.job.remaining.middle)} of labour are left."]
    if after is not None and told.seq is not None and told.seq < after:
        facts.append("The new forecast is still being worked out: these dates do not know it yet.")
    return tuple(facts)


def _told(job: Job, told: Promising) -> str:
    if job.promise is None:
        return "Nothing was promised yet."
    when = day_time(job.promise, told.calendar.zone, told.at)
    likely = f": {_likely(job.promise_chance)}" if job.promise_chance is not None else ""
    return f"Promised for {when}{likely}.  Esc leaves it."


async def _typed(screen: Painted[Any], told: Promising) -> datetime:
    """Any time; where its chance is known it is said before it is promised."""
    zone, number = zone_of(screen.zone), told.job.number
    at = await screen.talk.type(
        f"{number}: what is the customer told?", "promised for",
        lambda text: coming(text, told.at, zone), facts=("Like fri 16:00.",),
    )  # fmt: skip
    likely = told.chance(at)
    if likely is not None:
        when = day_time(at, zone, told.at)
        await screen.talk.sure(f"{number} for {when}: {_likely(likely)}.", "promise it", "back")
    return at
