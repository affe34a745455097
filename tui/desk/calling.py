"""Taking a call down: which vehicle, what is wrong, whose it is, and the work where it is plain."""

from __future__ import annotations

import asyncio
from typing import Any

from store.trouble import Refused
from store.views.counter import Counter, counter
from store.views.desk.at_desk import seen_before
from tui.desk import deeds
from tui.desk.customers import whose
from tui.desk.words import visits_words
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.when import maybe, some

TITLE = "a call"


async def take_call(screen: Painted[Any]) -> str:
    """Write an enquiry down, all but the vehicle may be left empty; the number of its job.

    Raises:
        Back: left with Esc; what was typed is kept.
        Trouble: refused.
    """
    await somebody(screen)
    session = screen.session
    vehicle = await screen.talk.type(
        TITLE, "vehicle", some, facts=("Number plate, or how you call it.",)
    )
    now = session.now()
    known = await asyncio.to_thread(lambda: seen_before(session.shop, vehicle, now))
    facts = (vehicle,) if known is None else (vehicle, visits_words(*known, now, screen.zone))
    complaint = await screen.talk.type(TITLE, "what is wrong (Enter: not said)", maybe, facts=facts)
    customer = None
    if session.sees_customers:
        customer = await whose(screen, TITLE)
    here = await asyncio.to_thread(lambda: counter(session.shop, now))
    work, family = await _work(screen, here, known[0].family if known else "")
    call = deeds.Call(vehicle, complaint, customer, work, family)
    return (await screen.act(deeds.enquire(call))).job or ""


async def _work(
    screen: Painted[Any], here: Counter, family: str
) -> tuple[tuple[str, ...], str]:  # fmt: skip
    """Codes of operations and the family, where both are known already."""
    sold = {one.code: one.name for one in here.sold}
    if not sold:
        return (), family

    def read(text: str) -> tuple[str, ...]:
        words = text.upper().replace(",", " ").replace("+", " ").split()
        wrong = next((one for one in words if one not in sold), None)
        if wrong is not None:
            raise Refused(f"{wrong[:20]} is no operation. Type codes like {', '.join(sold)}.")
        return tuple(dict.fromkeys(words))

    facts = (", ".join(f"{code} {name}" for code, name in sold.items()),)
    work = await screen.talk.type(TITLE, "work (Enter: not known yet)", read, facts=facts)
    if not work or family:
        return work, family
    lines = ", ".join(f"{one.key} {one.words}" for one in here.families[:6])
    family = await screen.talk.type(
        TITLE, "family", _family, facts=(f"Engine, gearbox, axles. {lines}".strip(),)
    )
    return work, family


def _family(text: str) -> str:
    key = some(text).upper().replace(" ", "-")
    if len(key) == 3 and key.isalnum():
        raise Refused(f"{key} is no family yet: type engine, gearbox and axles, like B4-M-F.")
    parts = key.split("-")
    if len(parts) != 3 or not all(parts):
        raise Refused(f"{key[:20]} is no family: engine, gearbox and axles, like B4-M-F.")
    return key
