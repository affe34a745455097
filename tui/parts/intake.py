"""A new job in the order of the talk at the counter: work, family, vehicle, lift, promise."""

from __future__ import annotations

import asyncio
from datetime import datetime
from typing import Any

from store.trouble import Refused
from store.views.door import places
from tui import deeds
from tui.parts.painted import Painted
from tui.parts.prompt import Option
from tui.parts.when import coming, number, some
from tui.words import day_time, hours, zone_of

KEYS = "123456789abcdefghijklmnop"
LIKELY = (0.5, 0.8)
"""Chances at which it is said by when a new job would be done."""
LATER = Option("0", "no lift yet: it waits")


async def take_job(screen: Painted[Any]) -> None:
    """Ask what is needed, show what it takes, and take the job.

    Raises:
        Back: left with Esc.
        Trouble: refused.
    """
    kind = await screen.talk.pick(
        "a new job", [Option("1", "deep work: from the work book", hot=True),
                      Option("2", "a small job: free text")],
    )  # fmt: skip
    if kind == "2":
        await _small(screen)
    else:
        await _deep(screen)


async def _small(screen: Painted[Any]) -> None:
    text = await screen.talk.type("a small job", "what is to be done", some)
    vehicle = await screen.talk.type(f"small job: {text}", "vehicle", some)
    took = await screen.talk.type(
        f"small job: {text}", "hours (Enter: the usual)",
        lambda typed: number(typed, above=0.0) if typed else None,
    )  # fmt: skip
    lift = await _lift(screen, vehicle)
    await screen.act(deeds.take_small(text, vehicle, took, lift))


async def _deep(screen: Painted[Any]) -> None:
    from store.views.book import book_now

    session = screen.session
    book = (await asyncio.to_thread(lambda: book_now(session.shop, session.now()))).book
    known = {code: one.name for code, one in book.operations.items()}
    listed = "   ".join(f"{code} {name}" for code, name in known.items())

    def operations(text: str) -> list[str]:
        codes = text.upper().replace("+", " ").replace(",", " ").split()
        for code in codes:
            if code not in known:
                raise Refused(f"There is no operation {code[:12]}. There are: {', '.join(known)}.")
        if not codes:
            raise Refused("Type at least one code, like CL or CL RS.")
        return codes

    work = await screen.talk.type("new job: which work?", "codes", operations, facts=(listed,))
    family = await screen.talk.type(
        f"new job: {' + '.join(work)}", "family", lambda text: some(text).upper(),
        facts=("Engine, gearbox and driven axles, like B4-M-F.",),
    )  # fmt: skip
    facts, likely = await asyncio.to_thread(_takes, screen, work, family)
    vehicle = await screen.talk.type(
        f"new job: {' + '.join(work)} on {family}", "vehicle", some,
        facts=(facts, "Number plate, or how you call it."),
    )  # fmt: skip
    lift = await _lift(screen, vehicle)
    now, zone = session.now(), zone_of(screen.zone)

    def promise(text: str) -> datetime | None:
        return coming(text, now, zone) if text else None

    promised = await screen.talk.type(
        f"new job: {vehicle}", "promised for (Enter: not yet)", promise,
        facts=(facts, likely or "Like fri 16:00."),
    )  # fmt: skip
    await screen.act(deeds.take(work, family, vehicle, lift, promised))


def _takes(screen: Painted[Any], work: list[str], family: str) -> tuple[str, str]:
    """What it takes, and by when it would be done with some chances; "" where nobody knows.

    Raises:
        Trouble: unknown family.
    """
    from store.views.estimate import estimate

    session = screen.session
    now, zone = session.now(), zone_of(screen.zone)
    found = estimate(session.shop, now, operations=work, family=family)
    saves = f", {hours(found.saves_h)} saved by shared access" if found.saves_h > 0.05 else ""
    total = found.total
    ends = [
        f"{round(chance * 10)} in 10 by {day_time(at, zone, now)}"
        for chance, at in found.promise
        if chance in LIKELY
    ]
    says = f"Like fri 16:00. Done {', '.join(ends)}." if ends else ""
    takes = f"{hours(total.middle)}, cautious {hours(total.cautious)}"
    return f"{len(found.route)} phases, {takes}{saves}", says


async def _lift(screen: Painted[Any], vehicle: str) -> str | None:
    """A free lift, or none yet."""
    free = [
        one.code
        for one in await asyncio.to_thread(places, screen.session.shop)
        if one.kind == "lift" and one.job is None and one.in_service
    ]
    options = [Option(KEYS[n], f"lift {code}") for n, code in enumerate(free[: len(KEYS)])]
    chosen = await screen.talk.pick(f"{vehicle}: on which lift?", [*options, LATER])
    return None if chosen == "0" else free[KEYS.index(chosen)]
